//! A value held against a measurement of the same thing: where the two lie further apart than
//! their tolerances and the fineness of the readings explain, one of them is wrong.

use super::answer::{Answer, CheckResult, Verdict};
use super::definition::{Calculator, CrossCheck, MEASURED};
use super::resolver::Resolver;
use super::sentence::Mentioned;
use super::slice::PlainValues;
use crate::field::Entry;
use crate::formula::Value;
use crate::ground::Ground;
use crate::message::Message;
use crate::message::tell::verdict as tell;
use crate::names::Names;
use crate::quantity::Typed;
use crate::span::Span;

impl CrossCheck {
    /// Whether no reading inside both tolerances agrees.
    fn disagrees(&self, value: Span, measured: Span, within: f64) -> bool {
        // readings of one thing may come by two conversions
        let within = within + 1e-9 * value.high.abs();
        if self.larger {
            value.high <= measured.low + within
        } else {
            value.low > measured.high + within || measured.low > value.high + within
        }
    }

    /// Whether the two lie apart; why that can't be told.
    pub(super) fn apart(
        &self,
        span: Option<Span>,
        measured: Span,
        values: &Names<Value>,
        resolver: &dyn Resolver,
    ) -> Result<bool, Message> {
        let Some(Value::Number(si)) = values.get(&self.value.value) else {
            return Ok(false);
        };
        let known = PlainValues { values, resolver };
        match self.within.evaluate(&known) {
            Ok(Value::Number(within)) if within >= 0.0 => {
                Ok(self.disagrees(span.unwrap_or(Span::point(*si)), measured, within))
            }
            Ok(_) => Err(tell::nothing_allowed()),
            Err(fault) => Err(fault.message),
        }
    }

    /// The measurement as this job has it. Another job's pitch says nothing of this one's span.
    pub(super) fn measured(&self, resolver: &dyn Resolver) -> Option<Typed> {
        let measured = resolver.resolve(&self.measured.value).ok()?;
        match &measured.entry {
            Entry::Number(typed) if measured.footing.ground.bears() => Some(typed.clone()),
            _ => None,
        }
    }
}

impl Calculator {
    /// Adds a caution for each measurement that a value of the answer contradicts.
    pub(super) fn cross_check(&self, answer: &mut Answer, resolver: &dyn Resolver) {
        for cross in &self.cross_checks {
            let format = self.number_format(&cross.value.value);
            if let (Some(format), Some(typed)) = (format, cross.measured(resolver)) {
                let span = typed.span.unwrap_or(Span::point(typed.si));
                let text = format.echo(&typed).text;
                if let Some(told) =
                    self.contradicts(cross, answer, (typed.si, span, text), resolver)
                {
                    answer.checks.push(told);
                }
            }
        }
    }

    /// What an answer of this calculator says against a reading: its value, its span, its text.
    pub(crate) fn contradicts(
        &self,
        cross: &CrossCheck,
        answer: &Answer,
        (si, span, text): (f64, Span, String),
        resolver: &dyn Resolver,
    ) -> Option<CheckResult> {
        let name = &cross.value.value;
        let own = answer.stands(name).filter(|(ground, _)| ground.bears())?;
        let because = match cross.apart(own.1, span, &answer.values, resolver) {
            Ok(false) => return None,
            Ok(true) => {
                let format = &self.number_format(name)?.main;
                let measured = Mentioned::new(MEASURED, si, text, format, true);
                self.sentence_with(&cross.because, Some(measured), &answer.values, answer)
            }
            Err(fault) => tell::not_checked(&fault),
        };
        Some(CheckResult::caution(&cross.name, because))
    }
}

impl CheckResult {
    fn caution(check: &str, because: Message) -> CheckResult {
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
        let span = output.span.as_ref().map(|span| Span {
            low: span.low,
            high: span.high,
        });
        Some((output.footing.ground, span))
    }
}
