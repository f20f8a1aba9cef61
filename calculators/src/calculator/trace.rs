//! One point of a plot: an output for another value of one input, without the texts.

use super::answer::{Answer, Verdict};
use super::definition::Calculator;
use super::resolver::{Known, Resolver};
use super::run::case;
use crate::formula::Value;
use crate::names::Names;

impl Calculator {
    /// An output and the worst verdict, with one of the answer's inputs at another value.
    pub(crate) fn at(
        &self,
        answer: &Answer,
        over: &str,
        value: f64,
        output: &str,
        resolver: &dyn Resolver,
    ) -> (Option<f64>, Option<Verdict>) {
        let mut values = Names::new();
        for input in &answer.inputs {
            if let Some(value) = answer.values.get(&input.name) {
                values.insert(input.name.clone(), value.clone());
            }
        }
        values.insert(over.to_string(), Value::Number(value));
        let mut lacking = false;
        for &at in &self.order {
            let output = &self.outputs[at];
            let known = Known {
                values: &values,
                resolver,
            };
            match output.value(&known, lacking) {
                Ok(Some(value)) => values.insert(output.name.clone(), value),
                _ => lacking = true,
            }
        }
        let known = Known {
            values: &values,
            resolver,
        };
        let is = |check| match case(check, &known) {
            Ok(Some(case)) => case.is,
            _ => Verdict::Stop,
        };
        let found = match values.get(output) {
            Some(Value::Number(found)) if found.is_finite() => Some(*found),
            _ => None,
        };
        (found, self.checks.iter().map(is).max())
    }
}
