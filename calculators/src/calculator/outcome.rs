//! A calculator's values and verdicts alone: what others count on, without a word
//! printed. An answer says the same and prints it; both take each value and each case
//! from the same formulas.

use super::answer::Verdict;
use super::definition::Calculator;
use super::resolver::{Known, Resolver};
use super::run::case;
use crate::formula::Value;
use crate::names::Names;

/// What a calculator comes to for one job.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome<'c> {
    pub calculator: &'c Calculator,
    /// Inputs, terms and results, unrounded.
    pub values: Names<Value>,
    /// In the order of the checks; empty where nothing was worked out.
    pub verdicts: Vec<Verdict>,
    /// Otherwise an input is refused or a formula has no value: the answer says which.
    pub worked: bool,
}

impl Calculator {
    pub(crate) fn outcome(&self, resolver: &dyn Resolver) -> Outcome<'_> {
        let mut outcome = Outcome {
            calculator: self,
            values: Names::new(),
            verdicts: Vec::new(),
            worked: true,
        };
        for input in &self.inputs {
            match input.resolved(None, resolver, &mut Vec::new()) {
                Ok(resolved) => {
                    let value = resolved.entry.value();
                    outcome.values.insert(input.field.name.clone(), value);
                }
                Err(_) => outcome.worked = false,
            }
        }
        if outcome.worked {
            outcome.worked = self.work_out_values(resolver, &mut outcome.values);
        }
        if outcome.worked {
            let known = Known {
                values: &outcome.values,
                resolver,
            };
            let verdict = |check| match case(check, &known) {
                Ok(Some(case)) => case.is,
                // as an answer has it: what can't be checked is never a go
                Ok(None) | Err(_) => Verdict::Stop,
            };
            outcome.verdicts = self.checks.iter().map(verdict).collect();
        }
        outcome
    }

    /// Whether every formula has a value or is known to have none.
    fn work_out_values(&self, resolver: &dyn Resolver, values: &mut Names<Value>) -> bool {
        let mut lacking = false;
        for &at in &self.order {
            let output = &self.outputs[at];
            match output.value(&Known { values, resolver }, lacking) {
                Ok(Some(value)) => values.insert(output.name.clone(), value),
                Ok(None) => lacking = true,
                Err(_) => return false,
            }
        }
        true
    }
}
