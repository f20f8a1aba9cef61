//! A value held against a measurement of the same thing: where the two lie further apart than
//! their tolerances and the fineness of the readings explain, one of them is wrong.

use serde::{Deserialize, Serialize};

use super::answer::{Answer, CheckResult, Verdict};
use super::definition::{Calculator, OutputKind};
use super::resolver::Resolver;
use super::sentence::Mentioned;
use super::slice::PlainValues;
use super::template::Template;
use crate::field::{Entry, FieldKind};
use crate::formula::{Formula, Value};
use crate::ground::Ground;
use crate::names::Names;
use crate::quantity::Typed;
use crate::span::Span;
use gaugeleaf_finding::Placed;

/// What a sentence calls the measurement that a value is held against.
pub const MEASURED: &str = "measured";

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CrossCheck {
    pub name: String,
    /// A result or an input of the calculator.
    pub value: Placed<String>,
    /// The measurement that it is held against.
    pub measured: Placed<String>,
    /// The value has to be the larger of the two, and not the same.
    pub larger: bool,
    /// How far apart readings of one thing may lie, tolerances aside.
    pub within: Formula,
    #[serde(skip)]
    pub within_at: Placed<String>,
    pub because: Template,
}

impl CrossCheck {
    /// Whether no reading inside both tolerances agrees.
    fn disagrees(&self, value: Span, measured: Span, within: f64) -> bool {
        if self.larger {
            value.high <= measured.low + within
        } else {
            value.low > measured.high + within || measured.low > value.high + within
        }
    }

    /// The measurement, where the two lie apart. Both have to bear a verdict: another job's pitch
    /// says nothing of this one's span.
    pub(super) fn apart(
        &self,
        (ground, span): (Ground, Option<Span>),
        values: &Names<Value>,
        resolver: &dyn Resolver,
    ) -> Option<Typed> {
        let measured = resolver.resolve(&self.measured.value).ok()?;
        if !ground.bears() || !measured.footing.ground.bears() {
            return None;
        }
        let (Entry::Number(typed), Some(Value::Number(si))) =
            (measured.entry, values.get(&self.value.value))
        else {
            return None;
        };
        let known = PlainValues { values, resolver };
        let Ok(Value::Number(within)) = self.within.evaluate(&known) else {
            return None;
        };
        let value = span.unwrap_or(Span::point(*si));
        let read = typed.span.unwrap_or(Span::point(typed.si));
        self.disagrees(value, read, within).then_some(typed)
    }
}

impl Calculator {
    /// A caution for each measurement that a value of the answer contradicts.
    pub(super) fn cross_checked(
        &self,
        answer: &Answer,
        resolver: &dyn Resolver,
    ) -> Vec<CheckResult> {
        let told = |cross: &CrossCheck| {
            let name = &cross.value.value;
            let typed = cross.apart(answer.stands(name)?, &answer.values, resolver)?;
            Some(CheckResult {
                check: cross.name.clone(),
                is: Verdict::Caution,
                would: Some(Verdict::Caution),
                because: self.sentence_with(
                    &cross.because,
                    self.measured(cross, &typed),
                    &answer.values,
                    answer,
                ),
                may_be: Vec::new(),
                needs: Vec::new(),
                standing: false,
                case: None,
                of: None,
            })
        };
        self.cross_checks.iter().filter_map(told).collect()
    }

    /// The measurement as a sentence has it: as it was taken.
    fn measured<'c>(&self, cross: &CrossCheck, typed: &Typed) -> Option<Mentioned<'c>> {
        let name = &cross.value.value;
        let format = match (
            self.output(name).map(|output| &output.kind),
            self.input(name),
        ) {
            (Some(OutputKind::Number(format)), _) => format,
            (None, Some(input)) => match &input.field.kind {
                FieldKind::Number { format, .. } => format,
                FieldKind::Choice(_) => return None,
            },
            _ => return None,
        };
        let text = format.echo(typed).text;
        Some(Mentioned::typed(
            MEASURED,
            typed.si,
            &text,
            format.main.clone(),
        ))
    }
}

impl Answer {
    /// What a value stands on, and its span.
    fn stands(&self, name: &str) -> Option<(Ground, Option<Span>)> {
        let result = self.output(name).map(|output| {
            let span = output.span.as_ref();
            let span = span.map(|span| Span::new(span.low, span.high));
            (output.footing.ground, span)
        });
        result.or_else(|| {
            let input = self.inputs.iter().find(|input| input.name == name)?;
            Some((input.footing.ground, input.span))
        })
    }
}
