//! A calculator's values and verdicts alone: what others count on, without a word
//! printed. An answer says the same and prints it; both take each value and each case
//! from the same formulas.

use super::answer::Verdict;
use super::band::{Bands, Reach};
use super::definition::{Calculator, CrossCheck};
use super::judge::judge;
use super::reading::{NoInput, Worth};
use super::resolver::Resolver;
use super::state::State;
use crate::formula::Value;
use crate::ground::{Footing, Ground};
use crate::names::Names;
use crate::span::Span;

/// What a calculator comes to for one job.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome<'c> {
    pub calculator: &'c Calculator,
    /// Inputs, terms and results, unrounded.
    pub values: Names<Value>,
    /// What each of them stands on: in step with `values`.
    pub footings: Vec<Footing>,
    /// What those results would stand on that nobody has given the inputs of.
    pub missing: Names<Footing>,
    /// Where results lie while what is assumed lies anywhere in its usual band.
    pub bands: Names<Span>,
    /// In the order of the checks; empty where nothing was worked out.
    pub verdicts: Vec<Verdict>,
    /// Some verdict hangs on a tolerance, or a value lies off a measurement of the same thing:
    /// the answer says what that comes to.
    pub unsettled: bool,
    /// Otherwise an input is refused or a formula has no value: the answer says which.
    pub worked: bool,
}

impl Outcome<'_> {
    /// What a value stands on, or would.
    pub fn footing(&self, name: &str) -> Option<&Footing> {
        match self.values.position(name) {
            Some(at) => self.footings.get(at),
            None => self.missing.get(name),
        }
    }

    /// The verdicts on the job itself, standing rules aside.
    pub fn of_job(&self) -> impl Iterator<Item = Verdict> {
        let checks = std::iter::zip(&self.calculator.checks, &self.verdicts);
        checks
            .filter(|(check, _)| !check.standing)
            .map(|(_, is)| *is)
    }
}

impl Calculator {
    pub(crate) fn outcome(&self, resolver: &dyn Resolver) -> Outcome<'_> {
        let mut state = State::default();
        let mut reaches: Vec<Reach<'_>> = Vec::new();
        let mut worked = true;
        for input in &self.inputs {
            let name = &input.field.name;
            match input.resolved(&self.name, None, resolver, &mut Vec::new()) {
                Ok(resolved) => {
                    let typed = input.field.span_of(&resolved.entry);
                    reaches.push(Reach {
                        input: name,
                        assumed: resolved.footing.ground == Ground::Assumed,
                        band: resolved.band,
                        typed,
                    });
                    let footing = resolved.footing.clone();
                    state.put_input(name, resolved.entry.value(), typed, footing);
                }
                Err(NoInput::Problem(_)) => worked = false,
                Err(NoInput::Missing(footing)) => state.missing.insert(name.clone(), footing),
            }
        }
        worked = worked && self.work_out_values(resolver, &mut state);
        let mut bands = None;
        let mut verdicts = Vec::new();
        if worked {
            bands = Bands::of(self, &state, &reaches, resolver);
            let is = |check| judge(self, check, &state, bands.as_ref(), resolver).is;
            verdicts = self.checks.iter().map(is).collect();
        }
        let span = |name: &String| Some((name.clone(), bands.as_ref()?.span(name)?));
        let bands = self.outputs.iter().filter_map(|output| span(&output.name));
        let bands = bands.collect();
        let apart = |cross: &CrossCheck| {
            let own = state.footing(&cross.value.value);
            own.is_some_and(|own| own.ground.bears())
                && cross.measured(resolver).is_some_and(|typed| {
                    let point = Span::point(typed.si);
                    cross.apart(None, point, &state.values, resolver) != Ok(false)
                })
        };
        let unsettled = worked && (state.spread || self.cross_checks.iter().any(apart));
        Outcome {
            calculator: self,
            values: state.values,
            footings: state.footings,
            missing: state.missing,
            bands,
            verdicts,
            unsettled,
            worked,
        }
    }

    /// Whether every formula has a value or is known to have none.
    fn work_out_values(&self, resolver: &dyn Resolver, state: &mut State) -> bool {
        for &at in &self.order {
            let output = &self.outputs[at];
            match output.worth(state, resolver) {
                (Worth::Value(value), footing) => state.put(&output.name, value, footing),
                (Worth::Absent, footing) => state.absent.insert(output.name.clone(), footing),
                (Worth::Missing(footing), _) => state.missing.insert(output.name.clone(), footing),
                (Worth::Fault(_), _) => return false,
            }
        }
        true
    }
}
