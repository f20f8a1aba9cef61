//! One calculator of the catalog worked out for one job, forwards and backwards.

use std::rc::Rc;

use super::{Catalog, Job};
use crate::calculator::{
    Answer, Argument, Limit, Problem, ProblemKind, Resolved, Resolver, Unresolved,
};
use crate::message::Message;
use crate::message::tell::problem as tell;
use crate::words::joined;
use gaugeleaf_finding::nearest;

impl Catalog {
    /// There is no calculator of this name, and which was meant.
    pub fn no_calculator(&self, name: &str) -> Message {
        let names = self.calculators.keys().map(String::as_str);
        match nearest(name, names) {
            Some(near) => tell::near_calculator(&name, &near),
            None => tell::no_calculator(&name),
        }
    }

    /// There is no input of this name.
    pub fn no_input(&self, name: &str) -> Message {
        tell::no_such_input(&name)
    }

    /// There is no measurement or rating of this name.
    pub fn no_quantity(&self, name: &str) -> Message {
        tell::no_quantity(&name)
    }

    /// Evaluates a calculator; `None` where there is none of this name.
    pub fn calculate(&self, name: &str, given: &[Argument], job: &Job) -> Option<Answer> {
        let resolver = self.resolver(job);
        let mut answer = self.calculators.get(name)?.run(given, &resolver);
        let mut contradicted = self.contradicted(&answer, &resolver);
        answer.checks.append(&mut contradicted);
        Some(answer)
    }

    /// How far an input may go before each check changes its verdict.
    ///
    /// # Errors
    /// Why the calculator gives no answer, or why the input has no limit.
    pub fn limits(
        &self,
        name: &str,
        input: &str,
        given: &[Argument],
        job: &Job,
    ) -> Result<Vec<Limit>, Problem> {
        let resolver = self.resolver(job);
        let problem = |kind, message, help| Problem {
            input: input.to_string(),
            kind,
            message,
            help,
        };
        let none = |message| problem(ProblemKind::NoAnswer, message, None);
        let calculator = self
            .calculators
            .get(name)
            .ok_or_else(|| none(tell::no_calculator(&name)))?;
        if calculator.input(input).is_none() {
            let names = calculator.input_names();
            let help = match nearest(input, names.iter().copied()) {
                Some(near) => tell::near(&near),
                None => tell::inputs(&joined(&names, ", ")),
            };
            return Err(problem(
                ProblemKind::Unknown,
                tell::no_input(&name, &input),
                Some(help),
            ));
        }
        if calculator.checks.is_empty() {
            return Err(none(tell::no_checks(&name)));
        }
        let answer = calculator.run(given, &resolver);
        if let Some(first) = answer.problems.first() {
            return Err(first.clone());
        }
        if !answer.unset.is_empty() {
            let message = tell::limit_not_known(&input, &answer.why_unset());
            let help = tell::given_first();
            return Err(problem(ProblemKind::NotKnown, message, Some(help)));
        }
        let limits = calculator.limits(input, &answer, &resolver);
        if limits.is_empty() {
            return Err(none(tell::limit_of_choice(&input)));
        }
        Ok(limits)
    }

    /// A measurement or rating, as this job has it.
    ///
    /// # Errors
    /// Why there is none.
    pub fn quantity(&self, name: &str, job: &Job) -> Option<Result<Resolved, Unresolved>> {
        self.named
            .contains_key(name)
            .then(|| self.resolver(job).resolve(name).map(Rc::unwrap_or_clone))
    }
}
