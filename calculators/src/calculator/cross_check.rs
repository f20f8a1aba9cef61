//! A value held against a measurement of the same thing: where the two lie further apart than
//! their tolerances and the fineness of the readings explain, one of them is wrong.

use serde::{Deserialize, Serialize};

use super::answer::{Answer, CheckResult, Verdict};
use super::definition::Calculator;
use super::resolver::Resolver;
use super::sentence::Mentioned;
use super::slice::PlainValues;
use super::template::Template;
use crate::field::Entry;
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
    /// Adds a caution for each measurement that a value of the answer contradicts.
    pub(super) fn cross_check(&self, answer: &mut Answer, resolver: &dyn Resolver) {
        for cross in &self.cross_checks {
            let name = &cross.value.value;
            let (Some(format), Some(stands)) = (self.number_format(name), answer.stands(name))
            else {
                continue;
            };
            if let Some(typed) = cross.apart(stands, &answer.values, resolver) {
                let text = format.echo(&typed).text;
                let measured = Mentioned::new(MEASURED, typed.si, text, &format.main, true);
                let because =
                    self.sentence_with(&cross.because, Some(measured), &answer.values, answer);
                answer
                    .checks
                    .push(CheckResult::caution(&cross.name, because));
            }
        }
    }
}

impl CheckResult {
    fn caution(check: &str, because: String) -> CheckResult {
        CheckResult {
            check: check.to_string(),
            is: Verdict::Caution,
            would: Some(Verdict::Caution),
            because,
            may_be: Vec::new(),
            needs: Vec::new(),
            standing: false,
            case: None,
            of: None,
        }
    }

    /// The same caution beside another calculator's results.
    pub(crate) fn taken_over(&self, of: &str) -> CheckResult {
        CheckResult {
            of: Some(of.to_string()),
            ..CheckResult::caution(&self.check, self.because.clone())
        }
    }
}

impl Answer {
    /// What a value stands on, and its span.
    fn stands(&self, name: &str) -> Option<(Ground, Option<Span>)> {
        for input in &self.inputs {
            if input.name == name {
                return Some((input.footing.ground, input.span));
            }
        }
        let output = self.output(name)?;
        let span = output.span.as_ref();
        let span = span.map(|span| Span::new(span.low, span.high));
        Some((output.footing.ground, span))
    }
}
