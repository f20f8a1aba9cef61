//! A comparison for machines; `src/gaugeleaf/README.md` has its form.

use serde::Serialize;

use crate::compare::cause::Cause;
use crate::compare::change::{CardChange, CardState, Comparison, EditionHead};

/// How the answer is laid out: raised when a field changes its meaning or goes.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct ComparedFile<'c> {
    version: u32,
    old: EditionFile<'c>,
    new: EditionFile<'c>,
    same_revision: bool,
    /// `fingerprints`, or `values` where a ledger lists no pages.
    compared_by: &'static str,
    to_print: usize,
    to_withdraw: usize,
    causes: &'c [Cause],
    cards: &'c [CardChange],
}

#[derive(Serialize)]
struct EditionFile<'c> {
    ledger: &'c str,
    #[serde(flatten)]
    head: &'c EditionHead,
}

/// All of it, as one JSON text.
pub fn json(comparison: &Comparison, old: &str, new: &str) -> String {
    let edition = |ledger, head| EditionFile { ledger, head };
    let file = ComparedFile {
        version: VERSION,
        old: edition(old, &comparison.old),
        new: edition(new, &comparison.new),
        same_revision: comparison.same_revision(),
        compared_by: if comparison.by_values {
            "values"
        } else {
            "fingerprints"
        },
        to_print: comparison.to_print(),
        to_withdraw: comparison.count(CardState::Gone),
        causes: &comparison.causes,
        cards: &comparison.cards,
    };
    // plain data: writing it into memory doesn't fail
    serde_json::to_string_pretty(&file).unwrap_or_default()
}
