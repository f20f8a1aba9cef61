//! The other way round: how far an input may go before a verdict changes.
//!
//! The search walks away from the input's value over pieces in which interval
//! evaluation proves that the verdict stays, so no change in between is missed.

use super::answer::{Answer, Verdict};
use super::definition::{Calculator, Check};
use super::open;
use super::resolver::Resolver;
use super::slice::{Mover, Slice};
use crate::field::{FieldKind, NumberFormat};
use crate::formula::Value;
use crate::message::Message;
use crate::message::tell::limit as tell;
use crate::quantity::{RoundedQuantity, Rounding, UnitFormat, in_unit};
use crate::span::Span;

/// The range of one input over which a check keeps its verdict.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    pub check: String,
    /// For whom it holds, where the other values are no more than examples: `For T1`.
    pub whom: Option<Message>,
    pub is: Verdict,
    pub low: Option<Edge>,
    pub high: Option<Edge>,
}

/// Where the verdict changes.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    pub si: f64,
    /// Rounded to the side on which the verdict still holds.
    pub text: String,
    /// What it becomes beyond; `None` where there is no result beyond, or it isn't known.
    pub then: Option<Verdict>,
    /// It was too much work to go on: the verdict holds at least up to here.
    pub at_least: bool,
}

impl Limit {
    /// `For T1, hose: go up to 22 3/8 in, then caution`; the check is named where there are several.
    pub fn line(&self, named: bool) -> Message {
        let check = named.then(|| Message::data(&self.check));
        let head: Vec<Message> = self.whom.iter().cloned().chain(check).collect();
        match head.as_slice() {
            [] => self.words(),
            _ => tell::line(&Message::joined(&head, ", "), &self.words()),
        }
    }

    /// `go up to 22 3/8 in, then caution`
    pub fn words(&self) -> Message {
        let then = |edge: &Edge| match edge.then {
            Some(is) => is.told(),
            None if edge.at_least => tell::not_worked_out(),
            None => tell::no_result(),
        };
        let is = self.is.told();
        match (&self.low, &self.high) {
            (None, None) => tell::everywhere(&is),
            (None, Some(high)) => tell::up_to(&then(high), &high.text, &is),
            (Some(low), None) => tell::down_to(&then(low), &is, &low.text),
            (Some(low), Some(high)) => {
                tell::between(&then(high), &then(low), &high.text, &is, &low.text)
            }
        }
    }
}

/// How many pieces one search may look at.
const MOST_PIECES: usize = 400;

/// The finest piece, in steps of the input as printed.
const FINEST: f64 = 1.0 / 4096.0;

/// How often the printed step may be made finer, where no value in it lies this side of
/// the edge.
const MOST_REFINED: usize = 8;

impl Calculator {
    /// For each check, how far an input may go. Empty for a choice, and where
    /// the answer has problems.
    pub fn limits(&self, input: &str, answer: &Answer, resolver: &dyn Resolver) -> Vec<Limit> {
        let Some(definition) = self.input(input) else {
            return Vec::new();
        };
        let FieldKind::Number {
            format,
            least,
            most,
            ..
        } = &definition.field.kind
        else {
            return Vec::new();
        };
        let Some(Value::Number(here)) = answer.values.get(input) else {
            return Vec::new();
        };
        let far = 1000.0 * here.abs().max(1.0);
        let (least, most) = (least.unwrap_or(here - far), most.unwrap_or(here + far));
        std::iter::zip(&self.checks, &answer.checks)
            .filter(|_| answer.problems.is_empty())
            .filter_map(|(check, result)| {
                // how far the numbers carry, whatever they stand on
                let is = result.would?;
                let moved = [Mover {
                    name: &definition.field.name,
                    whole: Span::new(least, most),
                    count: format.main.unit.symbol == "count",
                }];
                let wanted = check.reads().collect();
                let search = LimitSearch {
                    check,
                    slice: Slice::of(self, resolver, &moved, wanted, &answer.values),
                    format,
                    here: *here,
                    is,
                };
                Some(Limit {
                    check: result.check.clone(),
                    whom: open::whom(&result.needs),
                    is,
                    low: search.edge(least),
                    high: search.edge(most),
                })
            })
            .collect()
    }
}

