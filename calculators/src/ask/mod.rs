//! Questions in a person's own words: `guide tube 14 in channel`, `1000 bar in psi`.
//!
//! Each quantity is bound to an input by its dimension, by the words about it and by the input's
//! own limits, and the calculator is evaluated as any other time. Nothing that stands beside a
//! number is passed over: where it has no use the calculator gives no answer. What can be read two
//! ways is asked back, what is doubtful is told, and nothing is repaired.
//! It knows no pages, no search index and no wire format.

mod about;
mod asked;
mod best;
mod bind;
mod convert;
mod fit;
mod known;
mod scan;
mod smooth;
mod units;
mod words;

use crate::calculator::{Answer, InputSource};
use crate::catalog::{Catalog, Job};
use crate::unit::Dimension;
use best::best_first;
use bind::{BoundInputs, bindings};
use known::KnownCalculator;
use scan::{Quantity, ScannedItem, crossed, quantities};
use words::{QuestionWord, SmallWords, said};

pub use asked::{Asked, Conversion, Question, Reading, Told};

/// Later letters of a question are not read.
const MOST_BYTES: usize = 400;
const MOST_READINGS: usize = 3;
/// Readings nearer to the best one than this are shown beside it.
const CLOSE: f64 = 0.3;
/// The same where nothing but an input's name is said.
const NAMED_ALONE: f64 = 1.3;
/// What a calculator gains that is given all it takes: one of many inputs is seldom what is asked
/// with.
const FULL: f64 = 0.4;

/// Answers a question.
pub fn ask(catalog: &Catalog, job: &Job, question: &Question) -> Asked {
    let mut end = question.text.len().min(MOST_BYTES);
    while !question.text.is_char_boundary(end) {
        end -= 1;
    }
    let small = SmallWords::of(&catalog.language);
    let text = smooth::smooth(&question.text[..end], &small);
    let (items, told) = scan::scan(&text, &small);
    let said = said(&items, question, &small);
    let spellings = quantities(&items)
        .filter(|one| one.unit.is_some() && !one.bare && !one.guessed)
        .map(|one| (one.text.clone(), convert::spellings(one)));
    let conversion = convert::conversion(&text, &items, &said, &small);
    let mut asked = Asked {
        told,
        spellings: spellings.collect(),
        ..Asked::default()
    };
    // a number that may be two things is asked back before anything is made of the others
    if conversion.is_none() && asked.told.is_empty() {
        let given = quantities(&items).filter_map(|one| one.unit.as_ref());
        let given: Vec<Dimension> = given.map(|unit| unit.dimension).collect();
        let known: Vec<KnownCalculator> = catalog
            .calculators
            .values()
            .map(|calculator| KnownCalculator::of(calculator, catalog, &small, &said, &given))
            .collect();
        let ways = ways(&known, question, &items, &said);
        asked.readings = readings(catalog, job, &ways, &items, &said);
    }
    if asked.readings.is_empty() && conversion.is_none() {
        let doubts = quantities(&items).filter_map(|one| one.doubt.as_deref().cloned());
        asked.told.extend(doubts);
        // one piece of advice is enough for all that need it
        asked
            .told
            .dedup_by(|later, told| later.message == told.message);
    }
    asked.conversion = conversion;
    asked
}

/// A calculator with the inputs that a question gives it.
struct UnderstoodWay<'k, 'c> {
    known: &'k KnownCalculator<'c>,
    binding: BoundInputs,
    score: f64,
    /// Something that was said has no use in it.
    left: bool,
    /// No other calculator takes all the quantities that were said.
    only: bool,
}

/// Every way to understand a question.
fn ways<'k, 'c>(
    known: &'k [KnownCalculator<'c>],
    question: &Question,
    items: &[ScannedItem],
    said: &[QuestionWord],
) -> Vec<UnderstoodWay<'k, 'c>> {
    // a word that few calculators know says more, and one that none knows says nothing
    let weight = |word: &QuestionWord| match known.iter().filter(|known| known.knows(word)).count()
    {
        0 if word.unit.is_some() || !word.kinds.is_empty() => 1.0,
        0 => 0.0,
        known => 1.5 / (1.0 + 0.5 * libm::log(known as f64)),
    };
    let weights: Vec<f64> = said.iter().map(weight).collect();
    let mut ways: Vec<UnderstoodWay> = Vec::new();
    let mut takers = 0;
    for known in known {
        let name = &known.calculator.name;
        let mut candidates = question.candidates.iter();
        let place = candidates.position(|candidate| candidate == name);
        let found = place.map_or(0.0, |place| 0.8 / (1.0 + place as f64));
        let bindings = bindings(known, items, said, place == Some(0));
        takers += usize::from(bindings.iter().any(|binding| binding.unbound == 0));
        for binding in bindings {
            let share = binding.inputs.len() as f64 / known.inputs.len() as f64;
            let mut way = UnderstoodWay {
                known,
                score: binding.score + found + FULL * share,
                binding,
                left: false,
                only: false,
            };
            if let Some((words, left)) = way.words(items, said, &weights) {
                way.score += words;
                way.left = left;
                ways.push(way);
            }
        }
    }
    let several = quantities(items).count() > 1;
    for way in &mut ways {
        way.only = several && takers == 1 && way.binding.unbound == 0 && !way.binding.guessed;
    }
    // what leaves nothing over is meant before what does
    if ways.iter().any(|way| !way.left) {
        ways.retain(|way| !way.left);
    }
    ways
}

