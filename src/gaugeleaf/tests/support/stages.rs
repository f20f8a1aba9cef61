//! The stages up to composed pages, without the site: for tests that break many handbooks.

use std::path::Path;

use gaugeleaf::blocks::registry::{KINDS, shapes};
use gaugeleaf::handbook::book::book;
use gaugeleaf::handbook::files::{Handbook, read};
use gaugeleaf::handbook::unused::unused;
use gaugeleaf::page::compose::{With, compose};
use gaugeleaf::prose;
use gaugeleaf::render::theme::Theme;
use gaugeleaf::report::{Sources, sort};
use gaugeleaf::values::graph::Graph;
use gaugeleaf::values::scope::JobScope;
use gaugeleaf_finding::Finding;

/// What is found in a folder, and the texts that it points into.
pub fn found(root: &Path) -> (Vec<Finding>, Sources) {
    let (handbook, mut findings) = read(root);
    let (graph, more) = Graph::load(&handbook);
    findings.extend(more);
    let (theme, more) = Theme::load(&handbook);
    findings.extend(more);
    findings.extend(pages(&handbook, &graph, &theme));
    sort(&mut findings);
    let built_in = graph.files.into_iter().map(|file| (file.path, file.text));
    let sources = built_in.chain(handbook.texts).collect();
    (findings, sources)
}

/// What is found in a handbook's own files, with a catalog and a theme that were read before.
pub fn pages(handbook: &Handbook, graph: &Graph, theme: &Theme) -> Vec<Finding> {
    let (book, mut findings) = book(handbook, &shapes());
    let own = JobScope::default().with(graph, "handbook.toml", &book.given, &mut findings);
    prose::inspect(&book, handbook, &shapes(), &mut findings);
    let with = With {
        book: &book,
        files: handbook,
        graph,
        own: &own,
        kinds: &KINDS,
        drawings: theme,
    };
    let composed: Vec<_> = book.pages.iter().map(|page| compose(page, &with)).collect();
    findings.extend(composed.iter().flat_map(|page| page.findings.clone()));
    let shown = composed.iter().flat_map(|page| &page.needs.files).collect();
    findings.extend(unused(handbook, &shown));
    findings
}
