//! One look at a handbook, with what was kept of the last.

use std::sync::{Arc, OnceLock};

use gaugeleaf_calc::finding::Finding;

use super::kept::{Kept, KeptGraph, KeptTheme};
use super::states::{CommonStates, FolderStates};
use crate::blocks::registry::{KINDS, shapes};
use crate::handbook::files::HandbookFiles;
use crate::handbook::pages::ReadPages;
use crate::handbook::unused::unused;
use crate::handbook::whole::{Handbook, assemble_with};
use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::page::context::Composer;
use crate::render::context::Site;
use crate::render::edition::Edition;
use crate::site::input::SiteInput;
use crate::site::paths::{self, SitePath};
use crate::site::portable::unportable;
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
    /// What is wrong with all but its pages and its values.
    pub findings: Vec<Finding>,
}

impl<'e> Look<'e> {
    /// Takes what is still good of what was kept, and reads the rest.
    pub fn new(
        edition: &'e dyn Edition,
        files: HandbookFiles,
        kept: &mut Kept,
        mut findings: Vec<Finding>,
    ) -> Look<'e> {
        let states = FolderStates::of(&files);
        let pages = std::mem::take(&mut kept.handbook.pages);
        let mut known = ReadPages::new(pages, &mut kept.files);
        let (handbook, found) = assemble_with(&files, &shapes(), &mut known);
        findings.extend(found);
        let mut graph = match kept.graph.take() {
            Some(graph) if graph.state == states.catalog => graph,
            _ => KeptGraph::load(&files, &handbook, states.catalog),
        };
        graph.graph.catalog.own = own(&handbook, &graph.graph);
        let theme = match kept.theme.take() {
            Some(theme) if theme.state == states.theme => theme,
            _ => KeptTheme::load(&files, states.theme),
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
            theme,
            common: CommonStates {
                settings: states.settings,
                definitions: graph.definitions,
                theme: states.theme,
            },
            graph,
            findings,
        }
    }

    /// What its pages are composed with.
    pub fn composer(&self) -> Composer<'_> {
        Composer {
            handbook: &self.handbook,
            files: &self.files,
            graph: &self.graph.graph,
            own: &self.own,
            kinds: &KINDS,
            drawings: &self.theme.theme,
        }
    }

    /// What its site is made from, once its pages are composed.
    pub fn input<'l>(&'l self, composed: &'l [Arc<Composed<ComposedPage>>]) -> SiteInput<'l> {
        SiteInput {
            files: &self.files,
            handbook: &self.handbook,
            graph: &self.graph.graph,
            theme: &self.theme.theme,
            composed,
            own: &self.own,
            frame: &self.frame,
            way: &self.way,
            edition: self.edition,
            packed: OnceLock::new(),
            made: OnceLock::new(),
        }
    }

    /// Every file of its site; and what is wrong with its pages, and with files that nobody needs, that
    /// take another's name or that have none for every system.
    pub fn paths(&self, input: &SiteInput, findings: &mut Vec<Finding>) -> Vec<SitePath> {
        for page in input.composed {
            findings.extend(page.findings.iter().cloned());
        }
        findings.extend(unused(&self.files, &paths::shown(input)));
        let paths = paths::paths(input);
        findings.extend(paths::taken(&paths));
        findings.extend(unportable(&paths));
        paths
    }
}
