//! Two editions of a handbook, held against each other by their ledgers: what changed for whoever acts
//! on it, which cards are out of date, and why.

pub mod align;
pub mod card;
pub mod cause;
pub mod change;
pub mod draft;
pub mod machine;
pub mod paper;
pub mod read;
pub mod terminal;
pub mod told;
pub mod values;
pub mod why;

use std::collections::{HashMap, HashSet};

use crate::compare::card::text_changes;
use crate::compare::change::{
    CardChange, CardState, Change, ChangeKind, ChangeWay, Comparison, EditionHead,
};
use crate::compare::draft::Draft;
use crate::compare::read::{EditionLedger, PageRead, ValueRead};
use crate::compare::why::Why;

/// A block that shows the page's own values.
const SHEET: &str = "setup-sheet";

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
    let mut cards: Vec<CardChange> = drafts.iter().map(|one| finish(one, &mut why)).collect();
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

fn finish<'l>(draft: &Draft<'l>, why: &mut Why<'l>) -> CardChange {
    let fingerprint =
        |page: Option<&PageRead>| page.map_or_else(String::new, |page| page.fingerprint.clone());
    CardChange {
        page: draft.page.page.clone(),
        title: draft.page.title.clone(),
        state: draft.state,
        old_fingerprint: fingerprint(draft.was),
        new_fingerprint: fingerprint(draft.is),
        changes: changes(draft, why),
    }
}

/// All that changed on it, the worst first.
fn changes<'l>(draft: &Draft<'l>, why: &mut Why<'l>) -> Vec<Change> {
    if draft.state != CardState::Changed {
        return Vec::new();
    }
    let page = draft.page.page.as_str();
    let because: Vec<Vec<usize>> = draft
        .values
        .iter()
        .map(|one| why.of_value(page, one))
        .collect();
    let values = draft.values.iter().zip(&because);
    let values = values.map(|(value, because)| card::value_change(value, because.clone()));
    let texts = draft.texts.iter().map(|text| {
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

#[cfg(test)]
mod tests;
