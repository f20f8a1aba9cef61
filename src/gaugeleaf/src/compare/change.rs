//! What a comparison comes to, as it is told: cards, what changed on each, and the causes.

use serde::Serialize;

use crate::compare::cause::Cause;

/// What happened to a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CardState {
    Changed,
    /// There was no such page.
    New,
    /// There is no such page any more.
    Gone,
}

/// What changed: what can hurt first comes first.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum ChangeKind {
    Hazard,
    Step,
    Value,
    Row,
    Line,
    Item,
    Text,
    Head,
    Formula,
    Picture,
    Block,
    Approver,
    /// The page as a whole: its ledger doesn't say what.
    #[default]
    Page,
}

/// In which way.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum ChangeWay {
    #[default]
    Changed,
    Added,
    Gone,
    /// It says the same, and stands elsewhere.
    Moved,
    /// Steps with other numbers.
    Renumbered,
}

/// One thing that changed on a page.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Change {
    pub kind: ChangeKind,
    pub is: ChangeWay,
    /// What it is called, where it has a name: a value's label, a picture's file, a block's title.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub what: String,
    /// A value's name in the ledger, a block's kind.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub name: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    pub from: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    pub to: String,
    /// Steps' numbers: then, now.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub old_step: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub new_step: Option<usize>,
    /// How many in a row, where they are told together.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub count: Option<usize>,
    /// Nothing differs but these values of the page.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub reads: Vec<ReadTurn>,
    /// What changed it: places in the list of causes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub because: Vec<usize>,
}

/// A value that a text reads, and that changed in it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReadTurn {
    pub name: String,
    pub what: String,
    pub from: String,
    pub to: String,
}

/// A card that is out of date.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CardChange {
    pub page: String,
    pub title: String,
    pub state: CardState,
    pub old_fingerprint: String,
    pub new_fingerprint: String,
    pub changes: Vec<Change>,
}

impl CardChange {
    /// Something on it changed by itself, and not by what changed elsewhere.
    pub fn was_edited(&self) -> bool {
        let mut changes = self.changes.iter();
        self.state == CardState::Changed && changes.any(|one| one.because.is_empty())
    }

    /// What comes first of what changed on it.
    pub fn worst(&self) -> ChangeKind {
        let kinds = self.changes.iter().map(|one| one.kind);
        kinds.min().unwrap_or(ChangeKind::Hazard)
    }
}

/// What is told of one edition.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct EditionHead {
    pub title: String,
    pub revision: String,
    pub caution: String,
    pub demonstration: bool,
    /// How many pages it has that can be compared.
    pub cards: usize,
}

/// All that changed between two editions.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    pub old: EditionHead,
    pub new: EditionHead,
    /// One of them lists no pages: nothing but values could be compared.
    pub by_values: bool,
    pub causes: Vec<Cause>,
    /// The worst first; what is gone comes last.
    pub cards: Vec<CardChange>,
}

impl Comparison {
    pub fn count(&self, state: CardState) -> usize {
        let cards = self.cards.iter();
        cards.filter(|card| card.state == state).count()
    }

    /// How many cards have to be printed.
    pub fn to_print(&self) -> usize {
        self.count(CardState::Changed) + self.count(CardState::New)
    }

    pub fn same_revision(&self) -> bool {
        !self.cards.is_empty() && self.old.revision == self.new.revision
    }
}
