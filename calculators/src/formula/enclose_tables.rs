//! Encloses what is read from tables: with a key that may be one of several values, the
//! rows that it may name.

use std::ops::Range;

use super::ast::Expr;
use super::enclose::{EnclosureRun, fault};
use super::evaluate::{self, word};
use super::spreads::{Spread, Spreads};
use super::values::{BoxedFault, EvalFault, Value};
use crate::span::Span;

type Keys<'e> = Vec<(&'e str, Spread)>;

/// As near as a table takes two numbers for one.
const NOISE: f64 = 1e-9;

impl EnclosureRun {
    pub(super) fn lookup(
        &self,
        arguments: &[Expr],
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, BoxedFault> {
        let (table, column) = (word(arguments, 0, span)?, word(arguments, 1, span)?);
        let keys = self.keys(arguments.get(2..).unwrap_or_default(), spreads)?;
        if let Some(keys) = exact(&keys) {
            let entry = spreads.lookup(table, column, &keys);
            return entry
                .map(|value| Spread::of(&value))
                .map_err(|message| EvalFault::new(span, message).into());
        }
        let rows = rows(table, &keys, spreads);
        let entries = spreads.entries(table, column);
        let named = std::iter::zip(entries, rows).filter(|(_, named)| *named);
        let named = named.map(|(entry, _)| Some(Spread::of(&entry)));
        // Between two rows there is no value: a condition has to see to it.
        match named.reduce(|a, b| a?.hull(b?)).flatten() {
            Some(spread) if spreads.guarded() => Ok(spread),
            _ => fault(span, "inside the tolerance this table may have no row"),
        }
    }

    pub(super) fn found(
        &self,
        arguments: &[Expr],
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, BoxedFault> {
        let table = word(arguments, 0, span)?;
        let keys = self.keys(arguments.get(1..).unwrap_or_default(), spreads)?;
        if let Some(keys) = exact(&keys) {
            let found = spreads.found(table, &keys);
            return found
                .map(|found| Spread::truth(found, !found))
                .map_err(|message| EvalFault::new(span, message).into());
        }
        let rows = rows(table, &keys, spreads);
        if rows.is_empty() {
            return fault(span, "a table can't be read with a tolerance");
        }
        Ok(Spread::truth(rows.contains(&true), true))
    }

    fn keys<'e>(&self, pairs: &'e [Expr], spreads: &dyn Spreads) -> Result<Keys<'e>, BoxedFault> {
        pairs
            .chunks_exact(2)
            .map(|pair| {
                let key = word(pair, 0, &pair[0].span)?;
                Ok((key, self.spread(&pair[1], spreads)?))
            })
            .collect()
    }
}

/// The keys' values, where each has but one.
fn exact<'e>(keys: &Keys<'e>) -> Option<Vec<(&'e str, Value)>> {
    let keys = keys.iter();
    keys.map(|(name, spread)| match spread {
        Spread::Number(span) if span.high - span.low <= evaluate::NOISE * span.high.abs() => {
            Some((*name, Value::Number(span.high)))
        }
        _ => Some((*name, spread.only()?)),
    })
    .collect()
}

/// Row by row, whether the keys may name it.
fn rows(table: &str, keys: &Keys<'_>, spreads: &dyn Spreads) -> Vec<bool> {
    let mut rows = Vec::new();
    for (name, spread) in keys {
        let entries = spreads.entries(table, name);
        rows.resize(entries.len(), true);
        for (row, entry) in rows.iter_mut().zip(&entries) {
            *row &= may_be(spread, entry);
        }
    }
    rows
}

fn may_be(spread: &Spread, entry: &Value) -> bool {
    match (spread, entry) {
        (Spread::Number(Span { low, high }), Value::Number(entry)) => {
            (low..=high).contains(&entry) || near(*low, *entry) || near(*high, *entry)
        }
        (Spread::Choice(words), Value::Choice(entry)) => words.contains(entry),
        _ => false,
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= NOISE * a.abs().max(b.abs())
}
