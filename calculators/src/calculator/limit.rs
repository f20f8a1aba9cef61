//! The other way round: how far an input may go before a verdict changes.
//!
//! The search walks away from the input's value over pieces in which interval
//! evaluation proves that the verdict stays, so no change in between is missed.

use super::answer::{Answer, Verdict};
use super::definition::{Calculator, Check};
use super::open;
use super::resolver::Resolver;
use super::slice::Slice;
use super::spread::verdicts;
use crate::field::{FieldKind, NumberFormat};
use crate::formula::Value;
use crate::quantity::{Rounding, UnitFormat};
use crate::span::Span;

/// The range of one input over which a check keeps its verdict.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    pub check: String,
    /// For whom it holds, where the other values are no more than examples: `For T1`.
    pub whom: Option<String>,
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
    pub fn line(&self, named: bool) -> String {
        let check = named.then_some(&self.check);
        let head: Vec<&str> = self.whom.iter().chain(check).map(String::as_str).collect();
        match head.as_slice() {
            [] => self.words(),
            _ => format!("{}: {}", head.join(", "), self.words()),
        }
    }

    /// `go up to 22 3/8 in, then caution`
    pub fn words(&self) -> String {
        let then = |edge: &Edge| match edge.then {
            Some(is) => is.word(),
            None if edge.at_least => "not worked out",
            None => "no result",
        };
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

/// How many pieces one search may look at.
const MOST_PIECES: usize = 400;

/// The finest piece, in steps of the input as printed.
const FINEST: f64 = 1.0 / 4096.0;

impl Calculator {
    /// For each check, how far an input may go. Empty for a choice, and where
    /// the answer has problems.
    pub fn limits(&self, input: &str, answer: &Answer, resolver: &dyn Resolver) -> Vec<Limit> {
        let Some(FieldKind::Number {
            format,
            least,
            most,
            ..
        }) = self.input(input).map(|input| &input.field.kind)
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
                let slice = Slice::of(self, check, input, answer);
                let edge = |end| {
                    let search = LimitSearch {
                        calculator: self,
                        check,
                        slice: slice.as_ref()?,
                        input,
                        resolver,
                        format,
                    };
                    search.edge(is, *here, end)
                };
                Some(Limit {
                    check: result.check.clone(),
                    whom: open::whom(&result.needs),
                    is,
                    low: edge(least),
                    high: edge(most),
                })
            })
            .collect()
    }
}

struct LimitSearch<'a> {
    calculator: &'a Calculator,
    check: &'a Check,
    slice: &'a Slice,
    input: &'a str,
    resolver: &'a dyn Resolver,
    format: &'a NumberFormat,
}

impl LimitSearch<'_> {
    /// The first place on the way to `end` at which the verdict changes.
    fn edge(&self, is: Verdict, here: f64, end: f64) -> Option<Edge> {
        let way = end - here;
        let count = self.format.main.unit.symbol == "count";
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
            let (from, to) = (here + at * way.signum(), here + next * way.signum());
            let holds = self.possible(Span::new(from, to)) == [is];
            if !holds && step > finest {
                step /= 2.0;
                held = false;
                continue;
            }
            if !holds {
                let beyond = self.possible(Span::point(to));
                if beyond != [is] {
                    let then = beyond.last().copied().filter(|_| beyond.len() < 3);
                    return Some(self.edge_at(is, [from, to], then));
                }
                // Too narrow to prove, but the verdict holds on the far side.
            }
            at = next;
            // Right after a piece that failed, the next of its size will most likely fail too.
            if held || !holds {
                step *= 2.0;
            }
            held = true;
        }
        let last = here + at * way.signum();
        Some(Edge {
            at_least: true,
            ..self.edge_at(is, [last, last + finest * way.signum()], None)
        })
    }

    fn edge_at(&self, is: Verdict, ends: [f64; 2], then: Option<Verdict>) -> Edge {
        Edge {
            si: ends[0],
            text: self.printed(is, ends),
            then,
            at_least: false,
        }
    }

    /// The last printable value at which the verdict holds; it changes between these ends.
    fn printed(&self, is: Verdict, [near, far]: [f64; 2]) -> String {
        let main = &self.format.main;
        let outward = (far - near).signum();
        let rounding = if outward > 0.0 {
            Rounding::Down
        } else {
            Rounding::Up
        };
        let form = UnitFormat {
            rounding,
            ..main.clone()
        };
        for end in [far, near] {
            let shown = form.print(end);
            let si = main.unit.to_si_as(shown.value, main.kind);
            if self.possible(Span::point(si)) == [is] {
                return shown.text;
            }
        }
        form.print(near - outward * main.one_step()).text
    }

    /// The verdicts that the check may come to over a span of the input.
    fn possible(&self, span: Span) -> Vec<Verdict> {
        let known = self.slice.over(self.input, span);
        let outputs = &self.slice.outputs;
        let known = self
            .calculator
            .possibilities_of(outputs, known, self.resolver);
        verdicts(self.check, &known, self.resolver)
    }
}
