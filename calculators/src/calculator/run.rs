//! Evaluates a calculator for given inputs.

use super::answer::{
    Answer, InputReading, OutputReading, PrintedValue, Problem, ProblemKind, UnsetInput,
};
use super::argument::Argument;
use super::band::{Bands, Reach};
use super::definition::Calculator;
use super::leaf::Leaf;
use super::reading::{NoInput, Worth};
use super::resolver::Resolver;
use super::state::State;
use super::{judge, tolerance, working};
use crate::message::tell::problem as tell;
use crate::words::joined;
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
        let mut answer = Answer::of(&self.name);
        let mut state = State::default();
        self.unknown_names(given, &mut answer);
        for input in &self.inputs {
            let name = &input.field.name;
            let given = given.iter().rev().find(|given| given.name == *name);
            match input.reading(&self.name, given, resolver, &mut answer.doubts) {
                Ok((reading, value)) => {
                    let text = reading.reading.text().to_string();
                    answer.texts.insert(name.clone(), text);
                    state.put_input(name, value, reading.span, reading.footing.clone());
                    answer.inputs.push(reading);
                }
                Err(NoInput::Problem(problem)) => answer.problems.push(problem),
                Err(NoInput::Missing(footing)) => {
                    let weak = footing.weak.iter();
                    let needs: Vec<Leaf> = weak.map(|leaf| resolver.leaf(leaf)).collect();
                    answer.unset.push(UnsetInput {
                        name: name.clone(),
                        label: input.field.label.clone(),
                        from: input.lacks(&needs),
                        needs,
                    });
                    state.missing.insert(name.clone(), footing);
                }
            }
        }
        if answer.problems.is_empty() {
            self.work_out(resolver, &mut state, &mut answer, working);
        }
        if answer.problems.is_empty() {
            let reaches: Vec<Reach<'_>> = answer.inputs.iter().map(InputReading::reach).collect();
            let bands = Bands::of(self, &state, &reaches, resolver);
            for output in &mut answer.outputs {
                output.band = bands.as_ref().and_then(|bands| bands.span(&output.name));
                output.of = output.whose(resolver);
            }
            let result =
                |check| judge::result(self, check, &state, bands.as_ref(), &answer, resolver);
            answer.checks = self.checks.iter().map(result).collect();
            answer.values = state.values;
            tolerance::apply(self, resolver, &mut answer);
            self.cross_check(&mut answer, resolver);
        } else {
            answer.values = state.values;
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
                    Some(near) => tell::near(&near),
                    None => tell::inputs(&joined(&names, ", ")),
                };
                answer.problems.push(Problem {
                    input: given.name.clone(),
                    kind: ProblemKind::Unknown,
                    message: tell::no_input(&self.name, &given.name),
                    help: Some(help),
                });
            }
        }
    }

    fn work_out(
        &self,
        resolver: &dyn Resolver,
        state: &mut State,
        answer: &mut Answer,
        working: bool,
    ) {
        let mut readings: Vec<Option<OutputReading>> = vec![None; self.outputs.len()];
        for &at in &self.order {
            let output = &self.outputs[at];
            let reading = match output.worth(state, resolver) {
                (Worth::Fault(message), _) => {
                    answer.problems.push(Problem {
                        input: String::new(),
                        kind: ProblemKind::NoAnswer,
                        message: tell::no_result(&message, &output.label),
                        help: Some(tell::inputs_checked()),
                    });
                    return;
                }
                (Worth::Absent, footing) => {
                    state.absent.insert(output.name.clone(), footing.clone());
                    output.without_value(footing)
                }
                (Worth::Missing(_), footing) => {
                    state.missing.insert(output.name.clone(), footing.clone());
                    output.without_value(footing)
                }
                (Worth::Value(value), footing) => {
                    let reading = output.print(&value, footing.clone());
                    // An output that only repeats an input has nothing to show.
                    if working && self.input(&output.name).is_none() {
                        let known = state.known(resolver);
                        let line = working::line(self, output, &reading, &known, &answer.texts);
                        answer.working.push(line);
                    }
                    let text = reading.reading.as_ref().map_or("", PrintedValue::text);
                    answer.texts.insert(output.name.clone(), text.to_string());
                    state.put(&output.name, value, footing);
                    reading
                }
            };
            readings[at] = Some(reading);
        }
        answer.outputs = std::iter::zip(&self.outputs, readings)
            .filter(|(output, _)| !output.is_term)
            .filter_map(|(_, reading)| reading)
            .collect();
    }
}
