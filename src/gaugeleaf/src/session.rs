//! The stages in their order: a folder becomes a site.

mod built;
mod kept;
mod live;
mod look;
mod parts;
mod refresh;
mod states;
mod turned;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

use gaugeleaf_calc::finding::Finding;
use rayon::prelude::*;

use crate::blocks::registry::shapes;
use crate::handbook::files::{HandbookFiles, read};
use crate::handbook::history::Issue;
use crate::handbook::places::HISTORY_FILE;
use crate::handbook::whole::{Handbook, assemble};
use crate::page::compose::{ComposedPage, compose};
use crate::page::composed::Composed;
use crate::prose;
use crate::render::edition::Edition;
use crate::render::files::{HeldFiles, NoFiles, SiteSink};
use crate::render::renderer::Renderer;
use crate::site::age::next_issue;
use crate::site::written::{HandedOver, print};
use crate::site::{calculators, render};
use crate::values::graph::Graph;
use crate::values::judge::judge;
use crate::values::left_out;
use crate::values::own::own;
use crate::values::shared::SharedValues;

use kept::Kept;
use look::Look;

use built::sources;
pub use built::{BuiltSite, Worker};
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
    build_issue_into(root, edition, files, None)
}

/// The same as if the line of an issue stood in the handbook's history already.
pub fn build_issue_into(
    root: &Path,
    edition: &dyn Edition,
    files: &dyn SiteSink,
    issue: Option<&str>,
) -> BuiltSite {
    let (mut read, findings) = read(root);
    if let Some(line) = issue {
        let history = read.texts.entry(HISTORY_FILE.to_string()).or_default();
        if !history.is_empty() && !history.ends_with('\n') {
            history.push('\n');
        }
        history.push_str(line);
    }
    built((read, findings), edition, Some(files), None).0
}

/// What an issue would say, and what is wrong with the handbook.
pub struct PlannedIssue {
    pub built: BuiltSite,
    pub issue: Issue,
    pub earlier: Vec<EarlierIssue>,
}

/// An issue before, the first one first.
pub struct EarlierIssue {
    pub revision: String,
    pub day: String,
}

/// What the issue of a day would say. Nothing is printed.
pub fn plan_issue(root: &Path, edition: &dyn Edition, day: &str) -> PlannedIssue {
    let (built, planned) = built(read(root), edition, None, Some(day));
    let (issue, earlier) =
        planned.unwrap_or_else(|| (Issue::new("", day, BTreeMap::new(), Vec::new()), Vec::new()));
    PlannedIssue {
        built,
        issue,
        earlier,
    }
}

/// Finds what is wrong with a handbook. Its site is printed only to find faults in templates of its
/// own, and otherwise stays empty.
pub fn inspect(root: &Path, edition: &dyn Edition) -> BuiltSite {
    built(read(root), edition, None, None).0
}

/// Builds the site of a handbook's files, and says what the issue of a day would say.
fn built(
    (files, findings): (HandbookFiles, Vec<Finding>),
    edition: &dyn Edition,
    sink: Option<&dyn SiteSink>,
    day: Option<&str>,
) -> (BuiltSite, Option<(Issue, Vec<EarlierIssue>)>) {
    if files.texts.is_empty() {
        return (BuiltSite::nothing(findings), None);
    }
    let mut look = Look::new(edition, files, &mut Kept::default(), findings);
    let mut findings = std::mem::take(&mut look.findings);
    findings.extend(judge(&look.handbook, &look.graph.graph));
    prose::inspect(&look.handbook, &look.files, &shapes(), &mut findings);
    let sink = match sink {
        None if look.theme.theme.has_own_templates() => Some(&NoFiles as &dyn SiteSink),
        sink => sink,
    };
    let (composed, written) = composed(&look, sink);
    look.handbook.pages.forget_trees();
    let input = look.input(&composed);
    let paths = look.paths(&input, &mut findings);
    match sink {
        Some(sink) => findings.extend(render(&input, written, sink)),
        None => findings.extend(calculators::faults(&input)),
    }
    let earlier = look.handbook.history.issues.iter();
    let earlier = earlier.map(|one| EarlierIssue {
        revision: one.revision.clone(),
        day: one.issued.clone(),
    });
    let planned = day.map(|day| (next_issue(&input, day), earlier.collect()));
    let worker = Worker {
        script: look.theme.theme.worker(),
        id: look.frame.id.clone(),
        revision: look.handbook.revision.clone(),
    };
    let built = BuiltSite::of(findings, paths, &composed);
    let built = BuiltSite {
        title: look.handbook.title,
        worker,
        sources: sources(look.graph.graph.files, look.files.texts),
        ..built
    };
    (built, planned)
}

/// Every page composed, and what became of printing it at once.
type ComposedPages = (Vec<Arc<Composed<ComposedPage>>>, Vec<Option<HandedOver>>);

fn composed(look: &Look<'_>, sink: Option<&dyn SiteSink>) -> ComposedPages {
    let (handbook, way) = (&look.handbook, &look.way);
    let composer = look.composer();
    let theme = &look.theme.theme;
    let renderer = sink.map(|sink| Renderer::new(theme, &look.frame, look.edition, sink));
    let shared = SharedValues::default();
    let pages = handbook.pages.par_iter().map(|page| {
        let mut composed = compose(page, &composer);
        // the front page's lists tell of all the others
        let at_once = renderer.as_ref().filter(|_| !page.is_front());
        let written = at_once.map(|renderer| print(renderer, handbook, page, &composed, way));
        if written.is_some() || renderer.is_none() {
            composed.value.nodes = Vec::new();
        }
        // what is held until all are composed: no look follows that would ask what was read
        composed.value.reads = BTreeSet::new();
        shared.share(&mut composed.uses);
        (Arc::new(composed), written)
    });
    pages.unzip()
}
