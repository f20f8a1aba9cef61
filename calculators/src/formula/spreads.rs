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
    /// A table's column, row by row; empty where it isn't known.
    fn entries(&self, table: &str, column: &str) -> Vec<Value>;
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
