//! Prints pages through the theme and hands them over.

use std::collections::{BTreeMap, HashMap};
use std::sync::{Mutex, PoisonError};

use gaugeleaf_calc::finding::Finding;
use serde::Serialize;
use serde_json::json;
use tera::{Context, Value};

use crate::render::context::{PageContext, Site};
use crate::render::copy;
use crate::render::edition::Edition;
use crate::render::files::SiteSink;
use crate::render::print::Printer;
use crate::render::theme::Theme;

/// What the list of the phases hangs on: the way to the site's root, the kind of page, its phase.
type PhaseListOf = (&'static str, &'static str, Option<String>);

/// Bytes of a page besides its content, about.
const AROUND_CONTENT: usize = 13_000;

/// What a template gets beside the usual, and what it calls it.
pub struct MoreView {
    name: &'static str,
    value: Value,
}

impl MoreView {
    pub fn new(name: &'static str, view: &impl Serialize) -> MoreView {
        MoreView {
            name,
            value: Value::from_serializable(view),
        }
    }
}

/// A site in the making.
pub struct Renderer<'p> {
    pub theme: &'p Theme,
    pub site: &'p Site,
    /// The site as templates see it: made once, and shared by all pages.
    site_value: Value,
    /// The list of the phases as pages show it.
    phases: Mutex<HashMap<PhaseListOf, Value>>,
    pub edition: &'p dyn Edition,
    files: &'p dyn SiteSink,
    /// What the scripts of the data say, by their names.
    marks: Mutex<BTreeMap<String, String>>,
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
            phases: Mutex::default(),
            edition,
            files,
            marks: Mutex::default(),
            findings: Vec::new(),
        }
    }

    /// Prints a page and adds it; `more` is what its template gets beside the usual.
    pub fn page(&mut self, template: &str, page: &PageContext, more: Option<MoreView>) {
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
        more: Option<MoreView>,
    ) -> Result<Vec<u8>, Finding> {
        let mut context = Context::new();
        context.insert_value("site", self.site_value.clone());
        context.insert("page", page);
        context.insert("root", self.edition.root(&page.url));
        let mark = self.theme.mark();
        context.insert("edition", mark);
        // the preview's pages and scripts come one after the other
        let of = match self.edition.script() {
            Some(_) => String::new(),
            None => format!("?v={mark}"),
        };
        context.insert("of", &of);
        context.insert_value("phases", self.phases(page)?);
        context.insert(
            "preview",
            &self
                .edition
                .script()
                .map(|script| json!({ "script": script })),
        );
        if let Some(MoreView { name, value }) = more {
            context.insert_value(name, value);
        }
        // what stands around the content takes about as much on every page
        let room = page.content.len() + AROUND_CONTENT;
        self.theme.page_bytes(template, &context, room)
    }

    /// The list of the phases. A large handbook has hundreds, on every page.
    fn phases(&self, page: &PageContext) -> Result<Value, Finding> {
        let root = self.edition.root(&page.url);
        let slug = page.phase.as_ref().map(|phase| phase.slug.clone());
        let of = (root, page.kind, slug);
        let known = self.phases.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(list) = known.get(&of) {
            return Ok(list.clone());
        }
        drop(known);
        let mut context = Context::new();
        context.insert_value("site", self.site_value.clone());
        context.insert("page", &json!({ "kind": page.kind, "phase": page.phase }));
        context.insert("root", root);
        let list = self.theme.page("blocks/phases.html", &context)?;
        let list = Value::safe_string(&list);
        let mut known = self.phases.lock().unwrap_or_else(PoisonError::into_inner);
        known.insert(of, list.clone());
        Ok(list)
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

    /// Adds a script of the handbook's data, which says its mark.
    pub fn data(&self, name: &str, bytes: Vec<u8>) {
        let (mark, script) = copy::marked_data(name, bytes);
        let mut marks = self.marks.lock().unwrap_or_else(PoisonError::into_inner);
        marks.insert(name.to_string(), mark);
        drop(marks);
        self.file(&format!("scripts/{name}.js"), script);
    }

    /// Adds the script with the marks of all that was added.
    pub fn marks(&self, pages: &[String]) {
        let marks = self.marks.lock().unwrap_or_else(PoisonError::into_inner);
        self.file(copy::MARKS, copy::edition(self.theme.mark(), &marks, pages));
    }

    /// Adds a file.
    pub fn file(&self, path: &str, bytes: Vec<u8>) {
        self.files.put(path, bytes);
    }
}
