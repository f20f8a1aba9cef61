//! One look at a handbook, with what was kept of the last.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use gaugeleaf_calc::finding::{Finding, fold};

use super::kept::{Kept, KeptGraph, KeptPage, KeptTheme, SharedFiles};
use super::live::Refreshed;
use super::parts::{PartLook, judged};
use super::states::{CommonStates, States};
use super::turned::PageLook;
use super::{BuiltSite, sources};
use crate::blocks::registry::shapes;
use crate::handbook::files::HandbookFiles;
use crate::handbook::pages::ReadPages;
use crate::handbook::unused::unused;
use crate::handbook::whole::{Handbook, assemble_with};
use crate::prose::inspect_with;
use crate::render::context::Site;
use crate::render::edition::Edition;
use crate::report::{has_errors, sort};
use crate::site::input::SiteInput;
use crate::site::paths;
use crate::site::way::Way;
use crate::values::outline;
use crate::values::own::own;
use crate::values::scope::JobScope;

/// A handbook as it is now, before its pages are composed.
pub struct Look<'e> {
    pub edition: &'e dyn Edition,
    pub files: HandbookFiles,
    pub handbook: Handbook,
    pub graph: KeptGraph,
    pub theme: KeptTheme,
    pub own: JobScope,
    pub frame: Site,
    pub way: Way,
    pub common: CommonStates,
    findings: Vec<Finding>,
}

impl<'e> Look<'e> {
    /// Takes what is still good of what was kept, and reads the rest.
    pub fn new(
        edition: &'e dyn Edition,
        files: HandbookFiles,
        kept: &mut Kept,
        mut findings: Vec<Finding>,
    ) -> Look<'e> {
        let common = CommonStates::of(&files);
        let pages = std::mem::take(&mut kept.handbook.pages);
        let mut known = ReadPages::new(pages, &mut kept.files);
        let (handbook, found) = assemble_with(&files, &shapes(), &mut known);
        findings.extend(found);
        let mut graph = match kept.graph.take() {
            Some(graph) if graph.state == common.definitions => graph,
            _ => KeptGraph::load(&files, &handbook, common.definitions),
        };
        graph.graph.catalog.own = own(&handbook, &graph.graph);
        let theme = match kept.theme.take() {
            Some(theme) if theme.state == common.theme => theme,
            _ => KeptTheme::load(&files, common.theme),
        };
        findings.extend(graph.findings.iter().chain(&theme.findings).cloned());
        findings.extend(outline::check(&handbook, &graph.graph));
        let (head, given) = ("handbook.toml", &handbook.given);
        JobScope::default().with(&graph.graph, head, given, &mut findings);
        let frame = Site::frame(&handbook);
        Look {
            edition,
            own: JobScope::of_handbook(&graph.graph),
            way: Way::new(&frame, &handbook),
            frame,
            files,
            handbook,
            graph,
            theme,
            common,
            findings,
        }
    }

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
            let own: HashMap<&str, u64> = self
                .handbook
                .pages
                .iter()
                .map(|page| (page.path.as_str(), states.of_page(page)))
                .collect();
            let inspected = inspect_with(
                &self.handbook,
                files,
                &shapes(),
                |page| {
                    let known = kept.pages.get(&page.path)?;
                    let same = own.get(page.path.as_str()) == Some(&known.state);
                    same.then(|| Arc::clone(&known.inspected))
                },
                &mut findings,
            );
            let pages = PageLook::new(&self, &states, &own, &kept.pages, inspected, turn);
            let pages = pages.pages(watched, &findings, first);
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
        for page in &composed {
            findings.extend(page.findings.iter().cloned());
        }
        findings.extend(judged(self, states, kept));
        let input = SiteInput {
            files: &self.files,
            handbook: &self.handbook,
            graph: &self.graph.graph,
            theme: &self.theme.theme,
            composed: &composed,
            own: &self.own,
            frame: &self.frame,
            way: &self.way,
            edition: self.edition,
        };
        findings.extend(unused(&self.files, &paths::shown(&input)));
        let paths = paths::paths(&input);
        findings.extend(paths::taken(&paths));
        let (site, found) = PartLook::new(self, &input, states, pages).site(kept);
        findings.extend(found);
        kept.site = site;
        sort(&mut findings);
        let broken = broken(&self.handbook, &findings);
        let of_now =
            std::iter::zip(&*self.handbook.pages, pages).filter(|(_, kept)| kept.turn == turn);
        let texts = self.files.texts.iter();
        let texts = texts.map(|(path, text)| (path.clone(), text.clone()));
        Refreshed {
            composed: of_now.map(|(page, _)| page.path.clone()).collect(),
            built: BuiltSite {
                findings: fold(findings),
                sources: sources(self.graph.graph.files.clone(), texts),
                paths: paths.into_iter().map(|one| one.path).collect(),
                values: composed.iter().map(|page| page.uses.len()).sum(),
                ..BuiltSite::default()
            },
            broken,
        }
    }
}

/// The addresses of pages that have errors of their own.
pub fn broken(handbook: &Handbook, findings: &[Finding]) -> BTreeSet<String> {
    let mut by_file: BTreeMap<&str, Vec<&Finding>> = BTreeMap::new();
    for one in findings {
        by_file.entry(&one.file).or_default().push(one);
    }
    let pages = handbook.pages.iter().filter(|page| {
        let own = by_file.get(page.path.as_str());
        own.is_some_and(|own| own.iter().any(|one| has_errors(std::slice::from_ref(*one))))
    });
    pages.map(|page| page.url.clone()).collect()
}
