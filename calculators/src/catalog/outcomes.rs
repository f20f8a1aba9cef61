//! The whole graph in numbers alone: each calculator once, each measurement and rating
//! read once, and nothing printed. For whoever counts verdicts; the setup sheet prints
//! the same values.

use crate::message::Message;
use std::cell::RefCell;
use std::rc::Rc;

use super::resolver::JobResolver;
use super::{Catalog, Job};
use crate::calculator::{
    InputSource, Leaf, Outcome, OutputKind, Problem, ProblemKind, Resolved, Resolver, Unresolved,
    Verdict,
};
use crate::field::{Choice, Entry};
use crate::formula::Value;
use crate::ground::Ground;
use crate::quantity::Typed;

type NamedValue = Result<Rc<Resolved>, Unresolved>;

struct NumberResolver<'j, 'c> {
    job: JobResolver<'j>,
    /// Measurements and ratings already read, by their place in the catalog.
    named: RefCell<Vec<Option<NamedValue>>>,
    /// Those that others may take from.
    done: RefCell<Vec<Outcome<'c>>>,
}

impl Catalog {
    /// What each calculator comes to for a job, after those whose results it takes.
    pub fn outcomes(&self, job: &Job) -> Vec<Outcome<'_>> {
        let resolver = NumberResolver {
            job: self.resolver(job),
            named: RefCell::new(vec![None; self.named.len()]),
            done: RefCell::default(),
        };
        for calculator in self.graph_order() {
            let outcome = calculator.outcome(&resolver);
            resolver.done.borrow_mut().push(outcome);
        }
        resolver.done.into_inner()
    }

    /// The worst verdict of a job, as its setup sheet has it.
    pub fn worst(&self, job: &Job) -> Option<Verdict> {
        let outcomes = self.outcomes(job);
        if outcomes.iter().any(|one| one.unsettled) {
            return self.judged_sheet(job).worst();
        }
        let stuck = outcomes
            .iter()
            .any(|one| !one.worked && !one.calculator.checks.is_empty());
        let verdicts = outcomes.iter().flat_map(Outcome::of_job);
        verdicts.chain(stuck.then_some(Verdict::Stop)).max()
    }
}

