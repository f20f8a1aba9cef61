//! The words that a calculator, its inputs, its choices and its outputs are known by.

use super::scan::Quantity;
use super::words::{QuestionWord, SmallWords, words};
use crate::calculator::{Calculator, Input, Output, OutputKind};
use crate::catalog::Catalog;
use crate::field::FieldKind;
use crate::named::Role;
use crate::unit::{Dimension, Unit};

/// What is said for one thing: its label, and what else people call it, as words that say
/// something.
type Phrases = Vec<Vec<String>>;

pub(super) struct KnownCalculator<'c> {
    pub calculator: &'c Calculator,
    pub title: Vec<String>,
    /// What else people say for it, of what is said.
    also: Phrases,
    pub inputs: Vec<KnownInput>,
    pub outputs: Vec<KnownOutput<'c>>,
}

pub(super) struct KnownOutput<'c> {
    name: &'c str,
    pub label: Vec<String>,
    /// What else people say for it, of what is said.
    pub also: Phrases,
    /// What its kind of quantity is called: a pressure.
    kind: Vec<String>,
    /// Another of its kind is given.
    given: bool,
    pub dimension: Option<Dimension>,
}

pub(super) struct KnownInput {
    pub phrases: Phrases,
    /// The crew takes it on the job.
    pub measured: bool,
    /// The equipment has it, or it is as a rule what it is, and nobody asks with it: said by its
    /// whole name or not at all.
    pub quiet: bool,
    /// What kind of quantity it is.
    dimension: Option<Dimension>,
    /// Of each choice, where it is one.
    pub choices: Vec<Phrases>,
}

