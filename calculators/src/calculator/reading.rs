//! One input's value and one output's, each with how it is shown.

use std::rc::Rc;

use super::answer::{InputReading, InputSource, OutputReading, PrintedValue, Problem, ProblemKind};
use super::argument::Argument;
use super::band::Reach;
use super::definition::{Input, Output, OutputKind};
use super::leaf::Leaf;
use super::open;
use super::resolver::{Resolved, Resolver, Unresolved};
use super::state::{Known, State};
use crate::field::{Entry, FieldKind, Refusal};
use crate::formula::{Formula, Value, Values};
use crate::ground::{Footing, Ground};
use crate::message::Message;
use crate::message::tell::{from, result as tell};
use crate::named::may_be_assumed;
use crate::quantity::in_unit;

/// What a result comes to.
pub(super) enum Worth {
    Value(Value),
    /// It doesn't exist for these inputs.
    Absent,
    /// Nobody has given what it is worked out from.
    Missing(Footing),
    Fault(Message),
}

/// An input that no measurement or rating supplies, as what hangs on it names it.
pub(super) fn leaf_name(calculator: &str, input: &str) -> String {
    format!("{calculator}.{input}")
}

/// Where a value comes from that another calculator gives.
fn worked_out(footing: &Footing, resolver: &dyn Resolver) -> Message {
    let weak: Vec<Leaf> = footing
        .weak
        .iter()
        .map(|name| resolver.leaf(name))
        .collect();
    match (footing.ground, open::job_of(&weak)) {
        (Ground::Example, "") => from::out_of_examples(),
        (Ground::Example, job) => from::out_of_job(&job),
        (Ground::Doubted, _) => from::out_of_doubt(),
        (Ground::Assumed, _) => from::out_of_assumed(),
        _ => from::worked_out(),
    }
}

/// Why an input has no value.
pub(super) enum NoInput {
    Problem(Problem),
    Missing(Footing),
}

impl Input {
    /// Why it has no value, in a few words.
    pub(super) fn lacks(&self, needs: &[Leaf]) -> Message {
        let own = |leaf: &Leaf| match &self.from {
            Some(from) => leaf.name == from.value,
            None => true,
        };
        match needs {
            [leaf] if own(leaf) => leaf.from.clone(),
            _ => tell::not_known(),
        }
    }

    pub(super) fn reading(
        &self,
        of: &str,
        given: Option<&Argument>,
        resolver: &dyn Resolver,
        doubts: &mut Vec<Problem>,
    ) -> Result<(InputReading, Value), NoInput> {
        let resolved = self.resolved(of, given, resolver, doubts)?;
        let value = resolved.entry.value();
        let from = match (&resolved.source, given) {
            (InputSource::Typed, Some(given)) if given.ground == Ground::Measured => {
                from::given_here()
            }
            (InputSource::Typed, _) => from::example(),
            (InputSource::Output(_), _) => worked_out(&resolved.footing, resolver),
            (InputSource::Named(name), _) => resolver.leaf(name).from,
            (InputSource::Default, _) => resolver.leaf(&leaf_name(of, &self.field.name)).from,
        };
        Ok((self.shown(Rc::unwrap_or_clone(resolved), from), value))
    }

    /// The input's value: typed, else from the graph, else its default. `of` is its calculator.
    pub(super) fn resolved(
        &self,
        of: &str,
        given: Option<&Argument>,
        resolver: &dyn Resolver,
        doubts: &mut Vec<Problem>,
    ) -> Result<Rc<Resolved>, NoInput> {
        let refused = |refusal: Refusal| Problem {
            input: self.field.name.clone(),
            kind: ProblemKind::of(&refusal),
            message: refusal.message,
            help: refusal.help,
        };
        match (given, &self.from) {
            (Some(given), _) => {
                let take = |confirmed| {
                    let taken = self
                        .field
                        .take(&given.text, given.unit.as_deref(), confirmed);
                    taken.map_err(refused)
                };
                if given.confirmed
                    && let Err(doubt) = take(false)
                    && doubt.kind == ProblemKind::Doubtful
                {
                    doubts.push(doubt);
                }
                Ok(Rc::new(Resolved {
                    entry: take(given.confirmed).map_err(NoInput::Problem)?,
                    source: InputSource::Typed,
                    footing: Footing::on(given.ground, &leaf_name(of, &self.field.name)),
                    band: None,
                }))
            }
            (None, Some(from)) => {
                let resolved = resolver.resolve(&from.value).map_err(|why| match why {
                    Unresolved::Problem(problem) => NoInput::Problem(Problem {
                        input: self.field.name.clone(),
                        ..problem
                    }),
                    Unresolved::Missing(footing) => NoInput::Missing(footing),
                })?;
                let fits = self.field.accepts(&resolved.entry);
                fits.map_err(|refusal| NoInput::Problem(refused(refusal)))?;
                Ok(resolved)
            }
            (None, None) => self.at_default(of, resolver),
        }
    }

    /// What its file starts with: a usual value where the name is one of those that may be assumed,
    /// else a mere example, which a job doesn't take.
    fn at_default(&self, of: &str, resolver: &dyn Resolver) -> Result<Rc<Resolved>, NoInput> {
        let name = leaf_name(of, &self.field.name);
        let ground = if may_be_assumed(&self.field.name) {
            Ground::Assumed
        } else {
            Ground::Example
        };
        let missing = || NoInput::Missing(Footing::on(Ground::None, &name));
        let default = self.default.as_ref().ok_or_else(missing)?;
        if ground == Ground::Example && !resolver.shows_defaults() {
            return Err(missing());
        }
        let taken = self.field.take(&default.value, None, true);
        let entry = taken.map_err(|refusal| {
            NoInput::Problem(Problem {
                input: self.field.name.clone(),
                kind: ProblemKind::of(&refusal),
                message: refusal.message,
                help: refusal.help,
            })
        })?;
        Ok(Rc::new(Resolved {
            entry,
            source: InputSource::Default,
            band: (ground == Ground::Assumed)
                .then(|| self.field.usual_span())
                .flatten(),
            footing: Footing::on(ground, &name),
        }))
    }

