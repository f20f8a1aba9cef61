//! What is kept of one look at a handbook for the next.

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use gaugeleaf_calc::finding::Finding;

use super::states::{CommonStates, state_of};
use crate::handbook::files::HandbookFiles;
use crate::handbook::whole::Handbook;
use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::page::reads::Consulted;
use crate::prose::InspectedPage;
use crate::render::theme::Theme;
use crate::values::graph::Graph;
use crate::values::left_out::leave_out;

/// A site's files, each shared with whoever shows it.
pub type SharedFiles = BTreeMap<String, Arc<Vec<u8>>>;

/// All that is kept.
#[derive(Default)]
pub struct Kept {
    pub files: HandbookFiles,
    /// What was found as they were read.
    pub found: Vec<Finding>,
    pub handbook: Handbook,
    pub graph: Option<KeptGraph>,
    pub theme: Option<KeptTheme>,
    /// What the handbook's own values were found to be.
    pub judged: Option<(u64, Vec<Finding>)>,
    /// By path.
    pub pages: HashMap<String, KeptPage>,
    pub parts: HashMap<&'static str, KeptPart>,
    pub site: SharedFiles,
}

pub struct KeptGraph {
    pub state: u64,
    /// Of what can be worked out, without the kits' values.
    pub definitions: u64,
    pub graph: Graph,
    pub findings: Vec<Finding>,
}

impl KeptGraph {
    /// The catalog as the handbook has it.
    pub fn load(files: &HandbookFiles, handbook: &Handbook, state: u64) -> KeptGraph {
        let (mut graph, mut findings) = Graph::load(files);
        findings.extend(leave_out(handbook, &mut graph));
        let texts: Vec<_> = graph
            .files
            .iter()
            .map(|file| (&file.path, &file.text))
            .collect();
        let out: Vec<_> = graph.left_out.iter().map(|one| &one.name).collect();
        KeptGraph {
            state,
            definitions: state_of((texts, out)),
            graph,
            findings,
        }
    }
}

pub struct KeptTheme {
    pub state: u64,
    pub theme: Theme,
    pub findings: Vec<Finding>,
}

impl KeptTheme {
    pub fn load(files: &HandbookFiles, state: u64) -> KeptTheme {
        let (theme, findings) = Theme::load(files);
        KeptTheme {
            state,
            theme,
            findings,
        }
    }
}

/// A page as it was composed and printed.
#[derive(Clone)]
pub struct KeptPage {
    /// The state of its own text and of what holds for every page.
    pub state: u64,
    pub common: CommonStates,
    pub inspected: Arc<InspectedPage>,
    pub composed: Arc<Composed<ComposedPage>>,
    /// What it asked for, and in which state that was.
    pub reads: Arc<Vec<(Consulted, u64)>>,
    /// The look in which it was composed.
    pub turn: u64,
    /// None for the front page, which is printed with the lists.
    pub printed: Option<KeptPrint>,
}

/// A page's bytes, or why there are none.
#[derive(Clone)]
pub struct KeptPrint {
    pub state: u64,
    pub html: Result<Arc<Vec<u8>>, Finding>,
}

/// A part of the site that the generator makes by itself.
pub struct KeptPart {
    pub state: u64,
    pub files: SharedFiles,
    pub findings: Vec<Finding>,
}
