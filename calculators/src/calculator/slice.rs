//! What stands between one input and one check: the results that hang on the input and
//! that the check hangs on. A search for a limit encloses these alone, over and over;
//! all else keeps the answer's value.

use super::answer::Answer;
use super::definition::{Calculator, Check, Output};
use super::spread::{Possibilities, Possible};
use crate::formula::Spread;
use crate::span::Span;

pub(super) struct Slice {
    /// Indices into the calculator's outputs, in the order of evaluation.
    pub outputs: Vec<usize>,
    /// What they and the check read besides.
    fixed: Possibilities,
}

impl Slice {
    /// None where the check doesn't hang on the input.
    pub fn of(
        calculator: &Calculator,
        check: &Check,
        input: &str,
        answer: &Answer,
    ) -> Option<Slice> {
        let mut read: Vec<&str> = check
            .cases
            .iter()
            .filter_map(|case| case.when.as_ref())
            .flat_map(|(condition, _)| condition.names())
            .collect();
        let mut moved = vec![input];
        for &at in &calculator.order {
            let output = &calculator.outputs[at];
            if reads(output).iter().any(|name| moved.contains(name)) {
                moved.push(&output.name);
            }
        }
        if !read.iter().any(|name| moved.contains(name)) {
            return None;
        }
        let mut outputs = Vec::new();
        for &at in calculator.order.iter().rev() {
            let output = &calculator.outputs[at];
            let name = output.name.as_str();
            if read.contains(&name) && reads(output).iter().any(|name| moved.contains(name)) {
                outputs.push(at);
                read.extend(reads(output));
            }
        }
        outputs.reverse();
        let between = |name: &str| {
            outputs
                .iter()
                .any(|at| calculator.outputs[*at].name == name)
        };
        let fixed = read
            .iter()
            .filter(|name| {
                **name != input && !between(name) && calculator.name_type(name).is_some()
            })
            .map(|name| {
                let possible = match answer.values.get(name) {
                    Some(value) => sure(Spread::of(value)),
                    None => Possible::Absent,
                };
                (name.to_string(), possible)
            })
            .collect();
        Some(Slice { outputs, fixed })
    }

    /// All that the slice's results and the check read, with the input anywhere in a span.
    pub fn over(&self, input: &str, span: Span) -> Possibilities {
        let mut known = self.fixed.clone();
        known.insert(input.to_string(), sure(Spread::Number(span)));
        known
    }
}

fn sure(spread: Spread) -> Possible {
    Possible::Known {
        spread,
        may_be_absent: false,
    }
}

fn reads(output: &Output) -> Vec<&str> {
    let only_if = output.only_if.iter();
    let mut names = output.formula.names();
    names.extend(only_if.flat_map(|(condition, _)| condition.names()));
    names
}