    /// As it stands in its field, which has to read it back.
    fn shown(&self, resolved: Resolved, from: Message) -> InputReading {
        let mut shown = self.plainly_shown(resolved, from);
        if let (PrintedValue::Number(printed), FieldKind::Number { want, .. }) =
            (&mut shown.reading, &self.field.kind)
        {
            printed.text = self.field.sure(std::mem::take(&mut printed.text), want);
        }
        shown
    }

    fn plainly_shown(&self, resolved: Resolved, from: Message) -> InputReading {
        let span = self.field.span_of(&resolved.entry);
        let (reading, understood) = match (&resolved.entry, &self.field.kind) {
            // Nobody typed it: printed as its own calculator would.
            (Entry::Number(typed), FieldKind::Number { format, .. })
                if matches!(resolved.source, InputSource::Output(_)) =>
            {
                let printed = format.print(typed.si);
                let understood = match &printed.also {
                    // each is rounded from the exact value: they aren't equal
                    Some(also) => format!("{} ({also})", printed.text),
                    None => printed.text.clone(),
                };
                (PrintedValue::Number(printed), understood)
            }
            (Entry::Number(typed), FieldKind::Number { format, .. }) => (
                PrintedValue::Number(format.echo(typed)),
                format.understood(typed),
            ),
            (Entry::Choice(choice), _) => {
                let label = choice.label.clone();
                (
                    PrintedValue::Choice {
                        name: choice.name.clone(),
                        label: label.clone(),
                    },
                    label,
                )
            }
            (Entry::Number(typed), FieldKind::Choice(_)) => {
                let text = in_unit(typed.si, &typed.unit, typed.unit.natural_kind());
                (
                    PrintedValue::Choice {
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
            source: resolved.source,
            footing: resolved.footing,
            from,
            span,
            band: resolved.band,
        }
    }
}

impl InputReading {
    pub(super) fn reach(&self) -> Reach<'_> {
        Reach {
            input: &self.name,
            assumed: self.footing.ground == Ground::Assumed,
            band: self.band,
            typed: self.span,
        }
    }
}

impl OutputReading {
    /// Whose value it is, where it is no more than an example.
    pub(super) fn whose(&self, resolver: &dyn Resolver) -> Message {
        if self.footing.ground != Ground::Example {
            return Message::default();
        }
        let weak = self.footing.weak.iter();
        let weak: Vec<Leaf> = weak.map(|name| resolver.leaf(name)).collect();
        match open::job_of(&weak) {
            "" => tell::of_examples(),
            job => Message::data(job),
        }
    }
}

impl Output {
    /// What its formulas come to for what is known so far.
    pub(super) fn worth(&self, state: &State, resolver: &dyn Resolver) -> (Worth, Footing) {
        let known = state.known(resolver);
        let worth = self.read_from(&known, state);
        let footing = match &worth {
            Worth::Missing(footing) => footing.clone(),
            _ => known.footing(),
        };
        (worth, footing)
    }

    fn read_from(&self, known: &Known<'_>, state: &State) -> Worth {
        // what isn't there can't be read, in whichever branch
        let absent = |formula: &Formula| {
            let names = formula.names();
            let mut gone = names.iter().filter(|name| state.absent.contains_key(name));
            gone.next().map(|name| known.value(name)).is_some()
        };
        let fault = |formula: &Formula, message| match known.lacked() {
            true => Worth::Missing(state.lacking(formula)),
            false => Worth::Fault(message),
        };
        let some_absent = !state.absent.is_empty();
        if let Some((condition, _)) = &self.only_if {
            if some_absent && absent(condition) {
                return Worth::Absent;
            }
            match condition.evaluate(known) {
                Ok(Value::Truth(true)) => {}
                Ok(_) => return Worth::Absent,
                Err(found) => return fault(condition, found.message),
            }
        }
        if some_absent && absent(&self.formula) {
            return Worth::Absent;
        }
        match self.formula.evaluate(known) {
            Ok(value) => Worth::Value(value),
            Err(found) => fault(&self.formula, found.message),
        }
    }

    pub(super) fn without_value(&self, footing: Footing) -> OutputReading {
        OutputReading {
            name: self.name.clone(),
            label: self.label.clone(),
            reading: None,
            footing,
            of: Message::default(),
            rounded: Message::default(),
            span: None,
            band: None,
        }
    }

    pub(super) fn print(&self, value: &Value, footing: Footing) -> OutputReading {
        let (reading, rounded) = match (value, &self.kind) {
            (Value::Number(si), OutputKind::Number(format)) => (
                Some(PrintedValue::Number(format.print(*si))),
                format.main.rounding_words(),
            ),
            (Value::Choice(name), OutputKind::Choice(choices)) => {
                let label = choices
                    .iter()
                    .find(|choice| choice.name == *name)
                    .map_or(name, |choice| &choice.label);
                (
                    Some(PrintedValue::Choice {
                        name: name.clone(),
                        label: label.clone(),
                    }),
                    Message::default(),
                )
            }
            _ => (None, Message::default()),
        };
        OutputReading {
            name: self.name.clone(),
            label: self.label.clone(),
            reading,
            footing,
            of: Message::default(),
            rounded,
            span: None,
            band: None,
        }
    }
}
