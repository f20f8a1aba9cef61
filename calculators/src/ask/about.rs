//! What the words about a quantity say of it: an input's name, or a result's.

use std::cmp::Reverse;

use super::known::{KnownCalculator, KnownInput, KnownOutput, is_half_said, is_said};
use super::scan::{Quantity, ScannedItem, crossed, parted, quantities};
use super::words::QuestionWord;
use crate::unit::Dimension;

/// Words farther from a quantity say nothing about it.
const FARTHEST: usize = 4;

/// How much of what is said about a quantity a name explains: so many words that the title
/// doesn't say, so many in all where they stand side by side, and how near to the quantity and
/// to each other they stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct WholeName {
    pub own: usize,
    pub words: usize,
    pub gap: Reverse<usize>,
    spread: Reverse<usize>,
}

/// A question before one calculator.
pub(super) struct Asking<'a> {
    pub known: &'a KnownCalculator<'a>,
    pub items: &'a [ScannedItem],
    pub said: &'a [QuestionWord],
    /// It is the first of the calculators that the search has found.
    pub found_first: bool,
    /// Every quantity has its words before it, or every one behind it.
    pub side: Option<bool>,
}

impl Asking<'_> {
    /// Whether one quantity is all there is.
    pub fn is_alone(&self) -> bool {
        quantities(self.items).count() == 1
    }

    /// Whether a word speaks of another quantity first: one stands between, or each quantity has
    /// its words on the other side of it, as in `rod 3/4 in bore 2 in`.
    fn is_apart(&self, word: &QuestionWord, place: usize) -> bool {
        crossed(self.items, place, word.place)
            || self.side.is_some_and(|side| side != (word.place < place))
                && !self.known.titles(word)
    }

    /// Whether a quantity is called by a result's name: `guide tube length 14 in` gives what the
    /// calculator would give.
    pub fn is_a_result(&self, quantity: &Quantity, place: usize, input: Option<WholeName>) -> bool {
        let dimension = quantity.unit.as_ref().map(|unit| unit.dimension);
        let before = self.said.iter().find(|word| word.place + 1 == place);
        let is_of_its_kind =
            |output: &KnownOutput| dimension.is_some() && output.dimension == dimension;
        self.known.outputs.iter().any(|output| {
            // `tube bore 3/4 in` may ask for it
            let beside = before.is_some_and(|word| {
                word.is_in(&output.label)
                    && is_half_said(&output.label, self.said)
                    && !self.known.title.iter().any(|part| word.says(part))
                    && !self.known.inputs.iter().any(|input| input.knows(word))
            });
            let beside = beside && !self.asks_for_another(dimension);
            let called = || !quantity.bare && self.is_called(output, place, input);
            if is_of_its_kind(output) && (beside || called()) {
                return true;
            }
            let name = self.whole_name(std::slice::from_ref(&output.label), place);
            let name = name.map(|(name, _)| name);
            name.is_some_and(|name| name.words > 1)
                && name > input
                && (dimension.is_none() || output.dimension == dimension)
        })
    }

    /// Whether what people say for a result stands right beside a quantity: `0.62 in id`.
    fn is_called(&self, output: &KnownOutput<'_>, place: usize, input: Option<WholeName>) -> bool {
        let name = self.whole_name(&output.also, place).map(|(name, _)| name);
        let in_whole = name.filter(|name| name.gap.0 == 1) > input;
        let mut beside = self.said.iter();
        in_whole
            || beside.any(|word| {
                word.place.abs_diff(place) == 1
                    && output
                        .also
                        .iter()
                        .any(|also| also.len() == 1 && word.says(&also[0]))
                    && !self.known.inputs.iter().any(|input| input.knows(word))
            })
    }

    /// Whether a result of another kind is asked for by what people say for it: `hours allowed` is
    /// no level.
    fn asks_for_another(&self, dimension: Option<Dimension>) -> bool {
        let mut outputs = self.known.outputs.iter();
        outputs.any(|output| output.dimension != dimension && !output.also.is_empty())
    }

    /// Whether a word is of a result of a quantity's kind, and none names the input.
    pub fn says_result(&self, input: &KnownInput, quantity: &Quantity) -> bool {
        let dimension = quantity.unit.as_ref().map(|unit| unit.dimension);
        let names = |word: &QuestionWord| input.knows(word) && !self.known.titles(word);
        let mut outputs = self.known.outputs.iter();
        if self.asks_for_another(dimension) {
            return false;
        }
        let named = is_said(&self.known.title, self.said) || self.said.iter().any(names);
        !named
            && outputs.any(|output| {
                let mut said = self.said.iter().filter(|word| !input.knows(word));
                output.dimension == dimension
                    && is_half_said(&output.label, self.said)
                    && said.any(|word| word.is_in(&output.label))
            })
    }

    /// How much the words about a quantity speak for an input. Words of the title name the
    /// calculator, and words beyond another quantity belong to that one first.
    pub fn nearness(&self, input: &KnownInput, place: usize) -> f64 {
        let mut sum = 0.0;
        for word in self.said.iter().filter(|word| input.knows(word)) {
            let gap = word.place.abs_diff(place);
            if gap > FARTHEST {
                continue;
            }
            let mut weight = 1.0 / gap.max(1) as f64;
            if self.known.titles(word) {
                // what the crew measures may be called by a word of the title beside it
                weight *= if input.measured && gap == 1 { 0.3 } else { 0.0 };
            }
            // `off 5 mm, travel 30 in`; a whole name may have a comma in it
            if self.is_apart(word, place) || parted(self.items, place, word.place) {
                weight *= 0.3;
            }
            sum += weight;
        }
        sum
    }

    /// The longest name all of whose words stand about a quantity, each by a word of its own.
    /// Tells too whether it is said before the quantity.
    pub fn whole_name(&self, names: &[Vec<String>], place: usize) -> Option<(WholeName, bool)> {
        let whole = |name: &Vec<String>| {
            // words that say little stand among them
            let reach = FARTHEST.max(2 * name.len() + 2);
            let mut places: Vec<usize> = Vec::new();
            for part in name {
                let about = self.said.iter().filter(|word| {
                    word.is(part)
                        && word.place.abs_diff(place) <= reach
                        && !self.is_apart(word, place)
                        && !places.contains(&word.place)
                });
                // the word itself before what may stand for it
                let nearest =
                    about.min_by_key(|word| (!word.says(part), word.place.abs_diff(place)))?;
                places.push(nearest.place);
            }
            let (first, last) = places.iter().min().zip(places.iter().max())?;
            let own = name.iter().zip(&places);
            let own = own.filter(|(part, _)| !self.known.title.contains(part));
            let gaps = own.clone().map(|(_, at)| at.abs_diff(place));
            let own = own.count();
            // `lance 9.5 od` is said about what it names
            let among = usize::from(first + 1 == place && place + 1 == *last);
            let spread = last - first - among;
            let name = WholeName {
                own,
                words: if spread < name.len() { name.len() } else { own },
                gap: Reverse(gaps.min().unwrap_or(usize::MAX)),
                spread: Reverse(spread),
            };
            Some((name, *last < place))
        };
        names.iter().filter_map(whole).max()
    }
}
