//! How well a quantity fits an input of a calculator.

use super::about::{Asking, WholeName};
use super::known::{KnownInput, is_said};
use super::scan::{Quantity, ScannedItem, quantities};
use crate::calculator::Input;
use crate::field::FieldKind;
use crate::unit::Dimension;

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

/// What calls an input about a quantity, and whether it is said before it.
type SaidName = Option<(WholeName, bool)>;

impl Asking<'_> {
    /// The inputs that a quantity may be. Where one is called by its whole name, no other is.
    pub fn fits(&self, place: usize, quantity: &Quantity) -> Vec<InputFit> {
        let known = self.known.inputs.iter();
        let names: Vec<SaidName> = known
            .map(|input| self.whole_name(&input.phrases, place))
            .collect();
        let best = names.iter().flatten().max().copied();
        let named_before = best.is_some_and(|(name, before)| before && name.own > 0);
        let best = best.map(|(name, _)| name);
        let inputs = self.known.calculator.inputs.iter().enumerate();
        let mut fits: Vec<InputFit> = inputs
            .filter_map(|(at, input)| {
                // the more of what is said the name explains, the surer it is meant
                let bonus = names[at].map_or(0.0, |(name, _)| 1.0 + 0.2 * name.words as f64);
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
        self.doubt(&mut fits, (place, quantity), &names, best);
        fits
    }

    /// Tells of what fits whether it is a guess, and whether it is sure enough for an answer.
    fn doubt(
        &self,
        fits: &mut [InputFit],
        (place, quantity): (usize, &Quantity),
        names: &[SaidName],
        best: Option<WholeName>,
    ) {
        // the only one of its kind is meant, whatever it is called
        if fits.len() == 1 && quantity.unit.is_some() {
            fits[0].guessed = false;
        }
        let unsure = self.is_a_result(quantity, place, best);
        // `hose for 5 mm tube`
        let elsewhere = self.is_alone()
            && !self.known.is_named(self.said)
            && best.is_some_and(|best| best.gap.0 > 1 && best.own > 0)
            && self
                .said
                .iter()
                .any(|word| word.place == place + 1 && self.known.knows(word));
        for fit in fits {
            let likely =
                self.known.inputs[fit.at].measured || self.known.is_first_of_its_kind(fit.at);
            let input = &self.known.inputs[fit.at];
            let unsaid = self.is_alone()
                && ((fit.guessed && !likely)
                    || (names[fit.at].is_none() && self.says_result(input, quantity)));
            // what is outside the usual band may be something else
            fit.unsure |= unsure || unsaid || elsewhere;
        }
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
        let beside = self.beside(at);
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
            // or the other of two, whose unit another of its kind has said
            None if beside.is_some()
                && (digits(quantity) >= LARGE || self.meant(place, input, quantity).is_some()) =>
            {
                0.4
            }
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
        // which of two stands beside another is settled by where they stand, whatever they are called
        let settled = beside.and_then(|(is_it, end)| Some((is_it, end?)));
        if settled.is_some_and(|(is_it, end)| (quantity.end == end) != is_it) {
            return None;
        }
        unsure |= beside.is_some() && settled.is_none();
        Some(InputFit {
            score: kind + band + near + likely,
            at,
            taken,
            guessed: (near <= 0.0 && settled.is_none())
                || meant.as_ref().is_some_and(|(_, guessed)| *guessed),
            text: meant.map(|(text, _)| text),
            unsure,
        })
    }

    /// Of an input that stands beside another, or of the other of its kind: whether it is the one beside
    /// it, and where the quantity ends that stands there, if that can be told. In `20 gpm at 700 bar, how
    /// much at 1000` it is the first pressure.
    fn beside(&self, at: usize) -> Option<(bool, Option<usize>)> {
        let kind = |at: usize| match &self.known.calculator.inputs[at].field.kind {
            FieldKind::Number { want, .. } => Some(want.unit.dimension),
            FieldKind::Choice(_) => None,
        };
        let inputs = self.known.calculator.inputs.iter().enumerate();
        let mut pairs = inputs.filter_map(|(place, one)| Some((place, one.beside?)));
        let (pair, other) =
            pairs.find(|(pair, _)| !self.known.inputs[at].quiet && kind(*pair) == kind(at))?;
        let of = |kind: Option<Dimension>, bare: bool| {
            let items = self.items.iter().enumerate();
            items.filter_map(move |(place, item)| {
                let one = item.quantity()?;
                let is = one
                    .unit
                    .as_ref()
                    .map_or(bare, |unit| Some(unit.dimension) == kind);
                is.then_some((place, one.end))
            })
        };
        let mut others = of(kind(other), false);
        let one = others.next().filter(|_| others.next().is_none());
        let settled = one.and_then(|(other, _)| {
            let mut own = of(kind(pair), true);
            let is_at = |place: usize| matches!(&self.items[place], ScannedItem::Word(word) if word == "at");
            // `20 gpm at 700 bar`, before anything that merely stands next to it
            let joined = own.clone().find(|(place, _)| *place == other + 2 && is_at(other + 1));
            let next = || own.find(|(place, _)| place.abs_diff(other) == 1);
            joined.or_else(next)
        });
        let alone = of(kind(pair), true).nth(1).is_none();
        (!alone).then_some((at == pair, settled.map(|(_, end)| end)))
    }

    /// What a bare number is taken as: a share of one as percent, a number in the unit that another
    /// of its kind came with, or in the other system's where it can be but that. Tells too whether
    /// that is a guess.
    fn meant(&self, place: usize, input: &Input, quantity: &Quantity) -> Option<(String, bool)> {
        let FieldKind::Number { want, format, .. } = &input.field.kind else {
            return None;
        };
        if quantity.unit.is_some() {
            return None;
        }
        if want.unit.symbol == PERCENT {
            return Some((percent(&quantity.text)?, false));
        }
        if want.unit.dimension == Dimension::NONE {
            return None;
        }
        let others = self.items.iter().enumerate().filter_map(|(at, item)| {
            let other = item.quantity().filter(|other| !other.bare)?;
            let unit = other.unit.as_ref()?;
            let text = format!("{} {}", quantity.text, unit.symbol);
            let same = unit.dimension == want.unit.dimension
                && input.field.take(&text, None, false).is_ok();
            same.then(|| (at.abs_diff(place), text, unit))
        });
        if let Some((_, text, unit)) = others.min_by_key(|(gap, ..)| *gap) {
            return Some((text, unit.symbol != format.main.unit.symbol));
        }
        let also = format.also.as_ref()?;
        let text = format!("{} {}", quantity.text, also.unit.symbol);
        let is_taken = |text: &str| input.field.take(text, None, false).is_ok();
        // bare numbers are of one system
        let mut bare = quantities(self.items).filter(|one| one.unit.is_none());
        (is_taken(&text) && !bare.any(|one| is_taken(&one.text))).then_some((text, true))
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
        let inputs = self.known.calculator.inputs.iter().enumerate();
        let fits: Vec<InputFit> = inputs
            .filter(|(_, input)| {
                digits(quantity) >= LARGE
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
}

/// How many digits a number has before its point.
fn digits(quantity: &Quantity) -> usize {
    let digits = quantity.text.bytes().take_while(u8::is_ascii_digit);
    digits.count()
}

/// `0.85` as `85 %`.
fn percent(share: &str) -> Option<String> {
    let digits = share.trim_start_matches('0').strip_prefix('.')?;
    let mut moved = digits.to_string();
    while moved.len() < 2 {
        moved.push('0');
    }
    if moved.len() > 2 {
        moved.insert(2, '.');
    }
    let digits = moved
        .bytes()
        .all(|byte| byte.is_ascii_digit() || byte == b'.');
    moved.push(' ');
    moved.push_str(PERCENT);
    digits.then_some(moved)
}
