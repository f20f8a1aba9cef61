//! Gives calculators what they don't hold themselves: the job's values, other
//! calculators' outputs, table entries.

use crate::message::Message;
use crate::message::tell::{formula, problem as tell};
use std::cell::{Cell, RefCell};
use std::rc::Rc;

use super::{Catalog, Job};
use crate::calculator::{
    Answer, Calculator, InputSource, Leaf, OutputKind, PrintedValue, Problem, ProblemKind,
    Resolved, Resolver, Unresolved,
};
use crate::field::{Choice, Entry};
use crate::formula::Value;
use crate::ground::{Footing, Ground};
use crate::names::Names;
use crate::quantity::Typed;
use crate::span::Span;
use crate::table::Table;

/// Longer chains of calculators than any job needs.
const DEEPEST: usize = 24;

pub(crate) struct JobResolver<'a> {
    pub(super) catalog: &'a Catalog,
    job: &'a Job,
    /// Answers already worked out for this job, by calculator.
    known: RefCell<Names<Rc<Answer>>>,
    /// How long the chain under way is.
    depth: Cell<usize>,
    #[cfg(test)]
    pub runs: RefCell<Vec<String>>,
}

impl Catalog {
    pub(crate) fn resolver<'a>(&'a self, job: &'a Job) -> JobResolver<'a> {
        JobResolver {
            catalog: self,
            job,
            known: RefCell::default(),
            depth: Cell::new(0),
            #[cfg(test)]
            runs: RefCell::default(),
        }
    }
}

fn problem(message: Message) -> Unresolved {
    Unresolved::Problem(Problem {
        input: String::new(),
        kind: ProblemKind::NoAnswer,
        message,
        help: None,
    })
}

impl Resolver for JobResolver<'_> {
    fn resolve(&self, from: &str) -> Result<Rc<Resolved>, Unresolved> {
        match from.split_once('.') {
            Some((calculator, output)) => self.output(calculator, output, from),
            None => self.named(from),
        }
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, Message> {
        self.table(table)?
            .entry(column, keys)
            .map(|cell| cell.value())
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, Message> {
        Ok(!self.table(table)?.matching(keys).is_empty())
    }

    fn table_ground(&self, table: &str) -> Ground {
        match self.catalog.tables.get(table) {
            Some(table) => table.ground(),
            None => Ground::None,
        }
    }

    fn is_taken(&self, calculator: &str) -> bool {
        let mut inputs = self
            .catalog
            .calculators
            .values()
            .flat_map(|one| &one.inputs);
        inputs.any(|input| match &input.from {
            Some(from) => from
                .value
                .split_once('.')
                .is_some_and(|(of, _)| of == calculator),
            None => false,
        })
    }

    fn shows_defaults(&self) -> bool {
        self.job.shows_defaults
    }

    fn leaf(&self, name: &str) -> Leaf {
        self.catalog.leaf(name, self.job)
    }

    fn entries(&self, table: &str, column: &str) -> Vec<Value> {
        let Some(table) = self.catalog.tables.get(table) else {
            return Vec::new();
        };
        let column = table.column(column);
        column.map_or_else(Vec::new, |(at, _)| {
            table.rows.iter().map(|row| row[at].value()).collect()
        })
    }
}

impl JobResolver<'_> {
    fn table(&self, name: &str) -> Result<&Table, Message> {
        self.catalog
            .tables
            .get(name)
            .ok_or_else(|| formula::no_table(&name))
    }

    pub(super) fn named(&self, name: &str) -> Result<Rc<Resolved>, Unresolved> {
        let Some(named) = self.catalog.named.get(name) else {
            return Err(problem(tell::no_quantity(&name)));
        };
        let Some((text, ground)) = self.job.standing(named) else {
            return Err(Unresolved::Missing(Footing::on(Ground::None, name)));
        };
        // Whoever gave the value was asked about the usual band then.
        match named.field.take(text, None, true) {
            Ok(entry) => Ok(Rc::new(Resolved {
                entry,
                source: InputSource::Named(name.to_string()),
                footing: Footing::on(ground, name),
                band: (ground == Ground::Assumed)
                    .then(|| named.field.usual_span())
                    .flatten(),
            })),
            Err(refusal) => Err(Unresolved::Problem(Problem {
                input: name.to_string(),
                kind: ProblemKind::of(&refusal),
                message: refusal.message,
                help: refusal.help,
            })),
        }
    }

    /// A calculator's answer for this job: worked out once, however many ask for it.
    pub(super) fn answer(&self, calculator: &Calculator) -> Rc<Answer> {
        if let Some(known) = self.known.borrow().get(&calculator.name) {
            return known.clone();
        }
        self.depth.set(self.depth.get() + 1);
        let answer = Rc::new(calculator.brief(self));
        self.depth.set(self.depth.get() - 1);
        #[cfg(test)]
        self.runs.borrow_mut().push(calculator.name.clone());
        self.known
            .borrow_mut()
            .insert(calculator.name.clone(), answer.clone());
        answer
    }

    /// Hands an answer over that nobody here asks for again.
    pub(super) fn give_up(&self, calculator: &Calculator) -> Option<Answer> {
        let mut known = self.known.borrow_mut();
        Rc::into_inner(known.remove(&calculator.name)?)
    }

    fn output(
        &self,
        calculator: &str,
        output: &str,
        from: &str,
    ) -> Result<Rc<Resolved>, Unresolved> {
        let Some(definition) = self.catalog.calculators.get(calculator) else {
            return Err(problem(tell::no_calculator(&calculator)));
        };
        if self.depth.get() > DEEPEST {
            return Err(problem(tell::long_chain(&from)));
        }
        let answer = self.answer(definition);
        if let Some(first) = answer.problems.first() {
            return Err(Unresolved::Problem(Problem {
                message: tell::beneath(&first.message, &definition.title),
                ..first.clone()
            }));
        }
        let kind = definition.output(output).map(|output| &output.kind);
        let reading = answer.output(output);
        if let Some(open) = reading.filter(|reading| reading.is_open()) {
            return Err(Unresolved::Missing(open.footing.clone()));
        }
        let span = reading.and_then(|reading| reading.span.as_ref());
        let span = span.map(|span| Span {
            low: span.low,
            high: span.high,
        });
        let entry = match (kind, reading.and_then(|reading| reading.reading.as_ref())) {
            (Some(OutputKind::Number(format)), Some(PrintedValue::Number(printed))) => {
                Entry::Number(Typed {
                    span,
                    ..Typed::of(printed.si, format.main.unit.clone(), format.main.kind)
                })
            }
            (Some(OutputKind::Choice(_)), Some(PrintedValue::Choice { name, label })) => {
                Entry::Choice(Choice {
                    called: Vec::new(),
                    name: name.clone(),
                    label: label.clone(),
                })
            }
            _ => {
                return Err(problem(tell::gives_none(&output, &definition.title)));
            }
        };
        Ok(Rc::new(Resolved {
            entry,
            source: InputSource::Output(from.to_string()),
            footing: reading.map_or_else(Footing::default, |reading| reading.footing.clone()),
            band: reading.and_then(|reading| reading.band),
        }))
    }
}
