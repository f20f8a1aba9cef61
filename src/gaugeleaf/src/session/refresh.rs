//! From a handbook as it is now to its whole site, with what was kept of the last look.

use std::collections::BTreeSet;
use std::sync::Arc;

use gaugeleaf_calc::finding::Finding;

use super::built::{BuiltSite, sources};
use super::kept::{Kept, KeptPage, SharedFiles};
use super::look::Look;
use super::parts::{PartLook, judged};
use super::states::States;
use super::turned::PageLook;
use crate::blocks::registry::shapes;
use crate::prose::{self, Inspector};

/// What came of one look.
#[derive(Debug, Default)]
pub struct Refreshed {
    /// All but its files, which the session holds.
    pub built: BuiltSite,
    /// The pages that were composed, by path.
    pub composed: Vec<String>,
}

impl Look<'_> {
    /// Composes and prints what isn't as it was, and keeps it all.
    pub fn refreshed(
        mut self,
        kept: &mut Kept,
        turn: u64,
        watched: &BTreeSet<String>,
        first: &mut dyn FnMut(SharedFiles),
    ) -> Refreshed {
        let mut findings = std::mem::take(&mut self.findings);
        let (refreshed, pages) = {
            let (files, graph) = (&self.files, &self.graph.graph);
            let states = States::of(files, &self.handbook, graph, &self.own, self.common);
            let own = self.handbook.pages.iter();
            let own: Vec<u64> = own.map(|page| states.of_page(page)).collect();
            let shapes = shapes();
            let inspector = Inspector::new(&self.handbook, files, &shapes, &mut findings);
            let pages = PageLook::new(&self, &states, &own, &kept.pages, &inspector, turn);
            let pages = pages.pages(watched, first);
            let refreshed = self.rest(&states, &pages, kept, findings, turn);
            (refreshed, pages)
        };
        let paths = self.handbook.pages.iter().map(|page| page.path.clone());
        kept.pages = paths.zip(pages).collect();
        kept.files = self.files;
        kept.handbook = self.handbook;
        kept.graph = Some(self.graph);
        kept.theme = Some(self.theme);
        refreshed
    }

    /// All that isn't a written page, and the whole site.
    fn rest(
        &self,
        states: &States<'_>,
        pages: &[KeptPage],
        kept: &mut Kept,
        mut findings: Vec<Finding>,
        turn: u64,
    ) -> Refreshed {
        let composed: Vec<_> = pages
            .iter()
            .map(|page| Arc::clone(&page.composed))
            .collect();
        prose::told(pages.iter().map(|page| &*page.inspected), &mut findings);
        findings.extend(judged(self, states, kept));
        let input = self.input(&composed);
        let paths = self.paths(&input, &mut findings);
        let (site, found) = PartLook::new(&input, states, pages).site(kept);
        findings.extend(found);
        kept.site = site;
        let of_now =
            std::iter::zip(&*self.handbook.pages, pages).filter(|(_, kept)| kept.turn == turn);
        let texts = self.files.texts.iter();
        let texts = texts.map(|(path, text)| (path.clone(), text.clone()));
        Refreshed {
            composed: of_now.map(|(page, _)| page.path.clone()).collect(),
            built: BuiltSite {
                sources: sources(self.graph.graph.files.clone(), texts),
                ..BuiltSite::of(findings, paths, &composed)
            },
        }
    }
}