struct LimitSearch<'a> {
    check: &'a Check,
    slice: Slice<'a>,
    format: &'a NumberFormat,
    here: f64,
    is: Verdict,
}

impl LimitSearch<'_> {
    /// The first place on the way to `end` at which the verdict changes; `None` too where
    /// nothing of the check hangs on the input.
    fn edge(&self, end: f64) -> Option<Edge> {
        let way = end - self.here;
        let Mover { count, .. } = *self.slice.moved.first()?;
        let finest = if count {
            1.0
        } else {
            self.format.main.one_step() * FINEST
        };
        let (mut at, mut step) = (0.0, way.abs());
        let mut held = false;
        for _ in 0..MOST_PIECES {
            let left = way.abs() - at;
            if left <= finest * 0.5 || way == 0.0 {
                return None;
            }
            let next = (at + if count { libm::ceil(step) } else { step }).min(way.abs());
            let from = self.here + at * way.signum();
            let to = if next < way.abs() {
                self.here + next * way.signum()
            } else {
                end
            };
            let holds = self.holds(from, to);
            if !holds && step > finest {
                step /= 2.0;
                held = false;
                continue;
            }
            if !holds && let Some((far, then)) = self.change(from, to) {
                return Some(self.edge_at([from, far], then));
            }
            // Else too narrow to prove, but the verdict holds on the far side.
            at = next;
            // Right after a piece that failed, the next of its size will most likely fail too.
            if held || !holds {
                step *= 2.0;
            }
            held = true;
        }
        let last = self.here + at * way.signum();
        Some(Edge {
            at_least: true,
            ..self.edge_at([last, last + finest * way.signum()], None)
        })
    }

    /// Whether the verdict surely stays over a piece.
    fn holds(&self, from: f64, to: f64) -> bool {
        let side = [Span::new(from, to)];
        let known = self.slice.over(&side);
        self.slice.verdicts(self.check, &side, &known) == [self.is]
    }

    /// The verdict at a value, worked out as an answer is; `None` without an answer.
    fn verdict(&self, value: f64) -> Option<Verdict> {
        let values = self.slice.at(&[value])?;
        Some(self.slice.verdict(self.check, &values))
    }

    /// Where in a piece too narrow to prove the verdict is another, and which. A table has
    /// rows for values that people write, so such a value is tried before the piece's end.
    fn change(&self, from: f64, to: f64) -> Option<(f64, Option<Verdict>)> {
        let written = self.si(&self.form((to - from).signum()).print(to));
        let inside = Span::new(from, to).holds(written) && written != from;
        let tried = [Some(written).filter(|_| inside), Some(to)];
        let mut tried = tried.into_iter().flatten();
        tried.find_map(|value| {
            let then = self.verdict(value);
            (then != Some(self.is)).then_some((value, then))
        })
    }

    fn edge_at(&self, ends: [f64; 2], then: Option<Verdict>) -> Edge {
        Edge {
            si: ends[0],
            text: self.printed(ends),
            then,
            at_least: false,
        }
    }

    /// As the input is printed, but rounded back from where the search goes.
    fn form(&self, outward: f64) -> UnitFormat {
        let rounding = if outward > 0.0 {
            Rounding::Down
        } else {
            Rounding::Up
        };
        UnitFormat {
            rounding,
            ..self.format.main.clone()
        }
    }

    fn si(&self, shown: &RoundedQuantity) -> f64 {
        let main = &self.format.main;
        main.unit.to_si_as(shown.value, main.kind)
    }

    /// The last printable value at which the verdict holds; it changes between these ends.
    /// Where none lies between the edge and the value itself, the step is made finer.
    fn printed(&self, [near, far]: [f64; 2]) -> String {
        let outward = (far - near).signum();
        let mut form = self.form(outward);
        for _ in 0..MOST_REFINED {
            for end in [far, near] {
                let shown = form.print(end);
                let si = self.si(&shown);
                if (si - self.here) * outward >= 0.0 && self.verdict(si) == Some(self.is) {
                    return shown.text;
                }
            }
            if self.slice.moved.iter().any(|mover| mover.count) {
                break;
            }
            let Some(finer) = form.step.finer() else {
                break;
            };
            form.step = finer;
        }
        in_unit(self.here, &form.unit, form.kind)
    }
}
