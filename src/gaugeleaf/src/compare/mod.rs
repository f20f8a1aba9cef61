//! Two editions of a handbook, held against each other by their ledgers: what changed for whoever acts
//! on it, which cards are out of date, and why.

pub mod align;
pub mod card;
pub mod machine;
pub mod paper;
pub mod read;
pub mod terminal;
pub mod told;
pub mod values;
pub mod why;

use std::collections::{HashMap, HashSet};

use serde::Serialize;

use crate::compare::card::{TextChange, text_changes};
use crate::compare::read::{EditionLedger, PageRead, ValueRead};
use crate::compare::values::ChangedValue;
use crate::compare::why::{Cause, Why};

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
    Formula,
    Picture,
    Block,
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
    fn worst(&self) -> ChangeKind {
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

/// A block that shows the page's own values.
const SHEET: &str = "setup-sheet";

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

/// One edition, page by page.
struct EditionPages<'l> {
    pages: Vec<&'l PageRead>,
    by_url: HashMap<&'l str, &'l PageRead>,
    values: HashMap<&'l str, Vec<&'l ValueRead>>,
}

impl<'l> EditionPages<'l> {
    /// An edition; `valued` are its pages that print values, where it lists none.
    fn new(ledger: &'l EditionLedger, valued: &'l [PageRead], by_values: bool) -> EditionPages<'l> {
        let mut values: HashMap<&str, Vec<&ValueRead>> = HashMap::new();
        for value in &ledger.values {
            values.entry(&value.page).or_default().push(value);
        }
        let listed = match &ledger.pages {
            Some(pages) if !by_values => pages,
            _ => valued,
        };
        let mut by_url = HashMap::new();
        let mut pages = Vec::new();
        for page in listed {
            if by_url.insert(page.page.as_str(), page).is_none() {
                pages.push(page);
            }
        }
        EditionPages {
            pages,
            by_url,
            values,
        }
    }

    fn values(&self, page: &str) -> &[&'l ValueRead] {
        self.values.get(page).map_or(&[], Vec::as_slice)
    }
}

/// The pages on which an edition prints a value, by their titles where any edition tells them.
fn valued(ledger: &EditionLedger, other: &EditionLedger) -> Vec<PageRead> {
    let both = [ledger, other].into_iter();
    let listed = both.filter_map(|one| one.pages.as_ref()).flatten();
    let titles: HashMap<&str, &str> = listed
        .map(|page| (page.page.as_str(), page.title.as_str()))
        .collect();
    let mut seen = HashSet::new();
    let pages = ledger.values.iter().map(|value| value.page.as_str());
    let pages = pages.filter(|page| !page.is_empty() && seen.insert(*page));
    pages
        .map(|page| PageRead {
            page: page.to_string(),
            title: titles.get(page).unwrap_or(&"").to_string(),
            ..PageRead::default()
        })
        .collect()
}

/// Holds a new edition against an old one.
pub fn compare(old: &EditionLedger, new: &EditionLedger) -> Comparison {
    let by_values = old.pages.is_none() || new.pages.is_none();
    let (old_valued, new_valued) = (valued(old, new), valued(new, old));
    let before = EditionPages::new(old, &old_valued, by_values);
    let after = EditionPages::new(new, &new_valued, by_values);
    let mut found = Vec::new();
    for page in &after.pages {
        let Some(was) = before.by_url.get(page.page.as_str()) else {
            found.push((CardState::New, None, Some(*page)));
            continue;
        };
        if by_values || was.fingerprint != page.fingerprint {
            found.push((CardState::Changed, Some(*was), Some(*page)));
        }
    }
    let gone = before.pages.iter();
    let gone = gone.filter(|page| !after.by_url.contains_key(page.page.as_str()));
    found.extend(gone.map(|page| (CardState::Gone, Some(*page), None)));

    let mut drafts: Vec<Draft> = Vec::new();
    for (state, was, is) in found {
        let (Some(page), values) = (is.or(was), Vec::new()) else {
            continue;
        };
        let mut draft = Draft {
            state,
            page,
            was,
            is,
            values,
            texts: Vec::new(),
        };
        if state == CardState::Changed {
            let url = page.page.as_str();
            draft.values = values::changed(before.values(url), after.values(url));
            if let (Some(was), Some(is), false) = (was, is, by_values) {
                draft.texts = text_changes(&was.acts, &is.acts, &draft.values);
            }
            if by_values && draft.values.is_empty() {
                continue;
            }
        }
        drafts.push(draft);
    }
    let mut why = Why::new(old, new, &drafts);
    let mut cards: Vec<CardChange> = drafts.iter().map(|one| one.finish(&mut why)).collect();
    cards.sort_by_key(|card| match card.state {
        CardState::Changed => (0, card.worst()),
        CardState::New => (1, ChangeKind::Hazard),
        CardState::Gone => (2, ChangeKind::Hazard),
    });
    Comparison {
        old: head(old, before.pages.len()),
        new: head(new, after.pages.len()),
        by_values,
        causes: why.causes(&cards),
        cards,
    }
}

fn head(ledger: &EditionLedger, cards: usize) -> EditionHead {
    EditionHead {
        title: ledger.title.clone(),
        revision: ledger.revision.clone(),
        caution: ledger.caution.clone(),
        demonstration: ledger.demonstration,
        cards,
    }
}

/// A page that differs, before anybody asked why.
pub struct Draft<'l> {
    state: CardState,
    page: &'l PageRead,
    was: Option<&'l PageRead>,
    is: Option<&'l PageRead>,
    values: Vec<ChangedValue<'l>>,
    texts: Vec<TextChange>,
}

impl<'l> Draft<'l> {
    fn finish(&self, why: &mut Why<'l>) -> CardChange {
        let fingerprint = |page: Option<&PageRead>| {
            page.map_or_else(String::new, |page| page.fingerprint.clone())
        };
        CardChange {
            page: self.page.page.clone(),
            title: self.page.title.clone(),
            state: self.state,
            old_fingerprint: fingerprint(self.was),
            new_fingerprint: fingerprint(self.is),
            changes: self.changes(why),
        }
    }

    /// All that changed on it, the worst first.
    fn changes(&self, why: &mut Why<'l>) -> Vec<Change> {
        if self.state != CardState::Changed {
            return Vec::new();
        }
        let page = self.page.page.as_str();
        let because: Vec<Vec<usize>> = self
            .values
            .iter()
            .map(|one| why.of_value(page, one))
            .collect();
        let values = self.values.iter().zip(&because);
        let values = values.map(|(value, because)| card::value_change(value, because.clone()));
        let texts = self.texts.iter().map(|text| {
            let mut change = text.change.clone();
            let read = text.reads.iter().filter_map(|at| because.get(*at));
            change.because = read.flatten().copied().collect();
            if text.reads.is_empty() {
                change.because = why.of_text(page, &change);
            }
            if change.name == SHEET {
                change.because = because.iter().flatten().copied().collect();
            }
            change.because.sort_unstable();
            change.because.dedup();
            change
        });
        let mut changes: Vec<Change> = values.chain(texts).collect();
        if changes.is_empty() {
            // its fingerprint says that it differs: never pass it for the same
            changes.push(Change::default());
        }
        changes.sort_by_key(|one| (one.kind, one.is == ChangeWay::Renumbered));
        changes
    }
}

#[cfg(test)]
mod tests;
