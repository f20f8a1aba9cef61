//! What a formula may give when its names lie anywhere in their spans, and
//! where the names get their spreads.

use super::ast::Operator;
use super::evaluate::NOISE;
use super::values::Value;
use crate::span::Span;

/// What a formula may give.
#[derive(Debug, Clone, PartialEq)]
pub enum Spread {
    Number(Span),
    Truth { may_hold: bool, may_fail: bool },
    Choice(Vec<String>),
}

impl Spread {
    pub fn of(value: &Value) -> Spread {
        match value {
            Value::Number(value) => Spread::Number(Span::point(*value)),
            Value::Truth(truth) => Spread::truth(*truth, !*truth),
            Value::Choice(word) => Spread::Choice(vec![word.clone()]),
        }
    }

    pub(super) fn truth(may_hold: bool, may_fail: bool) -> Spread {
        Spread::Truth { may_hold, may_fail }
    }

    /// The one value that it leaves.
    pub(crate) fn only(&self) -> Option<Value> {
        match self {
            Spread::Number(span) if span.low == span.high => Some(Value::Number(span.low)),
            Spread::Truth { may_hold, may_fail } if may_hold != may_fail => {
                Some(Value::Truth(*may_hold))
            }
            Spread::Choice(words) if words.len() == 1 => Some(Value::Choice(words[0].clone())),
            _ => None,
        }
    }

    /// A value so far along it: 0 the first, 1 the last.
    pub(crate) fn part(&self, part: f64) -> Value {
        match self {
            Spread::Number(span) if part >= 1.0 => Value::Number(span.high),
            Spread::Number(span) => Value::Number(span.low + (span.high - span.low) * part),
            Spread::Truth { may_hold, .. } => Value::Truth(*may_hold),
            Spread::Choice(words) => {
                let at = part * words.len().saturating_sub(1) as f64;
                Value::Choice(words.get(at as usize).cloned().unwrap_or_default())
            }
        }
    }

    /// How much there is to halve.
    pub(crate) fn size(&self) -> f64 {
        match self {
            Spread::Number(span) => span.high - span.low,
            Spread::Truth { .. } => 0.0,
            Spread::Choice(words) => words.len().saturating_sub(1) as f64,
        }
    }

    /// Only as far as the whole numbers in it, for a count.
    pub(crate) fn in_steps(self, count: bool) -> Spread {
        match self {
            Spread::Number(Span { low, high }) if count => {
                let (first, last) = (libm::ceil(low), libm::floor(high));
                Spread::Number(if first <= last {
                    Span::new(first, last)
                } else {
                    Span::new(low, high)
                })
            }
            other => other,
        }
    }

    /// Both halves; `None` where it is too small to have any.
    pub(crate) fn halves(&self, count: bool) -> Option<(Spread, Spread)> {
        match self {
            Spread::Number(Span { low, high }) => {
                let middle = low + (high - low) / 2.0;
                let (one, other) = if count {
                    (libm::floor(middle), libm::floor(middle) + 1.0)
                } else {
                    (middle, middle)
                };
                let enough = count || high - low > 1e-12 * low.abs().max(high.abs());
                (enough && *low <= one && other <= *high).then(|| {
                    (
                        Spread::Number(Span::new(*low, one)),
                        Spread::Number(Span::new(other, *high)),
                    )
                })
            }
            Spread::Choice(words) if words.len() > 1 => {
                let (one, other) = words.split_at(words.len() / 2);
                Some((Spread::Choice(one.to_vec()), Spread::Choice(other.to_vec())))
            }
            _ => None,
        }
    }

    pub(crate) fn hull(self, other: Spread) -> Option<Spread> {
        Some(match (self, other) {
            (Spread::Number(a), Spread::Number(b)) => Spread::Number(a.hull(b)),
            (
                Spread::Truth {
                    may_hold: a,
                    may_fail: b,
                },
                Spread::Truth {
                    may_hold: c,
                    may_fail: d,
                },
            ) => Spread::truth(a || c, b || d),
            (Spread::Choice(mut a), Spread::Choice(b)) => {
                a.extend(
                    b.into_iter()
                        .filter(|word| !a.contains(word))
                        .collect::<Vec<_>>(),
                );
                Spread::Choice(a)
            }
            _ => return None,
        })
    }
}

/// Where names get their spreads, and tables their entries.
pub trait Spreads {
    fn spread(&self, name: &str) -> Option<Spread>;
    /// A table's entry.
    ///
    /// # Errors
    /// Says that no row fits.
    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String>;
    /// Whether a table has such a row.
    ///
    /// # Errors
    /// Says that there is no such table.
    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, String>;
    /// A table's column, row by row; empty where it isn't known.
    fn entries(&self, _table: &str, _column: &str) -> Vec<Value> {
        Vec::new()
    }
    /// Whether values are asked for only where there are any, because a condition of
    /// theirs may fail.
    fn guarded(&self) -> bool {
        false
    }
}

/// A counter's or a root's span, over the names outside.
pub(super) struct BoundSpan<'a> {
    pub name: &'a str,
    pub span: Span,
    pub outer: &'a dyn Spreads,
}

impl Spreads for BoundSpan<'_> {
    fn spread(&self, name: &str) -> Option<Spread> {
        if name == self.name {
            Some(Spread::Number(self.span))
        } else {
            self.outer.spread(name)
        }
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String> {
        self.outer.lookup(table, column, keys)
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, String> {
        self.outer.found(table, keys)
    }

    fn entries(&self, table: &str, column: &str) -> Vec<Value> {
        self.outer.entries(table, column)
    }

    fn guarded(&self) -> bool {
        self.outer.guarded()
    }
}

/// Comparisons forgive the same noise as those of single values.
pub(super) fn compare(operator: Operator, x: Span, y: Span) -> Spread {
    let near = |a: f64, b: f64| (a - b).abs() <= NOISE * a.abs().max(b.abs());
    let may_be_less = x.low < y.high && !near(x.low, y.high);
    let may_be_more = x.high > y.low && !near(x.high, y.low);
    let may_be_equal =
        (x.low <= y.high && y.low <= x.high) || near(x.low, y.high) || near(x.high, y.low);
    match operator {
        Operator::Less => Spread::truth(may_be_less, may_be_more || may_be_equal),
        Operator::AtMost => Spread::truth(may_be_less || may_be_equal, may_be_more),
        Operator::Greater => Spread::truth(may_be_more, may_be_less || may_be_equal),
        Operator::AtLeast => Spread::truth(may_be_more || may_be_equal, may_be_less),
        Operator::Equal => Spread::truth(may_be_equal, may_be_less || may_be_more),
        _ => Spread::truth(may_be_less || may_be_more, may_be_equal),
    }
}