/// The ways worth telling, worked out.
fn readings(
    catalog: &Catalog,
    job: &Job,
    ways: &[UnderstoodWay<'_, '_>],
    items: &[ScannedItem],
    said: &[QuestionWord],
) -> Vec<Reading> {
    let scores: Vec<f64> = ways.iter().map(|way| way.score).collect();
    // a name that several calculators know says nothing of which of them is meant
    let best = ways.iter().max_by(|a, b| a.score.total_cmp(&b.score));
    let close = if best.is_some_and(|way| way.is_but_a_name(said)) {
        NAMED_ALONE
    } else {
        CLOSE
    };
    let mut places = best_first(&scores, close, MOST_READINGS);
    // whose title is said is meant before what merely takes the same
    let several = quantities(items).count() > 1;
    if let Some(first) = places.first().map(|place| ways[*place].known)
        && first.is_half_named(said)
        && several
    {
        places.retain(|place| ways[*place].known.is_titled(said));
    }
    // several ways, of calculators that are hardly asked for, are no question worth asking
    let is_twice = |place: &usize| {
        let known = ways[*place].known;
        let same = places
            .iter()
            .filter(|other| std::ptr::eq(ways[**other].known, known));
        same.count() > 1 && !known.is_surely_asked(said)
    };
    let is_asked = |place: &usize| ways[*place].known.is_asked(said);
    if places.len() > 1 && (several && places.iter().any(is_twice) || !places.iter().any(is_asked))
    {
        places.clear();
    }
    let mut readings: Vec<Reading> = places
        .into_iter()
        .filter_map(|place| ways[place].reading(catalog, job, items, said))
        .collect();
    // what gives no answer is worth telling only where nothing else is meant
    let fault = |reading: &Reading| {
        usize::from(!reading.answer.doubts.is_empty())
            + 2 * usize::from(!reading.answer.problems.is_empty())
    };
    let least = readings.iter().map(fault).min().unwrap_or(0);
    readings.retain(|reading| fault(reading) == least);
    readings
}

impl UnderstoodWay<'_, '_> {
    /// Whether a word has its use in this way.
    fn uses(&self, word: &QuestionWord, said: &[QuestionWord]) -> bool {
        self.known.titles(word)
            || self.known.gives(word, said)
            || self.binding.chose.contains(&word.place)
            || self.calls(word)
    }

    /// Whether a word is what one of the given inputs is called.
    fn calls(&self, word: &QuestionWord) -> bool {
        let mut inputs = self.binding.inputs.iter();
        inputs.any(|at| self.known.inputs[*at].knows(word))
    }

    /// Whether every input is given.
    fn is_full(&self) -> bool {
        self.binding.inputs.len() == self.known.inputs.len()
    }

    /// Whether all that is said is what its inputs are called.
    fn is_but_a_name(&self, said: &[QuestionWord]) -> bool {
        !self.known.is_named(said) && said.iter().all(|word| self.calls(word))
    }

    /// How much the words of a question speak of this calculator, and whether something that was
    /// said has no use in it; `None` where too few words speak of it.
    fn words(
        &self,
        items: &[ScannedItem],
        said: &[QuestionWord],
        weights: &[f64],
    ) -> Option<(f64, bool)> {
        let mut left = self.binding.unbound > 0 || self.leaves_a_neighbour(items, said);
        // a question of nothing but a quantity is answered where it can be but one
        if said.is_empty() {
            let bare = quantities(items).any(|one| one.bare);
            return (!self.binding.guessed && !bare && !left).then_some((0.0, false));
        }
        let bare = quantities(items).any(|one| one.unit.is_none());
        let (mut score, mut met, mut meant) = (0.0, 0, 0);
        for (word, weight) in said.iter().zip(weights) {
            let uses = self.uses(word, said);
            // a bare number may be what another calculator's word says
            let elsewhere = word.unit.is_some() || (bare && *weight > 0.0);
            let chose = self.binding.chose.contains(&word.place);
            let changes =
                word.changes && !chose && !self.known.says_whole(word, said, &self.binding.inputs);
            left |= changes || (!uses && elsewhere) || (!chose && word.denies());
            meant += usize::from(*weight > 0.0);
            if uses {
                met += 1;
                // a kind of quantity is most often asked for, and names no calculator by itself
                let titles = self.known.titles(word) && !self.known.says_kind_alone(word, said);
                score += if titles { 1.0 } else { 0.6 } * weight;
            } else if *weight > 0.0 {
                score -= 0.4 + 0.4 * weight;
            }
        }
        if self.known.is_named(said) {
            score += 1.8;
        }
        if self.known.names_result(said) || self.known.mainly_gives(said) {
            score += 0.8;
        }
        // what leaves something over is asked back where the calculator is asked for
        let speaks = match left {
            true => {
                let half = 2 * self.binding.unbound <= quantities(items).count();
                let unit = self.leaves_a_unit(items, said, weights);
                let asks = |word: &&QuestionWord| word.unit.is_some() || !word.kinds.is_empty();
                let mut asks = said.iter().filter(asks);
                let given = asks.all(|word| self.uses(word, said));
                let several = self.binding.inputs.len() > 1
                    && !self.leaves_one_of_a_kind(items)
                    && self.known.is_asked(said);
                half && !unit && given && (several || self.known.is_surely_asked(said))
            }
            false => met * 2 > meant && score > 0.0,
        };
        speaks.then_some((score, left))
    }

