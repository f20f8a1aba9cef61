//! What the generator makes by itself, where it isn't as it was; and the whole site of a look.

use std::sync::Arc;

use gaugeleaf_calc::finding::Finding;

use super::kept::{Kept, KeptPage, KeptPart, SharedFiles};
use super::look::Look;
use super::states::{States, state_of};
use crate::render::context::Site;
use crate::render::copy;
use crate::render::files::HeldFiles;
use crate::render::renderer::Renderer;
use crate::site::input::SiteInput;
use crate::site::written::html;
use crate::site::{MadeFrom, PARTS, page_marks};
use crate::values::judge::judge;

/// What the handbook's own values come to, as long as they are what they were.
pub fn judged(look: &Look<'_>, states: &States<'_>, kept: &mut Kept) -> Vec<Finding> {
    let pages = look.handbook.pages.iter();
    let answering = pages.filter(|page| {
        let settings = &page.outline.settings;
        settings.job.is_some() || !settings.answered.is_empty()
    });
    let texts: Vec<_> = answering
        .map(|page| (&page.path, look.files.texts.get(&page.path)))
        .collect();
    let state = state_of((
        look.common.settings,
        look.common.definitions,
        states.of_values(),
        texts,
    ));
    match &kept.judged {
        Some((known, findings)) if *known == state => findings.clone(),
        _ => {
            let findings = judge(&look.handbook, &look.graph.graph);
            kept.judged = Some((state, findings.clone()));
            findings
        }
    }
}

/// The site of one look, part by part.
pub struct PartLook<'l> {
    input: &'l SiteInput<'l>,
    pages: &'l [KeptPage],
    site: Site,
    /// The states of what parts are made from, each with all before it.
    theme: u64,
    lists: u64,
    values: u64,
    written: u64,
}

impl<'l> PartLook<'l> {
    pub fn new(
        input: &'l SiteInput<'l>,
        states: &States<'_>,
        pages: &'l [KeptPage],
    ) -> PartLook<'l> {
        let common = states.common;
        let frame = input.frame.clone();
        let site = frame.listing(input.handbook, input.graph, input.composed);
        let lists = state_of((common.theme, format!("{site:?}")));
        let handbook = || input.handbook.pages.iter().zip(input.composed);
        let uses = handbook().filter(|(_, composed)| !composed.uses.is_empty());
        let uses: Vec<_> = uses
            .map(|(page, composed)| {
                let names: Vec<&str> = composed.uses.iter().map(|one| one.name.as_str()).collect();
                (&page.outline.title, &page.url, names)
            })
            .collect();
        let jobs = handbook().filter(|(page, _)| page.outline.settings.job.is_some());
        let jobs: Vec<_> = jobs
            .map(|(page, _)| (&page.url, input.files.texts.get(&page.path)))
            .collect();
        let common = (common.settings, common.definitions);
        let values = state_of((lists, common, states.of_values(), uses, jobs));
        let written: Vec<_> = pages.iter().map(|page| (page.state, page.turn)).collect();
        PartLook {
            theme: states.common.theme,
            input,
            pages,
            site,
            lists,
            values,
            written: state_of((values, written)),
        }
    }

    /// All files of the site, and what kept others from being made.
    pub fn site(&self, kept: &mut Kept) -> (SharedFiles, Vec<Finding>) {
        let (mut files, mut findings) = (SharedFiles::new(), Vec::new());
        let mut told = |found: &Finding| {
            if !findings.contains(found) {
                findings.push(found.clone());
            }
        };
        let held = HeldFiles::default();
        let input = self.input;
        let mut renderer = Renderer::new(input.theme, &self.site, input.edition, &held);
        for (page, kept) in input.handbook.pages.iter().zip(self.pages) {
            // the front page is printed with the lists
            let printed = kept.printed.as_ref().map(|printed| printed.html.clone());
            let printed = printed.unwrap_or_else(|| {
                let html = html(&renderer, input.handbook, page, &kept.composed, input.way);
                html.map(Arc::new)
            });
            match printed {
                Ok(html) => drop(files.insert(page.url.clone(), html)),
                Err(found) => told(&found),
            }
        }
        for part in &PARTS {
            let state = self.state(part.from);
            let known = kept.parts.remove(part.name);
            let made = known
                .filter(|known| known.state == state)
                .unwrap_or_else(|| {
                    (part.make)(&mut renderer, input);
                    let files = held.taken().into_iter();
                    KeptPart {
                        state,
                        files: files.map(|(path, bytes)| (path, Arc::new(bytes))).collect(),
                        findings: std::mem::take(&mut renderer.findings),
                    }
                });
            made.findings.iter().for_each(&mut told);
            files.extend(
                made.files
                    .iter()
                    .map(|(path, bytes)| (path.clone(), Arc::clone(bytes))),
            );
            kept.parts.insert(part.name, made);
        }
        let marks = self.marks(&files);
        files.insert(copy::MARKS.to_string(), Arc::new(marks));
        (files, findings)
    }

    /// The marks of the data, of whichever look each is.
    fn marks(&self, files: &SharedFiles) -> Vec<u8> {
        let marks = copy::DATA.iter().filter_map(|name| {
            let script = files.get(&format!("scripts/{name}.js"))?;
            Some((name.to_string(), copy::data_mark(script)?))
        });
        let pages = page_marks(self.input);
        copy::edition(self.input.theme.mark(), &marks.collect(), &pages)
    }

    fn state(&self, from: MadeFrom) -> u64 {
        match from {
            MadeFrom::Program => 0,
            MadeFrom::Theme => self.theme,
            MadeFrom::Lists => self.lists,
            MadeFrom::Values => self.values,
            MadeFrom::Pages => self.written,
        }
    }
}
