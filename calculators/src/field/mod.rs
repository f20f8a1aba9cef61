//! Fields: what an input, a measurement, a rating and a table's column have in
//! common, and how each is read from a catalog file.

mod doubt;
pub(crate) mod fields;
mod format;
mod load;

use serde::{Deserialize, Serialize};
use std::ops::Range;

use crate::formula::{Type, Value};
use crate::message::Message;
use crate::message::tell::field as tell;
use crate::quantity::{QuantityFault, Typed, Want, bare_in_unit, in_unit, readings};
use crate::span::Span;
use crate::unit::Unit;
use crate::words::joined;

pub use format::{NumberFormat, Printed};
pub(crate) use load::{called, choices};

/// One of the things that may be chosen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Choice {
    pub name: String,
    pub label: String,
    /// What people call it besides.
    pub called: Vec<String>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[expect(
    clippy::large_enum_variant,
    reason = "a handbook holds a few hundred of these, for good"
)]
pub enum FieldKind {
    Number {
        format: NumberFormat,
        want: Want,
        /// Hard limits, in SI: outside, the value is refused.
        least: Option<f64>,
        most: Option<f64>,
        /// Soft limits, in SI: outside, the value has to be confirmed.
        usual: Option<(f64, f64)>,
    },
    Choice(Vec<Choice>),
}

/// A quantity or choice that a person may type.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Field {
    pub name: String,
    pub label: String,
    /// What people call it besides.
    pub called: Vec<String>,
    #[serde(skip)]
    pub help: String,
    /// As formulas print it: `D_c` is D with the subscript c.
    pub symbol: String,
    /// The reason for its limits.
    pub why: String,
    pub kind: FieldKind,
    #[serde(skip)]
    pub file: String,
    #[serde(skip)]
    pub span: Range<usize>,
}

/// A value typed into a field.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    Number(Typed),
    Choice(Choice),
}

/// Why a field refuses a text.
#[derive(Debug, Clone, PartialEq)]
pub struct Refusal {
    pub message: Message,
    pub help: Option<Message>,
    /// Outside the usual band: passes once confirmed.
    pub doubtful: bool,
}

impl Field {
    /// What formulas see.
    pub fn formula_type(&self) -> Type {
        match &self.kind {
            FieldKind::Number { format, .. } => {
                Type::Number(format.main.unit.dimension, format.main.kind)
            }
            FieldKind::Choice(choices) => {
                Type::Choice(choices.iter().map(|choice| choice.name.clone()).collect())
            }
        }
    }

    /// Reads a typed text; `bare` is the unit of a number that names none.
    ///
    /// # Errors
    /// The same words wherever the text came from: page, command or widget.
    pub fn take(&self, text: &str, bare: Option<&str>, confirmed: bool) -> Result<Entry, Refusal> {
        let refuse = |message: Message, help| Refusal {
            message,
            help,
            doubtful: false,
        };
        match &self.kind {
            FieldKind::Choice(choices) => {
                let found = choices.iter().find(|choice| choice.name == text.trim());
                found.cloned().map(Entry::Choice).ok_or_else(|| {
                    let names: Vec<&str> =
                        choices.iter().map(|choice| choice.name.as_str()).collect();
                    let help = tell::choices(&joined(&names, ", "));
                    refuse(tell::no_choice(&clipped(text)), Some(help))
                })
            }
            FieldKind::Number { want, .. } => {
                let bare = match bare.map(Unit::parse) {
                    Some(Ok(unit)) if unit.dimension == want.unit.dimension => {
                        Some(want.bare_in(&unit))
                    }
                    _ => None,
                };
                let readings = readings(text, bare.as_ref().unwrap_or(want))
                    .map_err(|fault: QuantityFault| refuse(fault.message(), Some(fault.help())))?;
                let typed = self.only(readings)?;
                self.within(&typed, confirmed)?;
                Ok(Entry::Number(typed))
            }
        }
    }

    /// Whether a value that came along the graph fits this field's hard limits.
    ///
    /// # Errors
    /// The limit that it passes, or that it is of another kind.
    pub fn accepts(&self, entry: &Entry) -> Result<(), Refusal> {
        match (entry, &self.kind) {
            (Entry::Number(typed), FieldKind::Number { .. }) => self.within(typed, true),
            (Entry::Choice(choice), FieldKind::Choice(_)) => {
                self.take(&choice.name, None, true).map(|_| ())
            }
            _ => Err(Refusal {
                message: tell::other_source(&self.label),
                help: Some(tell::same_source()),
                doubtful: false,
            }),
        }
    }

