//! What stands between some inputs and what is asked for: the results that hang on these
//! inputs and that the answer hangs on. Searches work these out alone, over and over; all
//! else keeps its value.

use super::answer::Verdict;
use super::definition::{Calculator, Check, Output};
use super::resolver::Resolver;
use super::spread::{Possibilities, Possible, verdicts};
use crate::formula::{Formula, Spread, TOLERANCE, Value, Values};
use crate::message::Message;
use crate::names::Names;
use crate::span::Span;

/// An input that moves.
#[derive(Clone, Copy)]
pub(super) struct Mover<'a> {
    pub name: &'a str,
    /// How far it may move.
    pub whole: Span,
    /// It comes in whole numbers.
    pub count: bool,
}

pub(super) struct Slice<'a> {
    pub calculator: &'a Calculator,
    resolver: &'a dyn Resolver,
    /// Those inputs alone that the answer hangs on.
    pub moved: Vec<Mover<'a>>,
    /// Indices into the calculator's outputs, in the order of evaluation.
    outputs: Vec<usize>,
    /// What they and the answer read besides, and which of it doesn't exist.
    values: Names<Value>,
    absent: Vec<&'a str>,
}

impl<'a> Slice<'a> {
    /// `values` hold for whatever doesn't move; what has none there doesn't exist.
    pub fn of(
        calculator: &'a Calculator,
        resolver: &'a dyn Resolver,
        movers: &[Mover<'a>],
        wanted: Vec<&'a str>,
        values: &Names<Value>,
    ) -> Slice<'a> {
        let read = calculator.behind(wanted.iter().copied());
        let (mut moved, mut hanging, mut direct) = (Vec::new(), Vec::new(), wanted);
        for mover in movers {
            if read.contains(&mover.name) {
                moved.push(*mover);
                hanging.push(mover.name);
            }
        }
        let mut outputs = Vec::new();
        for &at in &calculator.order {
            let output = &calculator.outputs[at];
            let reads: Vec<&str> = output.reads().collect();
            if read.contains(&output.name.as_str())
                && reads.iter().any(|name| hanging.contains(name))
            {
                hanging.push(&output.name);
                direct.extend(reads);
                outputs.push(at);
            }
        }
        let (mut kept, mut absent) = (Names::new(), Vec::new());
        for name in direct {
            if hanging.contains(&name) || calculator.name_type(name).is_none() {
                continue;
            }
            match values.get(name) {
                Some(value) => kept.insert(name.to_string(), value.clone()),
                None => absent.push(name),
            }
        }
        for (name, value) in tolerances(values) {
            kept.insert(name.clone(), value.clone());
        }
        Slice {
            calculator,
            resolver,
            moved,
            outputs,
            values: kept,
            absent,
        }
    }

    /// All that is read and worked out at one point; `None` where there is no answer.
    pub fn at(&self, point: &[f64]) -> Option<Names<Value>> {
        let mut values = self.values.clone();
        for (mover, value) in self.moved.iter().zip(point) {
            values.insert(mover.name.to_string(), Value::Number(*value));
        }
        let worked = work(self.calculator, &self.outputs, self.resolver, &mut values);
        worked.then_some(values)
    }

    /// What it may be with the inputs anywhere in these spans. A point isn't enclosed but
    /// worked out: rounding outward would leave doubt where there is none.
    pub fn over(&self, sides: &[Span]) -> Possibilities {
        let point = self.at_point(sides);
        let mut known = Possibilities::new();
        for name in &self.absent {
            known.insert(name.to_string(), Possible::Absent);
        }
        for (name, value) in point.as_ref().unwrap_or(&self.values).iter() {
            known.insert(name.clone(), Possible::sure(Spread::of(value)));
        }
        if point.is_some() {
            for &at in &self.outputs {
                let name = &self.calculator.outputs[at].name;
                if known.get(name).is_none() {
                    known.insert(name.clone(), Possible::Absent);
                }
            }
            return known;
        }
        for (mover, side) in self.moved.iter().zip(sides) {
            known.insert(
                mover.name.to_string(),
                Possible::sure(Spread::Number(*side)),
            );
        }
        let outputs = &self.outputs;
        self.calculator.enclosed(outputs, known, self.resolver)
    }

    /// The values where no span leaves a choice, and where there is an answer.
    fn at_point(&self, sides: &[Span]) -> Option<Names<Value>> {
        let mut point = Vec::new();
        for side in sides {
            if side.low != side.high {
                return None;
            }
            point.push(side.low);
        }
        self.at(&point)
    }

    /// A check's verdict among values that were worked out.
    pub fn verdict(&self, check: &Check, values: &Names<Value>) -> Verdict {
        let known = PlainValues {
            values,
            resolver: self.resolver,
        };
        for case in &check.cases {
            let holds = case.when.as_ref().map(|(when, _)| when.evaluate(&known));
            match holds {
                None | Some(Ok(Value::Truth(true))) => return case.is,
                Some(Ok(_)) => {}
                // as an answer has it: what can't be checked is never a go
                Some(Err(_)) => return Verdict::Stop,
            }
        }
        Verdict::Stop
    }

    /// The verdicts that a check may come to: one at a point that has an answer.
    pub fn verdicts(&self, check: &Check, sides: &[Span], known: &Possibilities) -> Vec<Verdict> {
        match self.at_point(sides) {
            Some(values) => vec![self.verdict(check, &values)],
            None => verdicts(check, known, self.resolver),
        }
    }
}

/// How far inputs may lie from what was told: that doesn't move with them.
pub(super) fn tolerances(values: &Names<Value>) -> impl Iterator<Item = (&String, &Value)> {
    values
        .iter()
        .filter(|(name, _)| name.starts_with(TOLERANCE))
}

/// Works results out, after those that they hang on. Whether there is an answer: every
/// formula has a value, or is known to have none.
fn work(
    calculator: &Calculator,
    outputs: &[usize],
    resolver: &dyn Resolver,
    values: &mut Names<Value>,
) -> bool {
    let mut worked = true;
    for &at in outputs {
        let output = &calculator.outputs[at];
        match plain_value(output, &PlainValues { values, resolver }) {
            Ok(Some(value)) => values.insert(output.name.clone(), value),
            Ok(None) => {}
            Err(()) => worked = false,
        }
    }
    worked
}

/// Values by name, whatever they stand on.
pub(super) struct PlainValues<'a> {
    pub values: &'a Names<Value>,
    pub resolver: &'a dyn Resolver,
}

impl Values for PlainValues<'_> {
    fn value(&self, name: &str) -> Option<Value> {
        self.values.get(name).cloned()
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, Message> {
        self.resolver.lookup(table, column, keys)
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, Message> {
        self.resolver.found(table, keys)
    }
}

/// A result; `None` where its condition doesn't hold, or where it reads one that isn't there.
fn plain_value(output: &Output, known: &PlainValues<'_>) -> Result<Option<Value>, ()> {
    let absent = |formula: &Formula| {
        let mut names = formula.names().into_iter();
        names.any(|name| name != "pi" && !known.values.contains_key(name))
    };
    if let Some((condition, _)) = &output.only_if
        && (absent(condition) || condition.evaluate(known).map_err(drop)? != Value::Truth(true))
    {
        return Ok(None);
    }
    if absent(&output.formula) {
        return Ok(None);
    }
    output.formula.evaluate(known).map(Some).map_err(drop)
}
