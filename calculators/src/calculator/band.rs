//! What results and verdicts may be while what is assumed lies anywhere in its usual band.

use super::answer::{InputReading, Verdict};
use super::definition::{Calculator, Check};
use super::resolver::Resolver;
use super::spread::{Possibilities, Possible};
use super::state::State;
use crate::formula::Spread;
use crate::ground::Ground;
use crate::span::Span;

pub(super) struct Bands<'r> {
    calculator: &'r Calculator,
    inputs: Possibilities,
    known: Possibilities,
    resolver: &'r dyn Resolver,
}

impl<'r> Bands<'r> {
    /// None where nothing is assumed, which is most of the time.
    pub fn of(
        calculator: &'r Calculator,
        state: &State,
        inputs: &[InputReading],
        resolver: &'r dyn Resolver,
    ) -> Option<Bands<'r>> {
        let assumes = |input: &InputReading| input.footing.ground == Ground::Assumed;
        let wide = inputs
            .iter()
            .filter_map(|input| match input.band.or(input.span) {
                None if assumes(input) => Some((input.name.as_str(), None)),
                span => Some((input.name.as_str(), Some(span?))),
            });
        let any = inputs
            .iter()
            .any(|input| input.band.is_some() || assumes(input));
        any.then(|| Bands::over(calculator, state, wide, resolver))
    }

    /// With some inputs anywhere in a span; without one, anywhere at all.
    pub fn over<'n>(
        calculator: &'r Calculator,
        state: &State,
        wide: impl Iterator<Item = (&'n str, Option<Span>)>,
        resolver: &'r dyn Resolver,
    ) -> Bands<'r> {
        let sure = |spread| Possible::Known {
            spread,
            may_be_absent: false,
        };
        let values = state.values.iter();
        let mut inputs: Possibilities = values
            .filter(|(name, _)| calculator.input(name).is_some())
            .map(|(name, value)| (name.clone(), sure(Spread::of(value))))
            .collect();
        for (name, span) in wide {
            let possible = match span {
                Some(span) => sure(Spread::Number(span)),
                None => Possible::Unknown,
            };
            inputs.insert(name.to_string(), possible);
        }
        Bands {
            calculator,
            known: calculator.possibilities(inputs.clone(), resolver),
            inputs,
            resolver,
        }
    }

    pub fn span(&self, output: &str) -> Option<Span> {
        match self.known.get(output) {
            Some(Possible::Known {
                spread: Spread::Number(span),
                ..
            }) => Some(*span),
            _ => None,
        }
    }

    pub fn verdicts(&self, check: &Check) -> Vec<Verdict> {
        let inputs = self.inputs.clone();
        self.calculator.settled(inputs, check, self.resolver)
    }
}
