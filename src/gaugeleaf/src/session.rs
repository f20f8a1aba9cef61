//! The stages in their order: a folder becomes a site.

mod built;
mod kept;
mod live;
mod look;
mod parts;
mod refresh;
mod states;
mod turned;

use std::path::Path;
use std::sync::Arc;

use gaugeleaf_calc::finding::{Finding, fold};
use rayon::prelude::*;

use crate::blocks::registry::{KINDS, shapes};
use crate::handbook::files::{HandbookFiles, read};
use crate::handbook::unused::unused;
use crate::handbook::whole::{Handbook, assemble};
use crate::page::compose::{ComposedPage, compose};
use crate::page::composed::Composed;
use crate::page::context::Composer;
use crate::prose;
use crate::render::context::Site;
use crate::render::edition::Edition;
use crate::render::files::{HeldFiles, NoFiles, SiteFiles, SiteSink};
use crate::render::renderer::Renderer;
use crate::render::theme::{Theme, built_in_texts};
use crate::report::{Sources, sort};
use crate::site::input::SiteInput;
use crate::site::way::Way;
use crate::site::written::{HandedOver, print};
use crate::site::{calculators, paths, render};
use crate::values::graph::Graph;
use crate::values::judge::judge;
use crate::values::own::own;
use crate::values::scope::JobScope;
use crate::values::{left_out, outline};

pub use built::BuiltSite;
use built::sources;
pub use kept::SharedFiles;
pub use live::Session;
pub use refresh::Refreshed;

/// What a question on the command line is asked of: the catalog, and the handbook with its kits and
/// jobs. Outside a handbook nothing is set.
pub fn asked(files: &HandbookFiles) -> (Graph, Handbook, Vec<Finding>) {
    let (mut graph, findings) = Graph::load(files);
    if files.texts.is_empty() {
        return (graph, Handbook::default(), findings);
    }
    // what is wrong with pages and settings is told when they are published
    let (handbook, _) = assemble(files, &shapes());
    left_out::leave_out(&handbook, &mut graph);
    graph.catalog.own = own(&handbook, &graph);
    (graph, handbook, findings)
}

/// Builds the site of a handbook's folder. With errors among the findings, the site
/// is not fit to be written.
pub fn build(root: &Path, edition: &dyn Edition) -> BuiltSite {
    let held = HeldFiles::default();
    let built = build_into(root, edition, &held);
    BuiltSite {
        site: held.files(),
        ..built
    }
}

/// The same, with each file handed over as soon as it is made.
pub fn build_into(root: &Path, edition: &dyn Edition, files: &dyn SiteSink) -> BuiltSite {
    built(root, edition, Some(files))
}

/// Finds what is wrong with a handbook. Its site is printed only to find faults in templates of its
/// own, and otherwise stays empty.
pub fn inspect(root: &Path, edition: &dyn Edition) -> BuiltSite {
    built(root, edition, None)
}

/// A handbook read and checked, before any page is composed.
struct Opened {
    files: HandbookFiles,
    graph: Graph,
    theme: Theme,
    handbook: Handbook,
    /// The values that hold in all of the handbook.
    own: JobScope,
    /// The site before its lists, and the way through it.
    frame: Site,
    way: Way,
    findings: Vec<Finding>,
}

fn open(files: HandbookFiles, mut findings: Vec<Finding>) -> Opened {
    let (mut graph, found) = Graph::load(&files);
    findings.extend(found);
    let (theme, found) = Theme::load(&files);
    findings.extend(found);
    let (handbook, found) = assemble(&files, &shapes());
    findings.extend(found);
    findings.extend(left_out::leave_out(&handbook, &mut graph));
    findings.extend(outline::check(&handbook, &graph));
    graph.catalog.own = own(&handbook, &graph);
    // what is wrong with them is told where they stand
    JobScope::default().with(&graph, "handbook.toml", &handbook.given, &mut findings);
    findings.extend(judge(&handbook, &graph));
    prose::inspect(&handbook, &files, &shapes(), &mut findings);
    let frame = Site::frame(&handbook);
    Opened {
        own: JobScope::of_handbook(&graph),
        way: Way::new(&frame, &handbook),
        frame,
        files,
        graph,
        theme,
        handbook,
        findings,
    }
}

fn built(root: &Path, edition: &dyn Edition, sink: Option<&dyn SiteSink>) -> BuiltSite {
    let (files, findings) = read(root);
    if files.texts.is_empty() {
        return BuiltSite {
            findings,
            sources: built_in_texts().collect(),
            ..BuiltSite::default()
        };
    }
    let mut opened = open(files, findings);
    let sink = match sink {
        None if opened.theme.has_own_templates() => Some(&NoFiles as &dyn SiteSink),
        sink => sink,
    };
    let composed = composed(&opened, edition, sink);
    opened.handbook.pages.forget_trees();
    let built = made(&opened, composed, edition, sink);
    let Opened { files, graph, .. } = opened;
    BuiltSite {
        sources: sources(graph.files, files.texts),
        ..built
    }
}

/// Every page composed, and what became of printing it at once.
type ComposedPages = (Vec<Arc<Composed<ComposedPage>>>, Vec<Option<HandedOver>>);

fn composed(opened: &Opened, edition: &dyn Edition, sink: Option<&dyn SiteSink>) -> ComposedPages {
    let Opened {
        files,
        graph,
        theme,
        handbook,
        own,
        frame,
        way,
        ..
    } = opened;
    let composer = Composer {
        handbook,
        files,
        graph,
        own,
        kinds: &KINDS,
        drawings: theme,
    };
    let renderer = sink.map(|sink| Renderer::new(theme, frame, edition, sink));
    let pages = handbook.pages.par_iter().map(|page| {
        let mut composed = compose(page, &composer);
        // the front page's lists tell of all the others
        let at_once = renderer.as_ref().filter(|_| !page.is_front());
        let written = at_once.map(|renderer| print(renderer, handbook, page, &composed, way));
        if written.is_some() || renderer.is_none() {
            composed.value.nodes = Vec::new();
        }
        (Arc::new(composed), written)
    });
    pages.unzip()
}

/// What the whole site is made of besides its written pages: all but the files and the sources.
fn made(
    opened: &Opened,
    (composed, written): ComposedPages,
    edition: &dyn Edition,
    sink: Option<&dyn SiteSink>,
) -> BuiltSite {
    let mut findings = opened.findings.clone();
    for page in &composed {
        findings.extend(page.findings.iter().cloned());
    }
    let input = SiteInput {
        files: &opened.files,
        handbook: &opened.handbook,
        graph: &opened.graph,
        theme: &opened.theme,
        composed: &composed,
        own: &opened.own,
        frame: &opened.frame,
        way: &opened.way,
        edition,
    };
    findings.extend(unused(input.files, &paths::shown(&input)));
    let paths = paths::paths(&input);
    findings.extend(paths::taken(&paths));
    match sink {
        Some(sink) => findings.extend(render(&input, written, sink)),
        None => findings.extend(calculators::faults(&input)),
    }
    sort(&mut findings);
    BuiltSite {
        site: SiteFiles::default(),
        findings: fold(findings),
        sources: Sources::default(),
        paths: paths.into_iter().map(|one| one.path).collect(),
        values: composed.iter().map(|page| page.uses.len()).sum(),
    }
}
