//! Which piece of a question belongs to which input of a calculator.

use super::about::Asking;
use super::best::best_first;
use super::fit::InputFit;
use super::known::{KnownCalculator, KnownInput};
use super::scan::{Quantity, ScannedItem};
use super::words::QuestionWord;
use crate::calculator::Argument;
use crate::field::FieldKind;
use crate::unit::Dimension;

/// Quantities beyond these are left over.
const MOST_QUANTITIES: usize = 6;
/// Inputs that are tried for one quantity.
const MOST_INPUTS: usize = 4;
/// Bindings nearer to the best one than this are as good.
const AS_GOOD: f64 = 0.25;

/// Pieces of a question with the inputs that they are taken for.
#[derive(Debug, Clone, Default)]
pub(super) struct BoundInputs {
    pub given: Vec<Argument>,
    /// The places of the inputs.
    pub inputs: Vec<usize>,
    /// The words that chose among choices, by their places.
    pub chose: Vec<usize>,
    pub score: f64,
    /// Nothing that was said spoke for an input, or a number was read as what isn't written.
    pub guessed: bool,
    /// A quantity was said to be a result, not an input.
    pub unsure: bool,
    pub unbound: usize,
    /// Quantities that change nothing here.
    pub idle: Vec<String>,
}

/// The bindings worth showing, best first; several only where none is better.
pub(super) fn bindings(
    known: &KnownCalculator<'_>,
    items: &[ScannedItem],
    said: &[QuestionWord],
    found_first: bool,
) -> Vec<BoundInputs> {
    let chosen = choose(known, items, said);
    let question = Asking {
        known,
        items,
        said,
        found_first,
        side: side(known, items, said),
    };
    let mut pairs = Vec::new();
    for (place, item) in items.iter().enumerate() {
        let Some(quantity) = item.quantity() else {
            continue;
        };
        // `90 degrees` has said which layout it is
        if chosen.chose.contains(&place) {
            continue;
        }
        let fits = question.fits(place, quantity);
        let scores: Vec<f64> = fits.iter().map(|fit| fit.score).collect();
        let places = best_first(&scores, f64::INFINITY, MOST_INPUTS);
        let fits = places
            .into_iter()
            .map(|place| fits[place].clone())
            .collect();
        pairs.push((quantity, fits));
    }
    pairs.truncate(MOST_QUANTITIES);
    let mut found = Vec::new();
    extend(known, &pairs, &chosen, &mut found);
    let scores: Vec<f64> = found.iter().map(|binding| binding.score).collect();
    let places = best_first(&scores, AS_GOOD, 3);
    places
        .into_iter()
        .map(|place| found[place].clone())
        .collect()
}

/// Whether each of several quantities has words of inputs before it and none stands right behind
/// the last (`true`), or the other way about (`false`).
fn side(known: &KnownCalculator<'_>, items: &[ScannedItem], said: &[QuestionWord]) -> Option<bool> {
    let names = |word: &QuestionWord| {
        !known.titles(word) && known.inputs.iter().any(|input| input.knows(word))
    };
    let places = items.iter().enumerate();
    let places = places.filter(|(_, item)| item.quantity().is_some());
    let places: Vec<usize> = places.map(|(place, _)| place).collect();
    let (first, last) = (*places.first()?, *places.last()?);
    let before = said.iter().rfind(|word| word.place < first);
    let behind = said.iter().find(|word| word.place > last);
    let (before, behind) = (before.is_some_and(names), behind.is_some_and(names));
    let apart = places.windows(2).all(|pair| {
        let mut between = said.iter();
        between.any(|word| (pair[0]..pair[1]).contains(&word.place) && names(word))
    });
    (places.len() > 1 && apart && before != behind).then_some(before)
}

type Pair<'q> = (&'q Quantity, Vec<InputFit>);

