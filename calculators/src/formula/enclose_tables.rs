//! Encloses what is read from tables: with a key that may be one of several values, the
//! rows that it may name.

use std::ops::Range;

use super::ast::Expr;
use super::enclose::{EnclosureRun, fault};
use super::evaluate::word;
use super::spreads::{Spread, Spreads};
use super::values::{BoxedFault, Value};
use crate::span::Span;

/// As near as a table takes two numbers for one.
const NOISE: f64 = 1e-9;

impl EnclosureRun {
    pub(super) fn lookup(
        &self,
        arguments: &[Expr],
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, BoxedFault> {
        let (rows, sure) = self.rows(arguments, 2, spreads)?;
        let column = spreads.entries(word(arguments, 0, span)?, word(arguments, 1, span)?);
        let mut found: Option<Spread> = None;
        for (entry, _) in column.iter().zip(rows).filter(|(_, named)| *named) {
            let entry = Spread::of(entry);
            found = match found {
                Some(found) => found.hull(entry),
                None => Some(entry),
            };
        }
        match found {
            // Between two rows there is no value: a condition has to see to it.
            Some(spread) if spreads.guarded() || sure && spread.only().is_some() => Ok(spread),
            _ => fault(span),
        }
    }

    pub(super) fn found(
        &self,
        arguments: &[Expr],
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, BoxedFault> {
        let (rows, sure) = self.rows(arguments, 1, spreads)?;
        if rows.is_empty() {
            return fault(span);
        }
        let may_hold = rows.contains(&true);
        Ok(Spread::truth(may_hold, !(sure && may_hold)))
    }

    /// Row by row, whether the keys may name it; and whether each key has but one value.
    fn rows(
        &self,
        arguments: &[Expr],
        first: usize,
        spreads: &dyn Spreads,
    ) -> Result<(Vec<bool>, bool), BoxedFault> {
        let (mut rows, mut sure) = (Vec::new(), true);
        for pair in arguments.get(first..).unwrap_or_default().chunks_exact(2) {
            let [key, value] = pair else { break };
            let column = word(arguments, 0, &key.span)?;
            let entries = spreads.entries(column, word(pair, 0, &key.span)?);
            rows.resize(entries.len(), true);
            let spread = self.spread(value, spreads)?;
            sure &= match &spread {
                Spread::Number(span) => span.width() <= 1e-12 * span.high.abs(),
                other => other.only().is_some(),
            };
            for (row, entry) in rows.iter_mut().zip(&entries) {
                *row &= may_be(&spread, entry);
            }
        }
        Ok((rows, sure))
    }
}

fn may_be(spread: &Spread, entry: &Value) -> bool {
    match (spread, entry) {
        (Spread::Number(span), Value::Number(entry)) => {
            let Span { low, high } = *span;
            span.holds(*entry) || same(low, *entry) || same(high, *entry)
        }
        (Spread::Choice(words), Value::Choice(entry)) => words.contains(entry),
        _ => false,
    }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= NOISE * a.abs().max(b.abs())
}
