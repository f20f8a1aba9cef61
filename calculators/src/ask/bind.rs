//! Which quantity of a question belongs to which input of a calculator.

use super::best::best_first;
use super::scan::{Quantity, ScannedItem};
use super::words::{QuestionWord, words};
use crate::calculator::{Argument, Calculator, Input};
use crate::field::FieldKind;

/// Quantities beyond these are left over.
const MOST_QUANTITIES: usize = 6;
/// Inputs that are tried for one quantity.
const MOST_INPUTS: usize = 4;
/// Words farther from a quantity say nothing about it.
const FARTHEST: usize = 4;

/// Each quantity with the input that it is taken for.
#[derive(Debug, Clone)]
pub(super) struct BoundInput {
    pub given: Vec<Argument>,
    pub score: f64,
    pub unbound: usize,
}

/// The bindings worth showing, best first; two only where neither is better.
pub(super) fn bindings(
    calculator: &Calculator,
    items: &[ScannedItem],
    said: &[QuestionWord],
    named: bool,
) -> Vec<BoundInput> {
    let title = words(&calculator.title);
    // words that name the calculator say little of an input, and next to nothing where they are its whole title
    let titled = if named { 0.05 } else { 0.3 };
    let mut pairs = Vec::new();
    for (place, item) in items.iter().enumerate() {
        let ScannedItem::Quantity(quantity) = item else {
            continue;
        };
        let mut fits: Vec<(f64, usize)> = Vec::new();
        for (at, input) in calculator.inputs.iter().enumerate() {
            if let Some(score) = fit(
                input,
                quantity,
                nearness(input, place, items, said, (&title, titled)),
            ) {
                fits.push((score, at));
            }
        }
        let scores: Vec<f64> = fits.iter().map(|(score, _)| *score).collect();
        let places = best_first(&scores, f64::INFINITY, MOST_INPUTS);
        let fits = places.into_iter().map(|place| fits[place]).collect();
        pairs.push((quantity, fits));
    }
    pairs.truncate(MOST_QUANTITIES);
    let mut found = Vec::new();
    let none = BoundInput {
        given: Vec::new(),
        score: 0.0,
        unbound: 0,
    };
    extend(calculator, &pairs, &none, &mut found);
    let scores: Vec<f64> = found.iter().map(|binding| binding.score).collect();
    let places = best_first(&scores, 0.1, 2);
    places
        .into_iter()
        .map(|place| found[place].clone())
        .collect()
}

type Pair<'q> = (&'q Quantity, Vec<(f64, usize)>);

fn extend(
    calculator: &Calculator,
    pairs: &[Pair<'_>],
    so_far: &BoundInput,
    found: &mut Vec<BoundInput>,
) {
    let Some(((quantity, fits), rest)) = pairs.split_first() else {
        if !so_far.given.is_empty() {
            found.push(so_far.clone());
        }
        return;
    };
    let mut bound = false;
    for &(score, at) in fits {
        let name = &calculator.inputs[at].field.name;
        if so_far.given.iter().any(|given| given.name == *name) {
            continue;
        }
        bound = true;
        let mut next = so_far.clone();
        next.given.push(Argument {
            confirmed: true,
            ..Argument::new(name, &quantity.text)
        });
        next.score += score;
        extend(calculator, rest, &next, found);
    }
    if !bound {
        let mut next = so_far.clone();
        next.score -= 1.5;
        next.unbound += 1;
        extend(calculator, rest, &next, found);
    }
}

/// How much the words about a quantity speak for an input. Words of the calculator's title name
/// the calculator first, and words beyond another quantity belong to that one first.
fn nearness(
    input: &Input,
    place: usize,
    items: &[ScannedItem],
    said: &[QuestionWord],
    (title, titled): (&[String], f64),
) -> f64 {
    let label = words(&input.field.label);
    let mut sum = 0.0;
    for word in said.iter().filter(|word| word.is_in(&label)) {
        let (low, high) = (place.min(word.place), place.max(word.place));
        let gap = high - low;
        if gap > FARTHEST {
            continue;
        }
        let crossed = items[low + 1..high]
            .iter()
            .any(|item| matches!(item, ScannedItem::Quantity(_)));
        let mut weight = 1.0 / gap.max(1) as f64;
        if word.is_in(title) {
            weight *= titled;
        }
        if crossed {
            weight *= 0.3;
        }
        sum += weight;
    }
    sum
}

/// How well a quantity fits an input; `None` where it is of another kind.
fn fit(input: &Input, quantity: &Quantity, near: f64) -> Option<f64> {
    let FieldKind::Number { want, format, .. } = &input.field.kind else {
        return None;
    };
    let kind = match &quantity.unit {
        Some(unit) if unit.dimension != want.unit.dimension => return None,
        Some(unit) if unit.symbol == format.main.unit.symbol => 1.2,
        Some(_) => 1.0,
        // a bare number is what its neighbours say it is
        None if near > 0.0 => 0.8,
        None => return None,
    };
    let band = match input.field.take(&quantity.text, None, false) {
        Ok(_) => 0.6,
        Err(refusal) if refusal.doubtful => 0.2,
        Err(_) => -0.8,
    };
    Some(kind + band + near)
}
