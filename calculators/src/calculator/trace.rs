//! One point of a plot: an output for another value of one input, without the texts.

use super::answer::{Answer, Is};
use super::definition::Calculator;
use super::run::case;
use super::supply::{Known, Supply};
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
        supply: &dyn Supply,
    ) -> (Option<f64>, Option<Is>) {
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
                supply,
            };
            match output.value(&known, lacking) {
                Ok(Some(value)) => values.insert(output.name.clone(), value),
                _ => lacking = true,
            }
        }
        let known = Known {
            values: &values,
            supply,
        };
        let is = |check| match case(check, &known) {
            Ok(Some(case)) => case.is,
            _ => Is::Stop,
        };
        let found = match values.get(output) {
            Some(Value::Number(found)) if found.is_finite() => Some(*found),
            _ => None,
        };
        (found, self.checks.iter().map(is).max())
    }
}
