//! What results and verdicts may be while what is assumed lies anywhere in its usual band.

use std::cell::OnceCell;

use super::answer::Verdict;
use super::definition::{Calculator, Check};
use super::resolver::Resolver;
use super::spread::{Possibilities, Possible};
use super::state::State;
use crate::formula::{Spread, Value};
use crate::names::Names;
use crate::span::Span;

/// How far one input may lie from its value.
pub(super) struct Reach<'n> {
    pub input: &'n str,
    /// It hangs on something assumed, and on nothing weaker.
    pub assumed: bool,
    /// Where it may lie while that lies anywhere in its usual band.
    pub band: Option<Span>,
    /// Where it may lie with the tolerance that was typed.
    pub typed: Option<Span>,
}

pub(super) struct Bands<'r> {
    calculator: &'r Calculator,
    inputs: Possibilities,
    /// What holds at the usual values themselves.
    values: &'r Names<Value>,
    /// Worked out once somebody asks for it; none where no other calculator takes a result.
    known: OnceCell<Option<Possibilities>>,
    resolver: &'r dyn Resolver,
}

impl<'r> Bands<'r> {
    /// None where nothing is assumed, which is most of the time.
    pub fn of(
        calculator: &'r Calculator,
        state: &'r State,
        reaches: &[Reach<'_>],
        resolver: &'r dyn Resolver,
    ) -> Option<Bands<'r>> {
        if !reaches.iter().any(|one| one.assumed || one.band.is_some()) {
            return None;
        }
        let mut inputs = Possibilities::new();
        for reach in reaches {
            let possible = match (reach.band.or(reach.typed), state.values.get(reach.input)) {
                (Some(span), _) => Possible::sure(Spread::Number(span)),
                (None, Some(value)) if !reach.assumed => Possible::sure(Spread::of(value)),
                // assumed, and nobody knows how far it may lie
                _ => Possible::Unknown,
            };
            inputs.insert(reach.input.to_string(), possible);
        }
        Some(Bands {
            calculator,
            known: OnceCell::new(),
            inputs,
            values: &state.values,
            resolver,
        })
    }

    /// Of a result that another calculator takes; nobody else asks for it.
    pub fn span(&self, output: &str) -> Option<Span> {
        let known = || {
            let taken = self.resolver.is_taken(&self.calculator.name);
            taken.then(|| {
                let inputs = self.inputs.clone();
                self.calculator
                    .possibilities(inputs, self.values, self.resolver)
            })
        };
        match self.known.get_or_init(known).as_ref()?.get(output) {
            // one that may be absent somewhere in the band has no span to stand on
            Some(Possible::Known {
                spread: Spread::Number(span),
                may_be_absent: false,
            }) => Some(*span),
            _ => None,
        }
    }

    pub fn verdicts(&self, check: &Check) -> Vec<Verdict> {
        let inputs = self.inputs.clone();
        self.calculator
            .settled(inputs, self.values, check, self.resolver)
    }
}
