//! What a page needs to come alive: the scripts that its blocks ask for.

use std::collections::BTreeSet;

/// Something on a page that scripts serve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Need {
    /// A calculator that answers.
    Widget,
    /// Steps and tick lists that remember.
    Ticks,
    /// Questions that are graded.
    Questions,
    /// A test of a phase's questions; needs theirs too.
    Test,
    /// The form of a job.
    JobForm,
    /// A tube sheet to mark.
    TubeMap,
}

impl Need {
    /// The scripts that serve it, in the order in which they must load.
    fn scripts(self) -> &'static [&'static str] {
        match self {
            Need::Ticks => &["ticks"],
            Need::Questions => &["show", "questions"],
            Need::Test => &["test"],
            Need::Widget => &["address", "fields", "keypad", "show", "widget"],
            Need::JobForm => &["fields", "keypad", "show", "jobs", "job-form"],
            Need::TubeMap => &["tube-map"],
        }
    }
}

/// The scripts for these needs, each once, in the order in which they must load.
pub fn scripts(needs: &BTreeSet<Need>) -> Vec<&'static str> {
    let mut scripts = Vec::new();
    for script in needs.iter().flat_map(|need| need.scripts()) {
        if !scripts.contains(script) {
            scripts.push(*script);
        }
    }
    scripts
}
