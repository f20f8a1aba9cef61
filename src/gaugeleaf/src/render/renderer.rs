//! Prints pages through the theme and hands them over.

use gaugeleaf_calc::finding::Finding;
use serde_json::json;
use tera::{Context, Value};

use crate::render::context::{PageContext, Site};
use crate::render::edition::Edition;
use crate::render::files::SiteSink;
use crate::render::print::Printer;
use crate::render::theme::Theme;

/// A site in the making.
pub struct Renderer<'p> {
    pub theme: &'p Theme,
    pub site: &'p Site,
    /// The site as templates see it: made once, and shared by all pages.
    site_value: Value,
    pub edition: &'p dyn Edition,
    files: &'p dyn SiteSink,
    pub findings: Vec<Finding>,
}

impl<'p> Renderer<'p> {
    pub fn new(
        theme: &'p Theme,
        site: &'p Site,
        edition: &'p dyn Edition,
        files: &'p dyn SiteSink,
    ) -> Self {
        Renderer {
            theme,
            site,
            site_value: Value::from_serializable(site),
            edition,
            files,
            findings: Vec::new(),
        }
    }

    /// Prints a page and adds it; `more` is what its template gets beside the usual.
    pub fn page(
        &mut self,
        template: &str,
        page: &PageContext,
        more: Option<(&'static str, &dyn erased_serde::Serialize)>,
    ) {
        let printed = self.print(template, page, more);
        self.add(&page.url, printed);
    }

    /// A page as its template prints it.
    ///
    /// # Errors
    /// What is wrong with the template.
    pub fn print(
        &self,
        template: &str,
        page: &PageContext,
        more: Option<(&'static str, &dyn erased_serde::Serialize)>,
    ) -> Result<Vec<u8>, Finding> {
        let mut context = Context::new();
        context.insert_value("site", self.site_value.clone());
        context.insert("page", page);
        context.insert("root", self.edition.root(&page.url));
        context.insert(
            "preview",
            &self
                .edition
                .script()
                .map(|script| json!({ "script": script })),
        );
        if let Some((name, value)) = more {
            context.insert(name, value);
        }
        let html = self.theme.page(template, &context)?;
        Ok(html.into_bytes())
    }

    /// What prints the parts of a page.
    pub fn printer<'a>(&'a self, from: &'a str) -> Printer<'a> {
        Printer {
            theme: self.theme,
            edition: self.edition,
            from,
        }
    }

    /// Adds a printed page, or what kept it from being printed.
    pub fn add(&mut self, url: &str, printed: Result<Vec<u8>, Finding>) {
        let handed = printed.map(|html| self.file(url, html));
        self.told(handed);
    }

    /// Keeps what kept a page from being printed: one broken template breaks every page alike, and
    /// once is enough.
    pub fn told(&mut self, printed: Result<(), Finding>) {
        if let Err(finding) = printed
            && !self.findings.contains(&finding)
        {
            self.findings.push(finding);
        }
    }

    /// Adds a file.
    pub fn file(&self, path: &str, bytes: Vec<u8>) {
        self.files.put(path, bytes);
    }
}
