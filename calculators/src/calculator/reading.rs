//! One input's value and one output's, each with how it is shown.

use super::answer::{InputReading, InputSource, OutputReading, PrintedValue, Problem, ProblemKind};
use super::argument::Argument;
use super::definition::{Input, Output, OutputKind};
use super::resolver::{Known, Resolved, Resolver};
use crate::field::{Entry, FieldKind, Refusal};
use crate::formula::{Formula, Value};
use crate::quantity::in_unit;

impl Input {
    pub(super) fn reading(
        &self,
        given: Option<&Argument>,
        resolver: &dyn Resolver,
        doubts: &mut Vec<Problem>,
    ) -> Result<(InputReading, Value), Problem> {
        let resolved = self.resolved(given, resolver, doubts)?;
        let value = resolved.entry.value();
        Ok((self.shown(resolved), value))
    }

    /// The input's value: typed, else from the graph, else its default.
    pub(super) fn resolved(
        &self,
        given: Option<&Argument>,
        resolver: &dyn Resolver,
        doubts: &mut Vec<Problem>,
    ) -> Result<Resolved, Problem> {
        let refused = |refusal: Refusal| Problem {
            input: self.field.name.clone(),
            kind: ProblemKind::of(&refusal),
            message: refusal.message,
            help: refusal.help,
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
                Ok(Resolved {
                    entry,
                    source: InputSource::Typed,
                })
            }
            (None, Some(from), _) => {
                let resolved = resolver.resolve(&from.value).map_err(|problem| Problem {
                    input: self.field.name.clone(),
                    ..problem
                })?;
                self.field.accepts(&resolved.entry).map_err(refused)?;
                Ok(resolved)
            }
            (None, None, default) => {
                let text = default
                    .as_ref()
                    .map_or("", |default| default.value.as_str());
                let entry = self.field.take(text, None, true).map_err(refused)?;
                Ok(Resolved {
                    entry,
                    source: InputSource::Default,
                })
            }
        }
    }

    /// As it stands in its field, which has to read it back.
    fn shown(&self, resolved: Resolved) -> InputReading {
        let mut shown = self.plainly_shown(resolved);
        if let (PrintedValue::Number(printed), FieldKind::Number { want, .. }) =
            (&mut shown.reading, &self.field.kind)
        {
            printed.text = self.field.sure(std::mem::take(&mut printed.text), want);
        }
        shown
    }

    fn plainly_shown(&self, resolved: Resolved) -> InputReading {
        let span = match &resolved.entry {
            Entry::Number(typed) => typed.span.map(|span| self.field.possible(span)),
            Entry::Choice(_) => None,
        };
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
            span,
        }
    }
}

impl Output {
    /// The value; `None` where its condition doesn't hold, or where it needs a
    /// result that isn't there. None is looked for unless a result is `lacking`.
    pub(super) fn value(&self, known: &Known<'_>, lacking: bool) -> Result<Option<Value>, String> {
        let absent = |formula: &Formula| {
            let lacks = |name: &str| name != "pi" && !known.values.contains_key(name);
            lacking && formula.names().into_iter().any(lacks)
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

    pub(super) fn absent(&self) -> OutputReading {
        OutputReading {
            name: self.name.clone(),
            label: self.label.clone(),
            reading: None,
            rounded: String::new(),
            span: None,
        }
    }

    pub(super) fn print(&self, value: &Value) -> OutputReading {
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
