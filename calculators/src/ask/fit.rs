//! How well a quantity fits an input of a calculator.

use std::cmp::Reverse;

use super::known::{KnownCalculator, KnownInput, KnownOutput, is_half_said, is_said};
use super::scan::{Quantity, ScannedItem, crossed, parted};
use super::words::QuestionWord;
use crate::calculator::Input;
use crate::field::FieldKind;
use crate::unit::Dimension;

/// Words farther from a quantity say nothing about it.
const FARTHEST: usize = 4;
const PERCENT: &str = "%";
/// A bare number of this many digits before the point is a pressure, or what else is so large.
const LARGE: usize = 4;

/// An input that a quantity may be.
#[derive(Clone)]
pub(super) struct InputFit {
    pub score: f64,
    /// What it is taken as, where nobody has written all of it.
    pub text: Option<String>,
    /// The input's place.
    pub at: usize,
    /// It is inside the input's limits.
    pub taken: bool,
    pub guessed: bool,
    pub unsure: bool,
}

/// How much of what is said about a quantity a name explains: so many words that the title
/// doesn't say, so many in all where they stand side by side, and how near to the quantity and
/// to each other they stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct WholeName {
    own: usize,
    words: usize,
    gap: Reverse<usize>,
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
    /// The inputs that a quantity may be. Where one is called by its whole name, no other is.
    pub fn fits(&self, place: usize, quantity: &Quantity) -> Vec<InputFit> {
        let known = self.known.inputs.iter();
        let names: Vec<Option<(WholeName, bool)>> = known
            .map(|input| self.whole_name(&input.phrases, place))
            .collect();
        let best = names.iter().flatten().max().copied();
        let named_before = best.is_some_and(|(name, before)| before && name.own > 0);
        let best = best.map(|(name, _)| name);
        let inputs = self.known.calculator.inputs.iter().enumerate();
        let mut fits: Vec<InputFit> = inputs
            .filter_map(|(at, input)| {
                // the more of what is said the name explains, the surer it is meant
                let bonus = names[at].map_or(0.0, |(name, _)| 1.0 + 0.1 * name.words as f64);
                let near = self.nearness(&self.known.inputs[at], place) + bonus;
                let noun = self.counted(place, quantity).filter(|_| !named_before);
                if self.known.inputs[at].quiet
                    && names[at].is_none()
                    && !self.known.is_one_of_a_kind(at)
                {
                    return None;
                }
                match noun {
                    Some(noun) => self.count(at, input, quantity, noun),
                    None => self.fit((at, place), input, quantity, near, names[at].is_some()),
                }
            })
            .collect();
        // `5 mm bore hose 80 ft`: the bore is the other's
        if fits.iter().any(|fit| fit.taken) {
            fits.retain(|fit| fit.taken || !self.is_anothers(fit.at, place));
        }
        if let Some(best) = best {
            let of_that_name = |fit: &InputFit| names[fit.at].is_some_and(|(name, _)| name == best);
            if fits.iter().any(of_that_name) {
                fits.retain(of_that_name);
            } else if best.words > 1 && self.is_alone() {
                fits.clear();
            }
        }
        // where one takes it, those that refuse it are not meant
        if fits.iter().any(|fit| fit.taken) {
            fits.retain(|fit| fit.taken);
        }
        let unnamed = best.is_none() || self.known.names_result(self.said);
        if fits.is_empty() && unnamed && quantity.unit.is_none() {
            fits = self.large(quantity);
        }
        // the only one of its kind is meant, whatever it is called
        if fits.len() == 1 && quantity.unit.is_some() {
            fits[0].guessed = false;
        }
        let unsure = self.is_a_result(quantity, place, best);
        // `hose for 5 mm tube`
        let elsewhere = self.is_alone()
            && !self.known.is_named(self.said)
            && best.is_some_and(|best| best.gap.0 > 1 && best.own > 0)
            && self.said.iter().any(|word| word.place == place + 1 && self.known.knows(word));
        for fit in &mut fits {
            let likely =
                self.known.inputs[fit.at].measured || self.known.is_first_of_its_kind(fit.at);
            let input = &self.known.inputs[fit.at];
            let unsaid = self.is_alone()
                && ((fit.guessed && !likely)
                    || (names[fit.at].is_none() && self.says_result(input, quantity)));
            // what is outside the usual band may be something else
            fit.unsure |= unsure || unsaid || elsewhere;
        }
        fits
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
    fn is_a_result(&self, quantity: &Quantity, place: usize, input: Option<WholeName>) -> bool {
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
            if beside && is_of_its_kind(output) && !self.asks_for_another(dimension) {
                return true;
            }
            if is_of_its_kind(output) && !quantity.bare && self.is_called(output, place, input) {
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
                    && output.also.iter().any(|also| also.len() == 1 && word.says(&also[0]))
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
    fn says_result(&self, input: &KnownInput, quantity: &Quantity) -> bool {
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

    fn is_alone(&self) -> bool {
        self.items.iter().filter_map(ScannedItem::quantity).count() == 1
    }

    /// How well a quantity fits an input; `None` where it is of another kind, or nothing speaks
    /// for it.
    fn fit(
        &self,
        (at, place): (usize, usize),
        input: &Input,
        quantity: &Quantity,
        near: f64,
        named: bool,
    ) -> Option<InputFit> {
        let FieldKind::Number { want, format, .. } = &input.field.kind else {
            return None;
        };
        let known = &self.known.inputs[at];
        let kind = match &quantity.unit {
            Some(unit) if unit.dimension != want.unit.dimension => return None,
            Some(unit) if unit.symbol == format.main.unit.symbol => 1.3,
            Some(_) => 1.0,
            // nobody says a temperature or a time without its unit
            None if matches!(
                want.unit.dimension,
                Dimension::TEMPERATURE | Dimension::TIME
            ) =>
            {
                return None;
            }
            // a bare number is what its neighbours say it is, and an angle if they say so to the end
            None if want.unit.dimension == Dimension::ANGLE && !named => return None,
            None if near > 0.0 => 0.8,
            // or, of the calculator that is most likely meant, what the crew measures
            None if self.found_first && known.measured => 0.4,
            None => return None,
        };
        let (mut taken, mut unsure) = (true, false);
        let meant = self.meant(place, input, quantity);
        let text = meant.as_ref().map_or(&quantity.text, |(text, _)| text);
        let band = match input.field.take(text, None, false) {
            Ok(_) => 0.6,
            Err(_) if near <= 0.0 => return None,
            // a number outside the usual band that came without a unit may be anything
            Err(_) if quantity.unit.is_none() => return None,
            Err(refusal) if refusal.doubtful => {
                unsure = true;
                0.2
            }
            Err(_) => {
                taken = false;
                -0.8
            }
        };
        // what stands first among those that nobody names is what is asked with
        let unsaid = near <= 0.0;
        let likely = (known.measured && !(unsaid && self.known.has_rival(at)))
            || (unsaid && self.known.is_first_of_its_kind(at));
        let likely = if likely { 0.3 } else { 0.0 };
        Some(InputFit {
            score: kind + band + near + likely,
            at,
            taken,
            guessed: near <= 0.0 || meant.as_ref().is_some_and(|(_, guessed)| *guessed),
            text: meant.map(|(text, _)| text),
            unsure,
        })
    }

    /// What a bare number is taken as: a share of one as percent, and a number in the unit that
    /// another of its kind came with. Tells too whether that is a guess.
    fn meant(&self, place: usize, input: &Input, quantity: &Quantity) -> Option<(String, bool)> {
        let FieldKind::Number { want, format, .. } = &input.field.kind else {
            return None;
        };
        if quantity.unit.is_some() {
            return None;
        }
        if want.unit.symbol == PERCENT {
            let share: f64 = quantity.text.parse().ok()?;
            let percent = libm::round(share * 1e4) / 100.0;
            return (share > 0.0 && share < 1.0).then(|| (format!("{percent} {PERCENT}"), false));
        }
        if want.unit.dimension == Dimension::NONE {
            return None;
        }
        let units = self.items.iter().enumerate().filter_map(|(at, item)| {
            let other = item.quantity().filter(|other| !other.bare)?;
            let unit = other.unit.as_ref()?;
            let same = unit.dimension == want.unit.dimension;
            same.then(|| (at.abs_diff(place), &unit.symbol))
        });
        let mut units: Vec<(usize, &String)> = units.collect();
        units.sort_unstable();
        let mut texts = units.iter().map(|(_, unit)| format!("{} {unit}", quantity.text));
        let text = texts.find(|text| input.field.take(text, None, false).is_ok())?;
        let written = text.strip_suffix(format.main.unit.symbol.as_str());
        Some((text.clone(), written.is_none()))
    }

    /// Whether the words that call an input call another quantity so too, which it takes.
    fn is_anothers(&self, at: usize, place: usize) -> bool {
        let mut others = self.items.iter().enumerate();
        others.any(|(other, item)| {
            let Some(quantity) = item.quantity().filter(|_| other != place) else {
                return false;
            };
            let called = self.whole_name(&self.known.inputs[at].phrases, other);
            let field = &self.known.calculator.inputs[at].field;
            called.is_some() && field.take(&quantity.text, None, false).is_ok()
        })
    }

    /// An input that is the count of a noun.
    fn count(
        &self,
        at: usize,
        input: &Input,
        quantity: &Quantity,
        noun: &String,
    ) -> Option<InputFit> {
        let FieldKind::Number { want, .. } = &input.field.kind else {
            return None;
        };
        let counts = want.unit.dimension == Dimension::NONE
            && self.counts(&self.known.inputs[at], noun)
            && input.field.take(&quantity.text, None, false).is_ok();
        counts.then_some(InputFit {
            score: 1.5,
            text: None,
            at,
            taken: true,
            guessed: false,
            unsure: false,
        })
    }

    /// Whether an input is the count of a noun: `tubes` are no *trial tubes*.
    fn counts(&self, input: &KnownInput, noun: &String) -> bool {
        input.phrases.iter().any(|phrase| {
            phrase.contains(noun) && (phrase.first() == Some(noun) || is_said(phrase, self.said))
        })
    }

    /// What a bare number counts: the noun after it.
    fn counted(&self, place: usize, quantity: &Quantity) -> Option<&String> {
        let next = self.said.iter().find(|word| word.place == place + 1)?;
        let noun = next.means.first()?;
        let plural = noun.len() > 3 && noun.ends_with('s') && !noun.ends_with("ss");
        (quantity.unit.is_none() && plural).then_some(noun)
    }

    /// A large bare number is what only one input can be as large as.
    fn large(&self, quantity: &Quantity) -> Vec<InputFit> {
        let digits = quantity.text.bytes().take_while(u8::is_ascii_digit).count();
        let inputs = self.known.calculator.inputs.iter().enumerate();
        let fits: Vec<InputFit> = inputs
            .filter(|(_, input)| {
                digits >= LARGE
                    && matches!(&input.field.kind, FieldKind::Number { usual, .. } if usual.is_some())
                    && input.field.take(&quantity.text, None, false).is_ok()
            })
            .map(|(at, _)| InputFit {
                score: 0.5,
                text: None,
                at,
                taken: true,
                guessed: true,
                unsure: false,
            })
            .collect();
        if fits.len() == 1 { fits } else { Vec::new() }
    }

    /// How much the words about a quantity speak for an input. Words of the title name the
    /// calculator, and words beyond another quantity belong to that one first.
    fn nearness(&self, input: &KnownInput, place: usize) -> f64 {
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
    fn whole_name(&self, names: &[Vec<String>], place: usize) -> Option<(WholeName, bool)> {
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
            let spread = last - first;
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
