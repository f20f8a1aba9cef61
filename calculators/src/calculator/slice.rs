//! What stands between some inputs and what is asked for: the results that hang on these
//! inputs and that the answer hangs on. Searches work these out alone, over and over; all
//! else keeps its value.

use super::answer::Verdict;
use super::definition::{Calculator, Check, Output};
use super::resolver::{Known, Resolver};
use super::run::case;
use super::spread::{Possibilities, Possible, verdicts};
use crate::formula::{Spread, Value};
use crate::names::Names;

pub(super) struct Slice<'a> {
    pub calculator: &'a Calculator,
    pub resolver: &'a dyn Resolver,
    /// The inputs that move, those alone that the answer hangs on.
    pub moved: Vec<&'a str>,
    /// Indices into the calculator's outputs, in the order of evaluation.
    outputs: Vec<usize>,
    /// What they and the answer read besides, as values and as what is possible.
    values: Names<Value>,
    fixed: Possibilities,
}

impl<'a> Slice<'a> {
    /// `values` hold for whatever doesn't move; what has none there doesn't exist.
    pub fn of(
        calculator: &'a Calculator,
        resolver: &'a dyn Resolver,
        mut moved: Vec<&'a str>,
        wanted: Vec<&'a str>,
        values: &Names<Value>,
    ) -> Slice<'a> {
        let read = behind(calculator, wanted.clone());
        moved.retain(|name| read.contains(name));
        let (mut hanging, mut direct) = (moved.clone(), wanted);
        let mut outputs = Vec::new();
        for &at in &calculator.order {
            let output = &calculator.outputs[at];
            let reads = reads(output);
            if read.contains(&output.name.as_str())
                && reads.iter().any(|name| hanging.contains(name))
            {
                hanging.push(&output.name);
                direct.extend(reads);
                outputs.push(at);
            }
        }
        let (mut kept, mut fixed) = (Names::new(), Possibilities::new());
        for name in direct {
            if hanging.contains(&name) || calculator.name_type(name).is_none() {
                continue;
            }
            let value = values.get(name);
            if let Some(value) = value {
                kept.insert(name.to_string(), value.clone());
            }
            fixed.insert(name.to_string(), sure(value.map(Spread::of)));
        }
        Slice {
            calculator,
            resolver,
            moved,
            outputs,
            values: kept,
            fixed,
        }
    }

    /// All that is read and worked out at one point; `None` where there is no answer.
    pub fn at(&self, point: &[Value]) -> Option<Names<Value>> {
        let mut values = self.values.clone();
        let moved = self.moved.iter().map(|name| name.to_string());
        values.extend(std::iter::zip(moved, point.iter().cloned()));
        let worked = work(self.calculator, &self.outputs, self.resolver, &mut values);
        worked.then_some(values)
    }

    /// What it may be with the inputs anywhere in these spreads. A point isn't enclosed but
    /// worked out: rounding outward would leave doubt where there is none.
    pub fn over(&self, sides: &[Spread]) -> Possibilities {
        let mut known = self.fixed.clone();
        let moved = std::iter::zip(&self.moved, sides);
        known.extend(moved.map(|(name, side)| (name.to_string(), sure(Some(side.clone())))));
        let Some(point) = point(sides) else {
            let outputs = &self.outputs;
            return self.calculator.enclosed(outputs, known, self.resolver);
        };
        let values = self.at(&point);
        for &at in &self.outputs {
            let name = &self.calculator.outputs[at].name;
            let possible = match &values {
                Some(values) => sure(values.get(name).map(Spread::of)),
                None => Possible::Unknown,
            };
            known.insert(name.clone(), possible);
        }
        known
    }

    /// A check's verdict among values that were worked out.
    pub fn verdict(&self, check: &Check, values: &Names<Value>) -> Verdict {
        let resolver = self.resolver;
        match case(check, &Known { values, resolver }) {
            Ok(Some(case)) => case.is,
            // as an answer has it: what can't be checked is never a go
            Ok(None) | Err(_) => Verdict::Stop,
        }
    }

    /// The verdicts that a check may come to: one at a point that has an answer.
    pub fn verdicts(&self, check: &Check, sides: &[Spread], known: &Possibilities) -> Vec<Verdict> {
        match point(sides).and_then(|point| self.at(&point)) {
            Some(values) => vec![self.verdict(check, &values)],
            None => verdicts(check, known, self.resolver),
        }
    }
}

/// Works results out, after those that they hang on. Whether there is an answer: every
/// formula has a value, or is known to have none.
pub(super) fn work(
    calculator: &Calculator,
    outputs: &[usize],
    resolver: &dyn Resolver,
    values: &mut Names<Value>,
) -> bool {
    let mut worked = true;
    for &at in outputs {
        let output = &calculator.outputs[at];
        match output.value(&Known { values, resolver }, true) {
            Ok(Some(value)) => values.insert(output.name.clone(), value),
            Ok(None) => {}
            Err(_) => worked = false,
        }
    }
    worked
}

/// The values where no spread leaves a choice.
fn point(sides: &[Spread]) -> Option<Vec<Value>> {
    sides.iter().map(Spread::only).collect()
}

/// What a check reads.
pub(super) fn conditions(check: &Check) -> Vec<&str> {
    let cases = check.cases.iter().filter_map(|case| case.when.as_ref());
    cases.flat_map(|(condition, _)| condition.names()).collect()
}

/// All that these names are worked out from, and they themselves.
pub(super) fn behind<'a>(calculator: &'a Calculator, mut names: Vec<&'a str>) -> Vec<&'a str> {
    for &at in calculator.order.iter().rev() {
        let output = &calculator.outputs[at];
        if names.contains(&output.name.as_str()) {
            names.extend(reads(output));
        }
    }
    names
}

fn sure(spread: Option<Spread>) -> Possible {
    spread.map_or(Possible::Absent, |spread| Possible::Known {
        spread,
        may_be_absent: false,
    })
}

fn reads(output: &Output) -> Vec<&str> {
    let only_if = output.only_if.iter();
    let mut names = output.formula.names();
    names.extend(only_if.flat_map(|(condition, _)| condition.names()));
    names
}