fn extend(
    known: &KnownCalculator<'_>,
    pairs: &[Pair<'_>],
    so_far: &BoundInputs,
    found: &mut Vec<BoundInputs>,
) {
    let Some(((quantity, fits), rest)) = pairs.split_first() else {
        if !so_far.given.is_empty() {
            found.push(so_far.clone());
        }
        return;
    };
    let mut bound = false;
    for fit in fits {
        if so_far.inputs.contains(&fit.at) {
            continue;
        }
        bound = true;
        let mut next = so_far.clone();
        let name = &known.calculator.inputs[fit.at].field.name;
        next.given.push(Argument {
            confirmed: true,
            ..Argument::new(name, fit.text.as_ref().unwrap_or(&quantity.text))
        });
        next.inputs.push(fit.at);
        next.score += fit.score;
        next.guessed |= fit.guessed || quantity.guessed;
        next.unsure |= fit.unsure;
        extend(known, rest, &next, found);
    }
    if !bound {
        let mut next = so_far.clone();
        if known.is_idle(quantity) {
            next.score -= 0.3;
            next.idle.push(quantity.text.clone());
        } else {
            next.score -= 1.5;
            next.unbound += 1;
        }
        extend(known, rest, &next, found);
    }
}

/// The choices that are said, and `no lane` as a lane of none.
fn choose(
    known: &KnownCalculator<'_>,
    items: &[ScannedItem],
    said: &[QuestionWord],
) -> BoundInputs {
    let mut chosen = BoundInputs::default();
    for (at, input) in known.inputs.iter().enumerate() {
        let field = &known.calculator.inputs[at].field;
        let text = match &field.kind {
            FieldKind::Choice(choices) => {
                chosen_of(known, input, items, said).map(|(choice, places)| {
                    chosen.chose.extend(places);
                    choices[choice].name.clone()
                })
            }
            FieldKind::Number { .. } => without(input, said)
                .filter(|_| field.take("0", None, true).is_ok())
                .map(|places| {
                    chosen.chose.extend(places);
                    "0".to_string()
                }),
        };
        if let Some(text) = text {
            chosen.given.push(Argument::new(&field.name, &text));
            chosen.inputs.push(at);
            chosen.score += 0.5;
        }
    }
    chosen
}

/// The choice most of whose words are said, and where; none where two are said as well.
fn chosen_of(
    known: &KnownCalculator<'_>,
    input: &KnownInput,
    items: &[ScannedItem],
    said: &[QuestionWord],
) -> Option<(usize, Vec<usize>)> {
    let mut best: Option<(usize, usize, Vec<usize>)> = None;
    let mut tied = false;
    for (choice, phrases) in input.choices.iter().enumerate() {
        // words of the title name the calculator
        let of_its_own =
            |phrase: &&Vec<String>| phrase.iter().any(|part| !known.title.contains(part));
        for phrase in phrases.iter().filter(of_its_own) {
            let places = said_at(phrase, items, said);
            let Some(places) = places.filter(|places| !is_denied(said, places)) else {
                continue;
            };
            let length = phrase.len();
            match &best {
                Some((most, other, _)) if *most > length || *other == choice => {}
                Some((most, ..)) if *most == length => tied = true,
                _ => {
                    tied = false;
                    best = Some((length, choice, places));
                }
            }
        }
    }
    best.filter(|_| !tied)
        .map(|(_, choice, places)| (choice, places))
}

/// Where all the words of a phrase are said, its numbers as quantities with the unit beside them.
fn said_at(phrase: &[String], items: &[ScannedItem], said: &[QuestionWord]) -> Option<Vec<usize>> {
    let mut places: Vec<usize> = Vec::new();
    // a quantity has its unit with it
    for part in phrase.iter().filter(|part| *part != "degrees") {
        let place = if part.bytes().all(|byte| byte.is_ascii_digit()) {
            items.iter().position(|item| is_angle(item, part))
        } else {
            let words = said.iter().filter(|word| word.is(part));
            let free = words.filter(|word| !places.contains(&word.place));
            let free = free.min_by_key(|word| !word.says(part));
            free.map(|word| word.place)
        };
        places.push(place?);
    }
    (!places.is_empty()).then_some(places)
}

fn is_angle(item: &ScannedItem, degrees: &str) -> bool {
    let Some(quantity) = item.quantity() else {
        return false;
    };
    let unit = quantity.unit.as_ref();
    unit.is_some_and(|unit| unit.dimension == Dimension::ANGLE)
        && quantity.text.split(|c: char| !c.is_ascii_digit()).next() == Some(degrees)
}

/// Whether `no` or `without` stands right before one of these places.
fn is_denied(said: &[QuestionWord], places: &[usize]) -> bool {
    let mut denials = said.iter().filter(|word| word.denies());
    denials.any(|word| places.contains(&(word.place + 1)))
}

/// Where `no` and the name of an input are said one after the other.
fn without(input: &KnownInput, said: &[QuestionWord]) -> Option<Vec<usize>> {
    let mut pairs = said.windows(2);
    let pair = pairs.find(|pair| {
        pair[0].denies() && pair[1].place == pair[0].place + 1 && input.knows(&pair[1])
    })?;
    Some(vec![pair[0].place, pair[1].place])
}
