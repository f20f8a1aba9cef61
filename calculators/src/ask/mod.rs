//! Questions in a person's own words: `guide tube 14 in channel`, `1000 bar in psi`.
//!
//! Each quantity is bound to an input by its dimension, by the words about it and by the input's
//! own limits, and the calculator is evaluated as any other time. What can be read two ways comes
//! back as two readings, what is doubtful is told, and nothing is repaired.
//! It knows no pages, no search index and no wire format.

mod asked;
mod best;
mod bind;
mod convert;
mod scan;
mod words;

use crate::calculator::{Answer, Calculator};
use crate::catalog::{Catalog, Job};
use best::best_first;
use bind::{BoundInput, bindings};
use scan::ScannedItem;
use words::{QuestionWord, is_small, said, words};

pub use asked::{Asked, Conversion, Question, Reading, Told};

/// Later letters of a question are not read.
const MOST_BYTES: usize = 400;
const MOST_READINGS: usize = 3;
/// Readings nearer to the best one than this are shown beside it.
const CLOSE: f64 = 0.3;

/// Answers a question.
pub fn ask(catalog: &Catalog, job: &Job, question: &Question) -> Asked {
    let mut end = question.text.len().min(MOST_BYTES);
    while !question.text.is_char_boundary(end) {
        end -= 1;
    }
    let text = &question.text[..end];
    let (items, told) = scan::scan(text);
    let said = said(&items, question);
    let spellings = items.iter().filter_map(|item| match item {
        ScannedItem::Quantity(quantity) if quantity.unit.is_some() => {
            Some((quantity.text.clone(), convert::spellings(quantity)))
        }
        _ => None,
    });
    let asks_nothing_else = said.iter().all(|word| {
        let last = items
            .iter()
            .rposition(|item| matches!(item, ScannedItem::Quantity(_)));
        last.is_some_and(|last| word.place > last)
    });
    let conversion = convert::conversion(text, &items, asks_nothing_else);
    let mut asked = Asked {
        told,
        spellings: spellings.collect(),
        ..Asked::default()
    };
    // a number that may be two things is asked back before anything is made of the others
    if conversion.is_none() && asked.told.is_empty() && !said.is_empty() {
        asked.readings = readings(catalog, job, question, &items, &said);
    }
    asked.conversion = conversion;
    asked
}

fn readings(
    catalog: &Catalog,
    job: &Job,
    question: &Question,
    items: &[ScannedItem],
    said: &[QuestionWord],
) -> Vec<Reading> {
    let labels: Vec<Labels> = catalog.calculators.values().map(Labels::of).collect();
    // a word that few calculators know says more
    let weights: Vec<f64> = said
        .iter()
        .map(|word| {
            match labels
                .iter()
                .filter(|labels| word.is_in(&labels.all))
                .count()
            {
                0 => 0.0,
                known => 1.5 / (1.0 + 0.5 * libm::log(known as f64)),
            }
        })
        .collect();
    let mut ways: Vec<(f64, &Labels, BoundInput)> = Vec::new();
    for labels in &labels {
        for binding in bindings(labels.calculator, items, said, labels.is_named(said)) {
            if let Some(score) = labels.score(&binding, said, &weights) {
                let name = &labels.calculator.name;
                let place = question
                    .candidates
                    .iter()
                    .position(|candidate| candidate == name);
                let found = place.map_or(0.0, |place| 0.8 / (1.0 + place as f64));
                ways.push((score + binding.score + found, labels, binding));
            }
        }
    }
    let scores: Vec<f64> = ways.iter().map(|(score, ..)| *score).collect();
    let places = best_first(&scores, CLOSE, MOST_READINGS);
    let has_unit = items
        .iter()
        .any(|item| matches!(item, ScannedItem::Quantity(quantity) if quantity.unit.is_some()));
    let mut readings = Vec::new();
    for place in places {
        let (_, labels, binding) = &ways[place];
        let calculator = labels.calculator;
        if let Some(mut answer) = catalog.calculate(&calculator.name, &binding.given, job) {
            labels.order(&mut answer, said);
            let (title, given) = (calculator.title.clone(), binding.given.clone());
            let sure = has_unit && said.iter().all(|word| word.is_in(&labels.all));
            readings.push(Reading {
                title,
                given,
                answer,
                sure,
            });
        }
    }
    // what gives no answer is worth telling only where nothing else is meant
    let answered = readings
        .iter()
        .any(|reading| reading.answer.problems.is_empty());
    readings.retain(|reading| !answered || reading.answer.problems.is_empty());
    readings
}

/// The words that a calculator is known by.
struct Labels<'c> {
    calculator: &'c Calculator,
    title: Vec<String>,
    outputs: Vec<Vec<String>>,
    all: Vec<String>,
}

impl<'c> Labels<'c> {
    fn of(calculator: &'c Calculator) -> Labels<'c> {
        let title = words(&calculator.title);
        let outputs: Vec<Vec<String>> = calculator
            .results()
            .map(|output| words(&output.label))
            .collect();
        let inputs = calculator
            .inputs
            .iter()
            .flat_map(|input| words(&input.field.label));
        let all = title
            .iter()
            .chain(outputs.iter().flatten())
            .cloned()
            .chain(inputs)
            .collect();
        Labels {
            calculator,
            title,
            outputs,
            all,
        }
    }

    /// Whether a question says the whole title.
    fn is_named(&self, said: &[QuestionWord]) -> bool {
        let says = |part: &String| {
            is_small(part)
                || said
                    .iter()
                    .any(|word| word.is_in(std::slice::from_ref(part)))
        };
        self.title.iter().all(says)
    }

    /// How much of a question speaks of this calculator; `None` where too little does.
    fn score(&self, binding: &BoundInput, said: &[QuestionWord], weights: &[f64]) -> Option<f64> {
        let (mut score, mut met) = (0.0, 0);
        for (word, weight) in said.iter().zip(weights) {
            let bound = || {
                let inputs = binding
                    .given
                    .iter()
                    .filter_map(|given| self.calculator.input(&given.name));
                inputs
                    .into_iter()
                    .any(|input| word.is_in(&words(&input.field.label)))
            };
            let share = if word.is_in(&self.title) {
                1.0
            } else if self.outputs.iter().any(|output| word.is_in(output)) || bound() {
                0.6
            } else if word.is_in(&self.all) {
                0.2
            } else {
                score -= 0.4 + 0.4 * weight;
                continue;
            };
            met += 1;
            score += share * weight;
        }
        if self.is_named(said) {
            score += 1.0;
        }
        (met * 2 > said.len() && score > 0.0 && binding.unbound < binding.given.len())
            .then_some(score)
    }

    /// Puts the outputs first whose labels say most of the question.
    fn order(&self, answer: &mut Answer, said: &[QuestionWord]) {
        let mut scores = Vec::new();
        for output in &answer.outputs {
            let label = words(&output.label);
            let mut met = 0.0;
            for word in said.iter().filter(|word| word.is_in(&label)) {
                met += if word.is_in(&self.title) { 1.0 } else { 2.0 };
            }
            scores.push(met);
        }
        let places = best_first(&scores, f64::INFINITY, usize::MAX);
        answer.outputs = places
            .into_iter()
            .map(|place| answer.outputs[place].clone())
            .collect();
    }
}

#[cfg(test)]
mod tests;
