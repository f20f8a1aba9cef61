//! A card of readings that a question shows.

use std::ops::Range;

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::field::FieldKind;
use gaugeleaf_calc::finding::Finding;
use gaugeleaf_calc::finding::settings::Binding;
use serde::Serialize;
use serde_json::Value;

use crate::blocks::calculator_fence::calculator;
use crate::blocks::question::say::{missing, spaced};
use crate::blocks::question::settings::QuestionSettings;
use crate::page::context::Context;

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
    pub shown: Value,
    pub right: usize,
    pub because: String,
}

/// The calculator of a question with a card.
pub fn named<'c>(
    wanted: &QuestionSettings,
    word: &Range<usize>,
    context: &Context<'c>,
) -> Result<&'c Calculator, Finding> {
    let Some(name) = &wanted.calculator else {
        let message = "this question names no calculator";
        return Err(missing("calculator", message, word, context));
    };
    calculator(name, context)
}

/// The inputs that the card shows, in the calculator's order.
pub fn inputs<'c>(calculator: &'c Calculator, given: &[Binding]) -> impl Iterator<Item = &'c str> {
    let names: Vec<&str> = given.iter().map(|one| one.name.value.as_str()).collect();
    let all = calculator
        .inputs
        .iter()
        .map(|input| input.field.name.as_str());
    all.filter(move |name| names.contains(name))
        .collect::<Vec<_>>()
        .into_iter()
}

/// The card's lines: what is given, and over it what this variant shows.
pub fn card(calculator: &Calculator, given: &[Binding], shown: &Value) -> Vec<CardLine> {
    let of = |name: &str| {
        let own = shown.get(name).and_then(Value::as_str).map(str::to_string);
        own.or_else(|| {
            let one = given.iter().find(|one| one.name.value == name)?;
            Some(spaced(&one.text.value))
        })
    };
    let lines = calculator.inputs.iter().filter_map(|input| {
        let text = of(&input.field.name)?;
        let text = match &input.field.kind {
            FieldKind::Choice(choices) => {
                let chosen = choices.iter().find(|one| one.name == text);
                chosen.map_or(text, |one| one.label.clone())
            }
            FieldKind::Number { .. } => text,
        };
        Some(CardLine {
            name: input.field.name.clone(),
            label: input.field.label.clone(),
            text,
        })
    });
    lines.collect()
}