impl<'c> KnownCalculator<'c> {
    pub fn of(
        calculator: &'c Calculator,
        catalog: &Catalog,
        small: &SmallWords,
        said: &[QuestionWord],
        given: &[Dimension],
    ) -> KnownCalculator<'c> {
        let outputs = calculator.results();
        let outputs = outputs.map(|output| KnownOutput {
            name: &output.name,
            label: small.content(&output.label),
            // what may stand for one of these words is most often something else
            also: phrases(&output.called, small, |called| {
                let mut parts = called.iter();
                parts.all(|part| said.iter().any(|word| word.says(part)))
            }),
            kind: dimension(&output.kind).map_or_else(Vec::new, |dimension| {
                small.content(&catalog.language.say(&dimension.a_name()))
            }),
            given: dimension(&output.kind).is_some_and(|dimension| given.contains(&dimension)),
            dimension: dimension(&output.kind),
        });
        let inputs = calculator.inputs.iter();
        KnownCalculator {
            calculator,
            title: small.content(&calculator.title),
            also: phrases(&calculator.also, small, |also| is_said(also, said)),
            outputs: outputs.collect(),
            inputs: inputs
                .map(|input| KnownInput::of(input, catalog, small))
                .collect(),
        }
    }

    /// Whether a quantity is of a kind that changes nothing here.
    pub fn is_idle(&self, quantity: &Quantity) -> bool {
        let unit = quantity.unit.as_ref();
        unit.is_some_and(|unit| self.calculator.idle.contains(&unit.dimension))
    }

    /// Whether a question says the whole title.
    pub fn is_named(&self, said: &[QuestionWord]) -> bool {
        is_said(&self.title, said) || !self.also.is_empty()
    }

    /// Whether a question says the whole of a result's name.
    pub fn names_result(&self, said: &[QuestionWord]) -> bool {
        let mut outputs = self.outputs.iter();
        outputs.any(|output| {
            let own = |word: &String| !self.title.contains(word);
            let whole = output.label.iter().any(own) && is_said(&output.label, said);
            whole || !output.also.is_empty()
        })
    }

    /// Whether a unit or a kind of quantity that is asked for is its main result's.
    pub fn mainly_gives(&self, said: &[QuestionWord]) -> bool {
        let mut outputs = self.calculator.results();
        let main = outputs.position(|output| output.asked).unwrap_or(0);
        self.outputs.get(main).is_some_and(|output| {
            let unit =
                |word: &QuestionWord| word.unit.as_ref().is_some_and(|unit| output.is_in(unit));
            said.iter()
                .any(|word| unit(word) || output.is_of_kind(word))
        })
    }

    /// Whether a word says what kind of quantity a result is, and little else of the title is said.
    pub fn says_kind_alone(&self, word: &QuestionWord, said: &[QuestionWord]) -> bool {
        let mut outputs = self.outputs.iter();
        outputs.any(|output| output.is_of_kind(word)) && !is_half_said(&self.title, said)
    }

    /// Whether half of its title is said, or a whole saying.
    pub fn is_titled(&self, said: &[QuestionWord]) -> bool {
        is_half_said(&self.title, said) || !self.also.is_empty()
    }

    pub fn titles(&self, word: &QuestionWord) -> bool {
        word.is_in(&self.title) || self.also.iter().any(|also| word.is_in(also))
    }

    /// Whether a question says so much of the title, or a whole saying, that it can mean nothing
    /// else.
    pub fn is_surely_asked(&self, said: &[QuestionWord]) -> bool {
        let several = parts_said(&self.title, said) > 1;
        self.is_named(said) || (several && is_half_said(&self.title, said))
    }

    /// Whether a question says half of its title in its own words, and several of them.
    pub fn is_half_named(&self, said: &[QuestionWord]) -> bool {
        let met = parts_met(&self.title, said, QuestionWord::says);
        met > 1 && met * 2 >= self.title.len()
    }

    /// Whether the question is for what it gives, and doesn't only say what it takes.
    pub fn is_asked(&self, said: &[QuestionWord]) -> bool {
        self.is_titled(said) || said.iter().any(|word| self.gives(word, said))
    }

    /// Whether a word belongs to a name that is said to its end: of the calculator, of one of these
    /// inputs, or of a result.
    pub fn says_whole(&self, word: &QuestionWord, said: &[QuestionWord], inputs: &[usize]) -> bool {
        let of_inputs = inputs.iter().flat_map(|at| &self.inputs[*at].phrases);
        let of_results = self.outputs.iter();
        let of_results =
            of_results.flat_map(|output| std::iter::once(&output.label).chain(&output.also));
        let mut names = std::iter::once(&self.title)
            .chain(of_inputs)
            .chain(of_results);
        names.any(|name| name.iter().any(|part| word.says(part)) && is_said(name, said))
    }

    /// Whether it is the first of its kind of quantity, and nobody measures another.
    pub fn is_first_of_its_kind(&self, at: usize) -> bool {
        let dimension = self.inputs[at].dimension;
        let mut others = self.inputs.iter().enumerate();
        !self.inputs[at].quiet
            && others.all(|(place, one)| {
                let rival = one.measured || (place < at && !one.quiet);
                place == at || one.dimension != dimension || !rival
            })
    }

    /// Whether the yard has another of its kind that people ask with: a flow out of the tank beside
    /// one into it.
    pub fn has_rival(&self, at: usize) -> bool {
        let dimension = self.inputs[at].dimension;
        let mut others = self.inputs.iter();
        others.any(|one| one.dimension == dimension && !one.measured && !one.quiet)
    }

    /// Whether no other input, and no result, is of this one's kind of quantity.
    pub fn is_one_of_a_kind(&self, at: usize) -> bool {
        let dimension = self.inputs[at].dimension;
        let same = self.inputs.iter().filter(|one| one.dimension == dimension);
        let result = self.outputs.iter().any(|one| one.dimension == dimension);
        same.count() == 1
            && !result
            && !matches!(dimension, Some(Dimension::NONE | Dimension::ANGLE))
    }

    /// Whether a word asks for one of the results: by its unit, or in its label. One word of a
    /// long label asks for nothing.
    pub fn gives(&self, word: &QuestionWord, said: &[QuestionWord]) -> bool {
        let wanted = word.unit.as_ref();
        let mut outputs = self.outputs.iter();
        outputs.any(|output| {
            (word.is_in(&output.label) && is_half_said(&output.label, said))
                || output.is_called(word)
                || output.is_of_kind(word)
                || wanted.is_some_and(|unit| output.is_in(unit))
        })
    }

    /// How far a result is what is asked for. The title names the calculator, and what calls a
    /// given input names that.
    pub fn asks_for(&self, output: &Output, said: &[QuestionWord], bound: &[usize]) -> f64 {
        let label = words(&output.label);
        let mut met = if output.asked { 0.5 } else { 0.0 };
        let mut outputs = self.outputs.iter();
        let known = outputs.find(|known| known.name == output.name);
        for word in said {
            let unit = word.unit.as_ref();
            if let Some(unit) = unit.filter(|unit| known.is_some_and(|known| known.is_in(unit))) {
                met += if is_printed_in(output, unit) {
                    3.0
                } else {
                    2.5
                };
            } else if known.is_some_and(|known| known.is_called(word)) {
                met += 2.0;
            } else if known.is_some_and(|known| known.is_of_kind(word))
                || (!self.titles(word)
                    && !bound.iter().any(|at| self.inputs[*at].knows(word))
                    && word.is_in(&label))
            {
                met += 1.0;
            }
        }
        met
    }

    pub fn knows(&self, word: &QuestionWord) -> bool {
        self.titles(word)
            || self
                .outputs
                .iter()
                .any(|output| word.is_in(&output.label) || output.is_called(word))
            || self.inputs.iter().any(|input| input.knows(word))
    }
}