    /// Whether a quantity that it leaves is of the kind of one that it takes: `12 gpm at 800 bar,
    /// how much at 1000 bar` compares two.
    fn leaves_one_of_a_kind(&self, items: &[ScannedItem]) -> bool {
        let kind = |one: &Quantity| one.unit.as_ref().map(|unit| unit.dimension);
        let is_taken = |one: &Quantity| {
            self.binding
                .given
                .iter()
                .any(|given| given.text == one.text)
        };
        let mut left = quantities(items).filter(|one| one.unit.is_some() && !is_taken(one));
        left.any(|one| quantities(items).any(|other| is_taken(other) && kind(other) == kind(one)))
    }

    /// Whether the word right behind a bare number is one that nobody knows: it may be a unit.
    fn leaves_a_unit(&self, items: &[ScannedItem], said: &[QuestionWord], weights: &[f64]) -> bool {
        let is_bare = |place: usize| {
            let quantity = items[place].quantity();
            quantity.is_some_and(|one| one.unit.is_none())
        };
        let mut behind = said.iter().zip(weights);
        behind.any(|(word, weight)| *weight == 0.0 && word.place > 0 && is_bare(word.place - 1))
    }

    /// Whether a word right beside a quantity has no use.
    fn leaves_a_neighbour(&self, items: &[ScannedItem], said: &[QuestionWord]) -> bool {
        let leaves = |place: usize| {
            let before = said.iter().rev().find(|word| word.place < place);
            let after = said.iter().find(|word| word.place > place);
            let mut beside = before.into_iter().chain(after);
            beside.any(|word| !crossed(items, place, word.place) && !self.uses(word, said))
        };
        let mut places = 0..items.len();
        places.any(|place| items[place].quantity().is_some() && leaves(place))
    }

    fn reading(
        &self,
        catalog: &Catalog,
        job: &Job,
        items: &[ScannedItem],
        said: &[QuestionWord],
    ) -> Option<Reading> {
        let calculator = self.known.calculator;
        let given = &self.binding.given;
        let mut answer = catalog.calculate(&calculator.name, given, job)?;
        // what it can't take is told to whoever names it
        if !answer.problems.is_empty() && !self.known.is_named(said) {
            return None;
        }
        self.order(&mut answer, said);
        let mut quantities = quantities(items);
        let has_unit = quantities.any(|one| one.unit.is_some());
        let left = said.iter().filter(|word| !self.uses(word, said));
        let left = left.map(|word| word.typed().to_string());
        let left: Vec<String> = left.chain(self.binding.idle.iter().cloned()).collect();
        let example = self.rests_on_an_example(&answer);
        Some(Reading {
            title: calculator.title.clone(),
            given: given.clone(),
            answer,
            sure: has_unit && said.iter().all(|word| self.known.knows(word)),
            left,
            guessed: self.binding.guessed,
            unsure: self.left
                || self.binding.unsure
                || example
                || !(self.known.is_asked(said) || self.is_full() || self.only),
        })
    }

    /// Whether what people ask with was not said, and is only what the page begins with.
    fn rests_on_an_example(&self, answer: &Answer) -> bool {
        let inputs = answer.inputs.iter();
        let mut examples = inputs.filter(|one| one.source == InputSource::Default);
        examples.any(|one| {
            let mut known = self.known.calculator.inputs.iter().zip(&self.known.inputs);
            known.any(|(input, known)| input.field.name == one.name && !known.quiet)
        })
    }

    /// Puts the outputs first that are asked for by unit or by words that the title doesn't say.
    fn order(&self, answer: &mut Answer, said: &[QuestionWord]) {
        let score = |name: &str| {
            let output = self.known.calculator.output(name);
            output.map_or(0.0, |output| {
                self.known.asks_for(output, said, &self.binding.inputs)
            })
        };
        let outputs = answer.outputs.iter();
        let scores: Vec<f64> = outputs.map(|output| score(&output.name)).collect();
        let places = best_first(&scores, f64::INFINITY, usize::MAX);
        answer.outputs = places
            .into_iter()
            .map(|place| answer.outputs[place].clone())
            .collect();
    }
}

#[cfg(test)]
mod convert_tests;
#[cfg(test)]
mod result_tests;
#[cfg(test)]
mod tests;