impl Resolver for NumberResolver<'_, '_> {
    fn resolve(&self, from: &str) -> Result<Rc<Resolved>, Unresolved> {
        match from.split_once('.') {
            Some((calculator, output)) => self.output(calculator, output),
            None => self.named(from),
        }
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, Message> {
        self.job.lookup(table, column, keys)
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, Message> {
        self.job.found(table, keys)
    }

    fn table_ground(&self, table: &str) -> Ground {
        self.job.table_ground(table)
    }

    fn is_taken(&self, calculator: &str) -> bool {
        self.job.is_taken(calculator)
    }

    fn shows_defaults(&self) -> bool {
        self.job.shows_defaults()
    }

    fn leaf(&self, name: &str) -> Leaf {
        self.job.leaf(name)
    }
}

impl NumberResolver<'_, '_> {
    fn named(&self, name: &str) -> NamedValue {
        let Some(at) = self.job.catalog.named.position(name) else {
            return self.job.named(name);
        };
        let mut named = self.named.borrow_mut();
        named[at]
            .get_or_insert_with(|| self.job.named(name))
            .clone()
    }

    fn output(&self, calculator: &str, output: &str) -> Result<Rc<Resolved>, Unresolved> {
        let none = || {
            Unresolved::Problem(Problem {
                input: String::new(),
                kind: ProblemKind::NoAnswer,
                message: Message::default(),
                help: None,
            })
        };
        let done = self.done.borrow();
        let supplier = done
            .iter()
            .find(|outcome| outcome.calculator.name == calculator && outcome.worked)
            .ok_or_else(none)?;
        let footing = supplier.footing(output).cloned();
        let kind = supplier
            .calculator
            .result(output)
            .map(|result| &result.kind);
        let entry = match (kind, supplier.values.get(output)) {
            (Some(OutputKind::Number(format)), Some(Value::Number(si))) => {
                Entry::Number(Typed::of(*si, format.main.unit.clone(), format.main.kind))
            }
            (Some(OutputKind::Choice(_)), Some(Value::Choice(name))) => Entry::Choice(Choice {
                called: Vec::new(),
                name: name.clone(),
                label: String::new(),
            }),
            (Some(_), None) => return Err(footing.map_or_else(none, Unresolved::Missing)),
            _ => return Err(none()),
        };
        Ok(Rc::new(Resolved {
            entry,
            source: InputSource::Default,
            footing: footing.unwrap_or_default(),
            band: supplier.bands.get(output).copied(),
        }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::field::FieldKind;
    use crate::testing::{CATALOG, demonstration, prepared};
    use proptest::prelude::*;

    /// Every outcome against the answer with its texts; how many have none.
    fn compare(job: &Job) -> usize {
        let outcomes = CATALOG.outcomes(job);
        let sheet = CATALOG.setup_sheet(job);
        assert_eq!(outcomes.len(), sheet.answers.len());
        for (outcome, answer) in outcomes.iter().zip(&sheet.answers) {
            assert_eq!(outcome.calculator.name, answer.calculator);
            assert_eq!(outcome.values, answer.values, "{}", answer.calculator);
            // a contradiction is told beside what reads either side, results or none
            let checks = answer.checks.iter().filter(|check| check.of.is_none());
            let own = outcome.calculator.checks.iter().zip(checks);
            // what may turn inside a tolerance is told by the answer alone
            let told = own.map(|(_, verdict)| match verdict.would {
                Some(would) if !verdict.may_be.is_empty() => would,
                _ => verdict.is,
            });
            let verdicts: Vec<Verdict> = told.collect();
            assert_eq!(outcome.verdicts, verdicts, "{}", answer.calculator);
            assert_eq!(outcome.worked, answer.problems.is_empty());
        }
        assert_eq!(CATALOG.worst(job), sheet.worst());
        sheet.unanswered().count()
    }

    #[test]
    fn the_numbers_of_each_demonstration_job_are_those_of_its_sheet() {
        assert_eq!(compare(&demonstration()), 0);
        for page in [
            include_str!("../../../content/jobs/t1.md"),
            include_str!("../../../content/jobs/t2.md"),
            include_str!("../../../content/jobs/t3.md"),
        ] {
            assert_eq!(compare(&prepared(page)), 0);
        }
    }

    #[test]
    fn a_refused_measurement_leaves_the_same_calculators_without_numbers() {
        let refused = Job::from([("channel_depth".to_string(), "5 psi".to_string())]);
        assert!(compare(&refused) > 1);
        assert_eq!(CATALOG.worst(&refused), Some(Verdict::Stop));
    }

    /// A text for a measurement, anywhere between its hard limits; now and then no number.
    fn text(kind: &FieldKind, part: f64) -> String {
        match kind {
            _ if part > 0.97 => "about so".to_string(),
            FieldKind::Number {
                format,
                least,
                most,
                ..
            } => {
                let (low, high) = (least.unwrap_or(0.0), most.unwrap_or(1000.0));
                let unit = &format.main.unit;
                let value = unit.from_si_as(low + (high - low) * part, format.main.kind);
                let digits = if unit.symbol == "count" { 0 } else { 4 };
                format!("{value:.digits$} {}", unit.symbol)
            }
            FieldKind::Choice(choices) => {
                choices[(part * choices.len() as f64) as usize].name.clone()
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]

        #[test]
        fn the_numbers_of_any_job_are_those_of_its_sheet(
            given in proptest::collection::vec((0usize..1000, 0.0f64..1.0), 0..12),
        ) {
            let named: Vec<_> = CATALOG.named.values().collect();
            let job: Job = given
                .iter()
                .map(|(which, part)| {
                    let field = &named[which % named.len()].field;
                    (field.name.clone(), text(&field.kind, *part))
                })
                .collect();
            compare(&job);
        }
    }
}
