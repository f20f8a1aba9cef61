//! What the stages of one page share: what they may look up, and what they leave behind.

use std::collections::{BTreeMap, BTreeSet};

use erased_serde::Serialize;
use gaugeleaf_calc::finding::Finding;

use crate::handbook::book::Book;
use crate::handbook::page::Page;
use crate::markdown::ids::Ids;
use crate::page::sections::Section;
use crate::page::sign_off::SignOff;
use crate::page::views::Views;
use crate::values::graph::Graph;
use crate::values::ledger::Use;
use crate::values::scope::JobScope;

/// One page's desk.
pub struct Desk<'h> {
    /// The page's path, for findings.
    pub file: &'h str,
    pub text: &'h str,
    pub page: &'h Page,
    pub book: &'h Book,
    /// Every text file of the handbook, by path.
    pub texts: &'h BTreeMap<String, String>,
    /// Every picture of the handbook, by path.
    pub pictures: &'h BTreeMap<String, Vec<u8>>,
    pub graph: &'h Graph,
    pub views: &'h dyn Views,
    /// The values that hold in all of the handbook.
    pub own: &'h JobScope,
    /// Those that hold on this page.
    pub scope: JobScope,
    /// Those of each setup sheet on it.
    pub sheets: Vec<JobScope>,
    pub findings: Vec<Finding>,
    /// Every value that the page prints.
    pub uses: Vec<Use>,
    /// The pictures that the page shows.
    pub shown: BTreeSet<String>,
    /// Addresses taken on the page.
    pub ids: Ids,
    /// The file of words, for faults in what a term means.
    pub words_text: &'h str,
    /// The terms that the page prints, for searching.
    pub terms: Vec<Section>,
    /// The kinds of block that the page shows.
    pub kinds: BTreeSet<&'static str>,
    /// Set by the page's test.
    pub sign_off: Option<SignOff>,
    /// What is composed here is shown on another page.
    pub away: bool,
}

impl Desk<'_> {
    /// A part of the page as its template prints it; a broken template is a finding.
    pub fn part(
        &mut self,
        template: &str,
        name: &'static str,
        value: &dyn Serialize,
    ) -> Option<String> {
        let printed = self.views.part(template, name, value, self.root());
        printed.map_err(|finding| self.findings.push(finding)).ok()
    }

    /// The way from this page to the site's root.
    pub fn root(&self) -> &'static str {
        self.page.root()
    }

    /// A file named relative to this page, as a path inside the handbook; none when
    /// it leads out of `content/`.
    pub fn resolve(&self, relative: &str) -> Option<String> {
        let folder = self.file.rsplit_once('/').map_or("", |(folder, _)| folder);
        let mut parts: Vec<&str> = folder.split('/').collect();
        for part in relative.split('/') {
            match part {
                "" | "." => {}
                ".." if parts.len() > 1 => {
                    parts.pop();
                }
                ".." => return None,
                part => parts.push(part),
            }
        }
        Some(parts.join("/"))
    }
}
