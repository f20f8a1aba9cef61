//! Evaluates a calculator for given inputs.

use super::answer::{Answer, CheckResult, OutputReading, Problem, ProblemKind, Verdict};
use super::argument::Argument;
use super::definition::{Calculator, Case, Check};
use super::resolver::{Known, Resolver};
use super::{tolerance, working};
use crate::formula::Value;
use crate::names::Names;
use gaugeleaf_finding::nearest;

impl Calculator {
    /// Evaluates for these inputs; the others come from the graph or from their
    /// own defaults. With any problem there is no result at all.
    pub fn run(&self, given: &[Argument], resolver: &dyn Resolver) -> Answer {
        self.worked(given, resolver, true)
    }

    /// The same without the working, which is most of the effort.
    pub(crate) fn brief(&self, resolver: &dyn Resolver) -> Answer {
        self.worked(&[], resolver, false)
    }

    fn worked(&self, given: &[Argument], resolver: &dyn Resolver, working: bool) -> Answer {
        let mut answer = Answer {
            calculator: self.name.clone(),
            inputs: Vec::new(),
            outputs: Vec::new(),
            checks: Vec::new(),
            working: Vec::new(),
            problems: Vec::new(),
            doubts: Vec::new(),
            values: Names::new(),
            texts: Names::new(),
        };
        self.unknown_names(given, &mut answer);
        for input in &self.inputs {
            let given = given
                .iter()
                .rev()
                .find(|given| given.name == input.field.name);
            match input.reading(given, resolver, &mut answer.doubts) {
                Ok((reading, value)) => {
                    answer.values.insert(input.field.name.clone(), value);
                    answer
                        .texts
                        .insert(input.field.name.clone(), reading.reading.text().to_string());
                    answer.inputs.push(reading);
                }
                Err(problem) => answer.problems.push(problem),
            }
        }
        if answer.problems.is_empty() {
            self.work_out(resolver, &mut answer, working);
        }
        if answer.problems.is_empty() {
            answer.checks = self
                .checks
                .iter()
                .map(|check| self.check_result(check, &answer, resolver))
                .collect();
            tolerance::apply(self, resolver, &mut answer);
        } else {
            answer.outputs.clear();
            answer.working.clear();
        }
        answer
    }

    fn unknown_names(&self, given: &[Argument], answer: &mut Answer) {
        for given in given {
            if self.input(&given.name).is_none() {
                let names = self.input_names();
                let help = match nearest(&given.name, names.iter().copied()) {
                    Some(near) => format!("did you mean {near}?"),
                    None => format!("the inputs are {}", names.join(", ")),
                };
                answer.problems.push(Problem {
                    input: given.name.clone(),
                    kind: ProblemKind::Unknown,
                    message: format!("`{}` is not an input of {}", given.name, self.name),
                    help: Some(help),
                });
            }
        }
    }

    fn work_out(&self, resolver: &dyn Resolver, answer: &mut Answer, working: bool) {
        let mut readings: Vec<Option<OutputReading>> = vec![None; self.outputs.len()];
        let mut lacking = false;
        for &at in &self.order {
            let output = &self.outputs[at];
            let known = Known {
                values: &answer.values,
                resolver,
            };
            match output.value(&known, lacking) {
                Err(message) => {
                    answer.problems.push(Problem {
                        input: String::new(),
                        kind: ProblemKind::NoAnswer,
                        message: format!("{} can't be worked out: {message}", output.label),
                        help: Some("check the inputs that it is worked out from".into()),
                    });
                    return;
                }
                Ok(None) => {
                    lacking = true;
                    readings[at] = Some(output.absent());
                }
                Ok(Some(value)) => {
                    let reading = output.print(&value);
                    // An output that only repeats an input has nothing to show.
                    if working && self.input(&output.name).is_none() {
                        let line = working::line(self, output, &reading, &known, &answer.texts);
                        answer.working.push(line);
                    }
                    answer
                        .texts
                        .insert(output.name.clone(), reading.text().to_string());
                    answer.values.insert(output.name.clone(), value);
                    readings[at] = Some(reading);
                }
            }
        }
        answer.outputs = std::iter::zip(&self.outputs, readings)
            .filter(|(output, _)| !output.is_term)
            .filter_map(|(_, reading)| reading)
            .collect();
    }
}

/// The first case that holds.
pub(super) fn case<'c>(check: &'c Check, known: &Known<'_>) -> Result<Option<&'c Case>, String> {
    for case in &check.cases {
        let holds = match &case.when {
            None => true,
            Some((formula, _)) => {
                formula.evaluate(known).map_err(|fault| fault.message)? == Value::Truth(true)
            }
        };
        if holds {
            return Ok(Some(case));
        }
    }
    Ok(None)
}

impl Calculator {
    /// A check that can't be evaluated is never taken for a go.
    fn check_result(&self, check: &Check, answer: &Answer, resolver: &dyn Resolver) -> CheckResult {
        let known = Known {
            values: &answer.values,
            resolver,
        };
        let (is, because) = match case(check, &known) {
            Ok(Some(case)) => (case.is, self.sentence(&case.because, answer)),
            Ok(None) => (Verdict::Stop, "No case of this check holds.".into()),
            Err(message) => (Verdict::Stop, format!("This can't be checked: {message}.")),
        };
        CheckResult {
            check: check.name.clone(),
            is,
            may_be: Vec::new(),
            because,
        }
    }
}