impl KnownOutput<'_> {
    /// Whether it may be asked for in a unit: a force in pounds too.
    fn is_in(&self, unit: &Unit) -> bool {
        let dimension = Some(unit.dimension);
        let weight = dimension == Some(Dimension::MASS) && self.dimension == Some(Dimension::FORCE);
        self.dimension == dimension || weight
    }

    /// Whether a word is of something that people say for it, and that is said whole.
    pub fn is_called(&self, word: &QuestionWord) -> bool {
        let mut parts = self.also.iter().flatten();
        parts.any(|part| word.says(part))
    }

    /// Whether a word says what kind of quantity it is, or asks for one of that kind: `volume 20 gal`
    /// asks for no volume, and `how long 2 h` for a time.
    fn is_of_kind(&self, word: &QuestionWord) -> bool {
        (word.is_in(&self.kind) && !self.given)
            || word.kinds.iter().any(|kind| self.kind.contains(kind))
    }
}

impl KnownInput {
    fn of(input: &Input, catalog: &Catalog, small: &SmallWords) -> KnownInput {
        let named = input.from.as_ref();
        let named = named.and_then(|from| catalog.named.get(&from.value));
        let mut phrases = vec![small.content(&input.field.label)];
        let called = named.iter().flat_map(|named| &named.field.called);
        for called in input.field.called.iter().chain(called) {
            let content = small.content(called);
            // `was` says little, and here says which
            phrases.push(match content.is_empty() {
                true => words(called),
                false => content,
            });
        }
        let choices = match &input.field.kind {
            FieldKind::Choice(choices) => choices.as_slice(),
            FieldKind::Number { .. } => &[],
        };
        let choices = choices.iter().map(|choice| {
            let all = std::iter::once(&choice.label).chain(&choice.called);
            // `on a tube` is not said by `tube`
            all.map(|one| (words(one), small.content(one)))
                .filter(|(all, content)| content.len() > 1 || all.len() == content.len())
                .map(|(_, content)| content)
                .collect()
        });
        KnownInput {
            measured: named.is_some_and(|named| named.role == Role::Measurement),
            quiet: input.by_name
                || phrases.len() == 1
                    && match &input.from {
                        Some(_) => named.is_some_and(|named| named.role == Role::Rating),
                        None => true,
                    },
            dimension: match &input.field.kind {
                FieldKind::Number { want, .. } => Some(want.unit.dimension),
                FieldKind::Choice(_) => None,
            },
            choices: choices.collect(),
            phrases,
        }
    }

    pub fn knows(&self, word: &QuestionWord) -> bool {
        self.phrases.iter().any(|phrase| word.is_in(phrase))
    }
}

/// The phrases that say something, as far as they are said.
fn phrases(all: &[String], small: &SmallWords, is_said: impl Fn(&[String]) -> bool) -> Phrases {
    let phrases = all.iter().map(|phrase| small.content(phrase));
    let phrases = phrases.filter(|phrase| !phrase.is_empty());
    phrases.filter(|phrase| is_said(phrase)).collect()
}

/// Whether all the words of a phrase are said.
pub(super) fn is_said(phrase: &[String], said: &[QuestionWord]) -> bool {
    // a word that stands for two is still one
    let mut taken = Vec::new();
    let mut is_there = |part: &String| {
        let words = said.iter().filter(|word| word.is(part));
        let free = words.filter(|word| !taken.contains(&word.place));
        let free = free.min_by_key(|word| !word.says(part));
        taken.extend(free.map(|word| word.place));
        free.is_some()
    };
    !phrase.is_empty() && phrase.iter().all(&mut is_there)
}

/// Whether half of the words of a phrase are said, or more.
pub(super) fn is_half_said(phrase: &[String], said: &[QuestionWord]) -> bool {
    let met = parts_said(phrase, said);
    met > 0 && met * 2 >= phrase.len()
}

fn parts_said(phrase: &[String], said: &[QuestionWord]) -> usize {
    parts_met(phrase, said, QuestionWord::is)
}

/// How many words of a phrase a word that is said meets.
fn parts_met(
    phrase: &[String],
    said: &[QuestionWord],
    meets: fn(&QuestionWord, &str) -> bool,
) -> usize {
    let parts = phrase.iter();
    let met = parts.filter(|part| said.iter().any(|word| meets(word, part)));
    met.count()
}

/// Whether a result is printed in a unit: a stroke's time in seconds, and a job's in hours.
fn is_printed_in(output: &Output, unit: &Unit) -> bool {
    match &output.kind {
        OutputKind::Number(format) => {
            let also = format.also.as_ref().map(|also| &also.unit.symbol);
            format.main.unit.symbol == unit.symbol || also == Some(&unit.symbol)
        }
        OutputKind::Choice(_) => false,
    }
}

fn dimension(kind: &OutputKind) -> Option<Dimension> {
    match kind {
        OutputKind::Number(format) => Some(format.main.unit.dimension),
        OutputKind::Choice(_) => None,
    }
}