    /// The text of the same quantity, typed in one unit, for another; the unit
    /// itself stays beside the field.
    ///
    /// # Errors
    /// What is wrong with the text.
    pub fn switch(&self, text: &str, from: &str, to: &str) -> Result<String, Refusal> {
        let refuse = |message: Message| Refusal {
            message,
            help: None,
            doubtful: false,
        };
        let FieldKind::Number { want, .. } = &self.kind else {
            return Err(refuse(tell::no_unit()));
        };
        let unit = Unit::parse(to)
            .ok()
            .filter(|unit| unit.dimension == want.unit.dimension)
            .ok_or_else(|| refuse(tell::other_unit(&self.label, &clipped(to))))?;
        match self.take(text, Some(from), true)? {
            Entry::Number(typed) => {
                let text = bare_in_unit(typed.si, &unit, want.kind);
                Ok(self.sure(text, &want.bare_in(&unit)))
            }
            Entry::Choice(_) => Err(refuse(tell::no_unit())),
        }
    }

    /// The usual band, as a value that nobody took may lie in it.
    pub(crate) fn usual_span(&self) -> Option<Span> {
        match &self.kind {
            FieldKind::Number { usual, .. } => usual.map(|(low, high)| Span::new(low, high)),
            FieldKind::Choice(_) => None,
        }
    }

    /// Where an entry may lie with the tolerance that was typed with it.
    pub(crate) fn span_of(&self, entry: &Entry) -> Option<Span> {
        match entry {
            Entry::Number(typed) => typed.span.map(|span| self.possible(span)),
            Entry::Choice(_) => None,
        }
    }

    /// A tolerance doesn't reach past the hard limits: nothing lies there.
    pub(crate) fn possible(&self, span: Span) -> Span {
        match &self.kind {
            FieldKind::Number { least, most, .. } => Span {
                low: least.map_or(span.low, |least| span.low.max(least.min(span.high))),
                high: most.map_or(span.high, |most| span.high.min(most.max(span.low))),
            },
            FieldKind::Choice(_) => span,
        }
    }

    /// Checks the hard limits, then the usual band.
    fn within(&self, typed: &Typed, confirmed: bool) -> Result<(), Refusal> {
        let FieldKind::Number {
            format,
            least,
            most,
            usual,
            ..
        } = &self.kind
        else {
            return Ok(());
        };
        let shown = |si: f64| in_unit(si, &format.main.unit, format.main.kind);
        // Most values pass, along every way of the graph: words are made for a refusal alone.
        let typed_text = |si: f64| in_unit(si, &typed.unit, format.main.kind);
        // with a tolerance the limits hold for all that it may be
        let (lowest, highest) = match typed.span {
            Some(span) => (span.low, span.high),
            None => (typed.si, typed.si),
        };
        // a reason for the usual band is none for a limit
        let taken = || self.range_words().map(|range| tell::taken(&range));
        // A limit that is written in another unit, to ten digits, must not lie past itself.
        let slack = 1e-9 * typed.si.abs();
        if let Some(least) = least.filter(|least| lowest < least - slack) {
            return Err(Refusal {
                message: tell::below(&shown(least), &typed_text(lowest)),
                help: taken(),
                doubtful: false,
            });
        }
        if let Some(most) = most.filter(|most| highest > most + slack) {
            return Err(Refusal {
                message: tell::above(&shown(most), &typed_text(highest)),
                help: taken(),
                doubtful: false,
            });
        }
        if let Some((low, high)) = usual.filter(|_| !confirmed)
            && (typed.si < low - slack || typed.si > high + slack)
        {
            let mut help = tell::measured_again();
            let why = self.why.trim_end();
            if !why.is_empty() {
                help.push(&" ");
                help.push(&why);
            }
            let range = tell::range(&shown(high), &shown(low));
            return Err(Refusal {
                message: tell::unusual(&range, &typed_text(typed.si)),
                help: Some(help),
                doubtful: true,
            });
        }
        Ok(())
    }

    /// The limits in words, for help beside the field: `1 in to 60 in`.
    pub fn range_words(&self) -> Option<Message> {
        let FieldKind::Number {
            format,
            least,
            most,
            usual,
            ..
        } = &self.kind
        else {
            return None;
        };
        let shown = |si: f64| in_unit(si, &format.main.unit, format.main.kind);
        let hard = match (least, most) {
            (Some(least), Some(most)) => Some(tell::range(&shown(*most), &shown(*least))),
            (Some(least), None) => Some(tell::or_more(&shown(*least))),
            (None, Some(most)) => Some(tell::or_less(&shown(*most))),
            (None, None) => None,
        };
        let usually = usual.map(|(low, high)| {
            let range = tell::range(&shown(high), &shown(low));
            tell::usually(&range)
        });
        match (hard, usually) {
            (Some(hard), Some(usually)) => Some(tell::hard_and_usual(&hard, &usually)),
            (hard, usually) => hard.or(usually),
        }
    }
}

impl Entry {
    pub fn value(&self) -> Value {
        match self {
            Entry::Number(typed) => Value::Number(typed.si),
            Entry::Choice(choice) => Value::Choice(choice.name.clone()),
        }
    }
}

/// At most so much of a typed text is repeated in a message.
fn clipped(text: &str) -> String {
    let mut clipped: String = text.trim().chars().take(40).collect();
    if clipped.len() < text.trim().len() {
        clipped.push('…');
    }
    clipped
}

#[cfg(test)]
mod tests;
