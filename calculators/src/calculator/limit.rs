//! The other way round: how far an input may go before a verdict changes.
//!
//! The search walks away from the input's value over pieces in which interval
//! evaluation proves that the verdict stays, so no change in between is missed.

use super::answer::{Answer, Is};
use super::definition::Calculator;
use super::run::Supply;
use super::spread::{Possibilities, Possible, verdicts};
use crate::field::{Face, FieldKind};
use crate::formula::{Spread, Value};
use crate::quantity::{Form, Rounding};
use crate::span::Span;

/// The range of one input over which a check keeps its verdict.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    pub check: String,
    pub is: Is,
    pub low: Option<Edge>,
    pub high: Option<Edge>,
}

/// Where the verdict changes.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    pub si: f64,
    /// Rounded to the side on which the verdict still holds.
    pub text: String,
    /// What it becomes beyond; `None` where there is no result beyond.
    pub then: Option<Is>,
}

impl Limit {
    /// `go up to 22 3/8 in, then caution`
    pub fn words(&self) -> String {
        let then = |edge: &Edge| edge.then.map_or("no result", Is::word);
        let is = self.is.word();
        match (&self.low, &self.high) {
            (None, None) => format!("{is} over the whole range"),
            (None, Some(high)) => format!("{is} up to {}, then {}", high.text, then(high)),
            (Some(low), None) => format!("{is} down to {}, below it {}", low.text, then(low)),
            (Some(low), Some(high)) => format!(
                "{is} from {} to {}, below it {}, above it {}",
                low.text,
                high.text,
                then(low),
                then(high)
            ),
        }
    }
}

/// Pieces that one search may look at.
const MOST_PIECES: usize = 4000;
/// The finest piece, as a part of the way to the input's limit.
const FINEST: f64 = 1e-10;

impl Calculator {
    /// For each check, how far an input may go. Empty for a choice, and where
    /// the answer has problems.
    pub fn limits(&self, input: &str, answer: &Answer, supply: &dyn Supply) -> Vec<Limit> {
        let Some(FieldKind::Number {
            face, least, most, ..
        }) = self.input(input).map(|input| &input.field.kind)
        else {
            return Vec::new();
        };
        let Some(Value::Number(here)) = answer.values.get(input) else {
            return Vec::new();
        };
        let search = Search {
            calculator: self,
            input,
            answer,
            supply,
            face,
        };
        let far = 1000.0 * here.abs().max(1.0);
        answer
            .verdicts
            .iter()
            .enumerate()
            .filter(|_| answer.problems.is_empty())
            .map(|(at, verdict)| Limit {
                check: verdict.check.clone(),
                is: verdict.is,
                low: search.edge(at, verdict.is, *here, least.unwrap_or(here - far)),
                high: search.edge(at, verdict.is, *here, most.unwrap_or(here + far)),
            })
            .collect()
    }
}

struct Search<'a> {
    calculator: &'a Calculator,
    input: &'a str,
    answer: &'a Answer,
    supply: &'a dyn Supply,
    face: &'a Face,
}

impl Search<'_> {
    /// The first place on the way to `end` at which the verdict changes.
    fn edge(&self, check: usize, is: Is, here: f64, end: f64) -> Option<Edge> {
        let way = end - here;
        let count = self.face.main.unit.symbol == "count";
        let finest = if count { 1.0 } else { way.abs() * FINEST };
        let (mut at, mut step) = (0.0, way.abs());
        for _ in 0..MOST_PIECES {
            let left = way.abs() - at;
            if left <= finest * 0.5 || way == 0.0 {
                return None;
            }
            let next = (at + if count { libm::ceil(step) } else { step }).min(way.abs());
            let (from, to) = (here + at * way.signum(), here + next * way.signum());
            if self.possible(check, Span::new(from, to)) == [is] {
                at = next;
                step *= 2.0;
            } else if step > finest {
                step /= 2.0;
            } else {
                let beyond = self.possible(check, Span::point(to));
                if beyond == [is] {
                    // Too narrow to prove, but the verdict holds on the far side.
                    at = next;
                    step *= 2.0;
                    continue;
                }
                let then = beyond.last().copied().filter(|_| beyond.len() < 3);
                return Some(Edge {
                    si: from,
                    text: self.printed(check, is, from, way.signum()),
                    then,
                });
            }
        }
        None
    }

    /// The last printable value on the near side at which the verdict holds.
    fn printed(&self, check: usize, is: Is, edge: f64, outward: f64) -> String {
        let main = &self.face.main;
        let rounding = if outward > 0.0 {
            Rounding::Down
        } else {
            Rounding::Up
        };
        let form = Form {
            rounding,
            ..main.clone()
        };
        let shown = form.print(edge);
        let holds = self.possible(
            check,
            Span::point(main.unit.to_si_as(shown.value, main.kind)),
        ) == [is];
        if holds {
            shown.text
        } else {
            form.print(edge - outward * main.one_step()).text
        }
    }

    /// The verdicts that the check may come to over a span of the input.
    fn possible(&self, check: usize, span: Span) -> Vec<Is> {
        let inputs: Possibilities = self
            .calculator
            .input_names()
            .into_iter()
            .filter_map(|name| {
                let spread = if name == self.input {
                    Spread::Number(span)
                } else {
                    Spread::of(self.answer.values.get(name)?)
                };
                Some((
                    name.to_string(),
                    Possible::Known {
                        spread,
                        may_be_absent: false,
                    },
                ))
            })
            .collect();
        let known = self.calculator.possibilities(inputs, self.supply);
        self.calculator
            .checks
            .get(check)
            .map_or(Vec::new(), |check| verdicts(check, &known, self.supply))
    }
}
