//! One calculator of the catalog worked out for one job, forwards and backwards.

use std::rc::Rc;

use super::{Catalog, Job};
use crate::calculator::{
    Answer, Argument, Limit, Problem, ProblemKind, Resolved, Resolver, Unresolved,
};
use crate::words::joined;
use gaugeleaf_finding::nearest;

impl Catalog {
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
        let problem = |kind, message: String, help: Option<String>| Problem {
            input: input.to_string(),
            kind,
            message,
            help,
        };
        let none = |message: String| problem(ProblemKind::NoAnswer, message, None);
        let calculator = self
            .calculators
            .get(name)
            .ok_or_else(|| none(format!("there is no calculator `{name}`")))?;
        if calculator.input(input).is_none() {
            let names = calculator.input_names();
            let help =
                nearest(input, names.iter().copied()).map(|near| format!("did you mean {near}?"));
            let help = help.unwrap_or_else(|| format!("the inputs are {}", joined(&names, ", ")));
            return Err(problem(
                ProblemKind::Unknown,
                format!("`{input}` is not an input of {name}"),
                Some(help),
            ));
        }
        if calculator.checks.is_empty() {
            return Err(none(format!(
                "{name} checks nothing, so no input has a limit"
            )));
        }
        let answer = calculator.run(given, &resolver);
        if let Some(first) = answer.problems.first() {
            return Err(first.clone());
        }
        if !answer.unset.is_empty() {
            let message = format!(
                "how far `{input}` may go is not known. {}",
                answer.why_unset()
            );
            let help = "give these first: a limit hangs on them".to_string();
            return Err(problem(ProblemKind::NotKnown, message, Some(help)));
        }
        let limits = calculator.limits(input, &answer, &resolver);
        if limits.is_empty() {
            return Err(none(format!("`{input}` is a choice, so it has no limit")));
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
