//! Evaluates a calculator for given inputs.

use super::answer::{
    Answer, InputReading, InputSource, Is, OutputReading, Problem, Reading, Verdict,
};
use super::definition::{Calculator, Case, Check, Input, Output, OutputKind};
use super::given::Given;
use super::{tolerance, working};
use crate::field::{Entry, FieldKind, Refusal};
use crate::finding::nearest;
use crate::formula::{Formula, Value, Values};
use crate::names::Names;
use crate::quantity::in_unit;

/// A value that came along the graph.
#[derive(Debug, Clone, PartialEq)]
pub struct Supplied {
    pub entry: Entry,
    pub source: InputSource,
}

/// What the graph gives a calculator: inputs that nobody typed, and tables.
pub trait Supply {
    /// The value of a measurement, a rating or another calculator's output.
    ///
    /// # Errors
    /// Why there is none.
    fn supply(&self, from: &str) -> Result<Supplied, Problem>;
    /// A table's entry.
    ///
    /// # Errors
    /// Says that no row fits.
    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String>;
    /// Whether a table has such a row.
    ///
    /// # Errors
    /// Says that there is no such table.
    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, String>;
}

pub(super) struct Known<'a> {
    pub values: &'a Names<Value>,
    pub supply: &'a dyn Supply,
    /// Whether a result so far doesn't exist, so that a formula's name may have no value.
    pub lacking: bool,
}

