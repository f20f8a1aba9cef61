//! The stages up to composed pages, without the site: for tests that break many handbooks.

use std::path::Path;

use gaugeleaf::blocks::registry::{KINDS, shapes};
use gaugeleaf::handbook::files::{HandbookFiles, read};
use gaugeleaf::handbook::unused::unused;
use gaugeleaf::handbook::whole::assemble;
use gaugeleaf::page::compose::compose;
use gaugeleaf::page::context::Composer;
use gaugeleaf::prose;
use gaugeleaf::render::theme::Theme;
use gaugeleaf::report::{Sources, sort};
use gaugeleaf::session::asked;
use gaugeleaf::values::graph::Graph;
use gaugeleaf::values::outline;
use gaugeleaf::values::own::own;
use gaugeleaf::values::scope::JobScope;
use gaugeleaf_finding::Finding;

/// The catalog with the demonstration's kit and the values of its job.
pub fn equipped() -> Graph {
    let root = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."));
    asked(&read(root).0).0
}

/// What is found in a folder, and the texts that it points into.
pub fn found(root: &Path) -> (Vec<Finding>, Sources) {
    let (files, mut findings) = read(root);
    let (mut graph, more) = Graph::load(&files);
    findings.extend(more);
    let (handbook, _) = assemble(&files, &shapes());
    graph.catalog.own = own(&handbook, &graph);
    let (theme, more) = Theme::load(&files);
    findings.extend(more);
    findings.extend(pages(&files, &graph, &theme));
    sort(&mut findings);
    let built_in = graph.files.into_iter().map(|file| (file.path, file.text));
    let sources = built_in.chain(files.texts).collect();
    (findings, sources)
}

/// What is found in a handbook's own files, with a catalog and a theme that were read before.
pub fn pages(files: &HandbookFiles, graph: &Graph, theme: &Theme) -> Vec<Finding> {
    let (handbook, mut findings) = assemble(files, &shapes());
    findings.extend(outline::check(&handbook, graph));
    JobScope::default().with(graph, "handbook.toml", &handbook.given, &mut findings);
    let own = JobScope::of_handbook(graph);
    prose::inspect(&handbook, files, &shapes(), &mut findings);
    let composer = Composer {
        handbook: &handbook,
        files,
        graph,
        own: &own,
        kinds: &KINDS,
        drawings: theme,
    };
    let composed: Vec<_> = handbook
        .pages
        .iter()
        .map(|page| compose(page, &composer))
        .collect();
    findings.extend(composed.iter().flat_map(|page| page.findings.clone()));
    let shown = composed.iter().flat_map(|page| &page.needs.files).collect();
    findings.extend(unused(files, &shown));
    findings
}
