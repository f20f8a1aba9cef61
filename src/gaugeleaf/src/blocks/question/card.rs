//! A card of readings that a question shows.

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::field::FieldKind;
use gaugeleaf_calc::finding::settings::Binding;
use serde::Serialize;
use serde_json::{Map, Value};

use crate::blocks::question::say::spaced;

/// A line of the card as the page shows it first.
#[derive(Debug, Serialize)]
pub struct CardLine {
    pub name: String,
    pub label: String,
    pub text: String,
}

/// One variant of the card: what other lines say then, which answer is right, and why.
#[derive(Debug, Serialize)]
pub struct CardCase {
    pub shown: Map<String, Value>,
    pub right: usize,
    pub because: String,
}

/// The card's lines: what is given, and over it what this variant shows.
pub fn card(
    calculator: &Calculator,
    given: &[Binding],
    shown: &Map<String, Value>,
) -> Vec<CardLine> {
    let of = |name: &str| {
        let own = shown.get(name).and_then(Value::as_str).map(str::to_string);
        own.or_else(|| {
            let one = given.iter().find(|one| one.name.value == name)?;
            Some(one.text.value.clone())
        })
    };
    let lines = calculator.inputs.iter().filter_map(|input| {
        let text = of(&input.field.name)?;
        let text = match &input.field.kind {
            FieldKind::Choice(choices) => {
                let chosen = choices.iter().find(|one| one.name == text);
                chosen.map_or(text, |one| one.label.clone())
            }
            FieldKind::Number { .. } => spaced(&text),
        };
        Some(CardLine {
            name: input.field.name.clone(),
            label: input.field.label.clone(),
            text,
        })
    });
    lines.collect()
}