impl Values for Known<'_> {
    fn value(&self, name: &str) -> Option<Value> {
        self.values.get(name).cloned()
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String> {
        self.supply.lookup(table, column, keys)
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, String> {
        self.supply.found(table, keys)
    }
}

impl Calculator {
    /// Evaluates for these inputs; the others come from the graph or from their
    /// own defaults. With any problem there is no result at all.
    pub fn run(&self, given: &[Given], supply: &dyn Supply) -> Answer {
        self.worked(given, supply, true)
    }

    /// The same without the working, which is most of the effort.
    pub(crate) fn brief(&self, supply: &dyn Supply) -> Answer {
        self.worked(&[], supply, false)
    }

    fn worked(&self, given: &[Given], supply: &dyn Supply, working: bool) -> Answer {
        let mut answer = Answer {
            calculator: self.name.clone(),
            inputs: Vec::new(),
            outputs: Vec::new(),
            verdicts: Vec::new(),
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
            match input.reading(given, supply, &mut answer.doubts) {
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
            self.work_out(supply, &mut answer, working);
        }
        if answer.problems.is_empty() {
            answer.verdicts = self
                .checks
                .iter()
                .map(|check| verdict(check, &answer, supply))
                .collect();
            tolerance::apply(self, supply, &mut answer);
        } else {
            answer.outputs.clear();
            answer.working.clear();
        }
        answer
    }

    fn unknown_names(&self, given: &[Given], answer: &mut Answer) {
        for given in given {
            if self.input(&given.name).is_none() {
                let names = self.input_names();
                let help = match nearest(&given.name, names.iter().copied()) {
                    Some(near) => format!("did you mean {near}?"),
                    None => format!("the inputs are {}", names.join(", ")),
                };
                answer.problems.push(Problem {
                    input: given.name.clone(),
                    message: format!("`{}` is not an input of {}", given.name, self.name),
                    help: Some(help),
                    doubtful: false,
                });
            }
        }
    }

    fn work_out(&self, supply: &dyn Supply, answer: &mut Answer, working: bool) {
        let mut readings: Vec<Option<OutputReading>> = vec![None; self.outputs.len()];
        let mut lacking = false;
        for &at in &self.order {
            let output = &self.outputs[at];
            let known = Known {
                values: &answer.values,
                supply,
                lacking,
            };
            match output.value(&known) {
                Err(message) => {
                    answer.problems.push(Problem {
                        input: String::new(),
                        message: format!("{} can't be worked out: {message}", output.label),
                        help: Some("check the inputs that it is worked out from".into()),
                        doubtful: false,
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

impl Input {
    fn reading(
        &self,
        given: Option<&Given>,
        supply: &dyn Supply,
        doubts: &mut Vec<Problem>,
    ) -> Result<(InputReading, Value), Problem> {
        let supplied = self.supplied(given, supply, doubts)?;
        let value = supplied.entry.value();
        Ok((self.shown(supplied), value))
    }

    /// The input's value: typed, else from the graph, else its default.
    pub(super) fn supplied(
        &self,
        given: Option<&Given>,
        supply: &dyn Supply,
        doubts: &mut Vec<Problem>,
    ) -> Result<Supplied, Problem> {
        let refused = |refusal: Refusal| Problem {
            input: self.field.name.clone(),
            message: refusal.message,
            help: refusal.help,
            doubtful: refusal.doubtful,
        };
        match (given, &self.from, &self.default) {
            (Some(given), _, _) => {
                if given.confirmed
                    && let Err(refusal) = self.field.take(&given.text, given.unit.as_deref(), false)
                    && refusal.doubtful
                {
                    doubts.push(refused(refusal));
                }
                let entry = self
                    .field
                    .take(&given.text, given.unit.as_deref(), given.confirmed)
                    .map_err(refused)?;
                Ok(Supplied {
                    entry,
                    source: InputSource::Typed,
                })
            }
            (None, Some(from), _) => {
                let supplied = supply.supply(&from.text).map_err(|problem| Problem {
                    input: self.field.name.clone(),
                    ..problem
                })?;
                self.field.accepts(&supplied.entry).map_err(refused)?;
                Ok(supplied)
            }
            (None, None, default) => {
                let text = default.as_ref().map_or("", |default| default.text.as_str());
                let entry = self.field.take(text, None, true).map_err(refused)?;
                Ok(Supplied {
                    entry,
                    source: InputSource::Default,
                })
            }
        }
    }

    fn shown(&self, supplied: Supplied) -> InputReading {
        let span = match &supplied.entry {
            Entry::Number(typed) => typed.span.map(|span| self.field.possible(span)),
            Entry::Choice(_) => None,
        };
        let (reading, understood) = match (&supplied.entry, &self.field.kind) {
            // Nobody typed it: printed as its own calculator would.
            (Entry::Number(typed), FieldKind::Number { face, .. })
                if matches!(supplied.source, InputSource::Output(_)) =>
            {
                let printed = face.print(typed.si);
                let understood = match &printed.also {
                    Some(also) => format!("{} = {also}", printed.text),
                    None => printed.text.clone(),
                };
                (Reading::Number(printed), understood)
            }
            (Entry::Number(typed), FieldKind::Number { face, .. }) => {
                (Reading::Number(face.echo(typed)), face.understood(typed))
            }
            (Entry::Choice(choice), _) => {
                let label = choice.label.clone();
                (
                    Reading::Choice {
                        name: choice.name.clone(),
                        label: label.clone(),
                    },
                    label,
                )
            }
            (Entry::Number(typed), FieldKind::Choice(_)) => {
                let text = in_unit(typed.si, &typed.unit, typed.unit.natural_kind());
                (
                    Reading::Choice {
                        name: text.clone(),
                        label: text.clone(),
                    },
                    text,
                )
            }
        };
        InputReading {
            name: self.field.name.clone(),
            label: self.field.label.clone(),
            reading,
            understood,
            source: supplied.source,
            span,
        }
    }
}

impl Output {
    /// The value; `None` where its condition doesn't hold, or where it needs a
    /// result that isn't there.
    pub(super) fn value(&self, known: &Known<'_>) -> Result<Option<Value>, String> {
        let absent = |formula: &Formula| {
            let lacks = |name: &str| name != "pi" && !known.values.contains_key(name);
            known.lacking && formula.names().into_iter().any(lacks)
        };
        if let Some((condition, _)) = &self.only_if {
            if absent(condition) {
                return Ok(None);
            }
            if condition.evaluate(known).map_err(|fault| fault.message)? != Value::Truth(true) {
                return Ok(None);
            }
        }
        if absent(&self.formula) {
            return Ok(None);
        }
        self.formula
            .evaluate(known)
            .map(Some)
            .map_err(|fault| fault.message)
    }

    fn absent(&self) -> OutputReading {
        OutputReading {
            name: self.name.clone(),
            label: self.label.clone(),
            reading: None,
            rounded: String::new(),
            span: None,
        }
    }

    fn print(&self, value: &Value) -> OutputReading {
        let (reading, rounded) = match (value, &self.kind) {
            (Value::Number(si), OutputKind::Number(face)) => (
                Some(Reading::Number(face.print(*si))),
                face.main.rounding_words(),
            ),
            (Value::Choice(name), OutputKind::Choice(choices)) => {
                let label = choices
                    .iter()
                    .find(|choice| choice.name == *name)
                    .map_or(name, |choice| &choice.label);
                (
                    Some(Reading::Choice {
                        name: name.clone(),
                        label: label.clone(),
                    }),
                    String::new(),
                )
            }
            _ => (None, String::new()),
        };
        OutputReading {
            name: self.name.clone(),
            label: self.label.clone(),
            reading,
            rounded,
            span: None,
        }
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

/// A check that can't be evaluated is never taken for a go.
fn verdict(check: &Check, answer: &Answer, supply: &dyn Supply) -> Verdict {
    let known = Known {
        values: &answer.values,
        supply,
        lacking: true,
    };
    let text = |name: &str| match answer.texts.get(name) {
        Some(text) => text.clone(),
        None => "none".into(),
    };
    let (is, because) = match case(check, &known) {
        Ok(Some(case)) => (case.is, case.because.fill(text)),
        Ok(None) => (Is::Stop, "No case of this check holds.".into()),
        Err(message) => (Is::Stop, format!("This can't be checked: {message}.")),
    };
    Verdict {
        check: check.name.clone(),
        is,
        may_be: Vec::new(),
        because,
    }
}
