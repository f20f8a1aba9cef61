//! Which piece of a question belongs to which input of a calculator.

use super::best::best_first;
use super::known::{KnownCalculator, KnownInput};
use super::scan::{Quantity, ScannedItem};
use super::words::QuestionWord;
use crate::calculator::{Argument, Input};
use crate::field::FieldKind;
use crate::unit::Dimension;

/// Quantities beyond these are left over.
const MOST_QUANTITIES: usize = 6;
/// Inputs that are tried for one quantity.
const MOST_INPUTS: usize = 4;
/// Words farther from a quantity say nothing about it.
const FARTHEST: usize = 4;
/// Bindings nearer to the best one than this are as good.
const AS_GOOD: f64 = 0.25;
/// A bare number of this many digits before the point is a pressure, or what else is so large.
const LARGE: usize = 4;

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
    pub unbound: usize,
}

/// The bindings worth showing, best first; several only where none is better.
pub(super) fn bindings(
    known: &KnownCalculator<'_>,
    items: &[ScannedItem],
    said: &[QuestionWord],
) -> Vec<BoundInputs> {
    let chosen = choose(known, items, said);
    let question = Asking { known, items, said };
    let mut pairs = Vec::new();
    for (place, item) in items.iter().enumerate() {
        let ScannedItem::Quantity(quantity) = item else {
            continue;
        };
        // `90 degrees` has said which layout it is
        if chosen.chose.contains(&place) {
            continue;
        }
        let fits = question.fits(place, quantity);
        let scores: Vec<f64> = fits.iter().map(|fit| fit.score).collect();
        let places = best_first(&scores, f64::INFINITY, MOST_INPUTS);
        let fits = places.into_iter().map(|place| fits[place]).collect();
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

/// An input that a quantity may be.
#[derive(Clone, Copy)]
struct InputFit {
    score: f64,
    at: usize,
    guessed: bool,
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
            ..Argument::new(name, &quantity.text)
        });
        next.inputs.push(fit.at);
        next.score += fit.score;
        next.guessed |= fit.guessed || quantity.guessed;
        extend(known, rest, &next, found);
    }
    if !bound {
        let mut next = so_far.clone();
        next.score -= 1.5;
        next.unbound += 1;
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
            FieldKind::Choice(choices) => chosen_of(input, items, said).map(|(choice, places)| {
                chosen.chose.extend(places);
                choices[choice].name.clone()
            }),
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
    input: &KnownInput,
    items: &[ScannedItem],
    said: &[QuestionWord],
) -> Option<(usize, Vec<usize>)> {
    let mut best: Option<(usize, usize, Vec<usize>)> = None;
    let mut tied = false;
    for (choice, phrases) in input.choices.iter().enumerate() {
        for phrase in phrases {
            let Some(places) = said_at(phrase, items, said) else {
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
    let mut places = Vec::new();
    let mut words = phrase.iter();
    while let Some(part) = words.next() {
        let place = if part.bytes().all(|byte| byte.is_ascii_digit()) {
            words.next();
            items.iter().position(|item| {
                matches!(item, ScannedItem::Quantity(quantity)
                    if quantity.text.split(|c: char| !c.is_ascii_digit()).next() == Some(part)
                        && quantity.unit.as_ref().is_some_and(|unit| unit.dimension == Dimension::ANGLE))
            })
        } else {
            said.iter()
                .find(|word| word.is(part))
                .map(|word| word.place)
        };
        places.push(place?);
    }
    (!places.is_empty()).then_some(places)
}

/// Where `no` and the name of an input are said one after the other.
fn without(input: &KnownInput, said: &[QuestionWord]) -> Option<Vec<usize>> {
    let mut pairs = said.windows(2);
    let pair = pairs.find(|pair| {
        matches!(pair[0].typed(), "no" | "without")
            && pair[1].place == pair[0].place + 1
            && input.knows(&pair[1])
    })?;
    Some(vec![pair[0].place, pair[1].place])
}

/// A question before one calculator.
struct Asking<'a> {
    known: &'a KnownCalculator<'a>,
    items: &'a [ScannedItem],
    said: &'a [QuestionWord],
}

impl Asking<'_> {
    /// The inputs that a quantity may be. One that nothing was said for is only taken where no
    /// other is spoken for.
    fn fits(&self, place: usize, quantity: &Quantity) -> Vec<InputFit> {
        let inputs = self.known.calculator.inputs.iter().enumerate();
        let mut fits: Vec<InputFit> = inputs
            .filter_map(|(at, input)| self.fit(at, input, place, quantity))
            .collect();
        if fits.is_empty() && quantity.unit.is_none() {
            fits = self.large(quantity);
        }
        // the only one of its kind is meant, whatever it is called
        if fits.len() == 1 && quantity.unit.is_some() {
            fits[0].guessed = false;
        }
        fits
    }

    /// How well a quantity fits an input; `None` where it is of another kind, or nothing speaks
    /// for it.
    fn fit(&self, at: usize, input: &Input, place: usize, quantity: &Quantity) -> Option<InputFit> {
        let FieldKind::Number { want, format, .. } = &input.field.kind else {
            return None;
        };
        let known = &self.known.inputs[at];
        if let Some(noun) = self.counted(place, quantity) {
            let counts = want.unit.dimension == Dimension::NONE
                && known.phrases.iter().flatten().any(|word| word == noun);
            return (counts && input.field.take(&quantity.text, None, false).is_ok()).then_some(
                InputFit {
                    score: 1.5,
                    at,
                    guessed: false,
                },
            );
        }
        let near = self.nearness(known, place);
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
            // a bare number is what its neighbours say it is
            None if near > 0.0 => 0.8,
            None => return None,
        };
        let band = match input.field.take(&quantity.text, None, false) {
            Ok(_) => 0.6,
            Err(_) if near <= 0.0 => return None,
            Err(refusal) if refusal.doubtful => 0.2,
            Err(_) => -0.8,
        };
        let measured = if known.measured { 0.3 } else { 0.0 };
        Some(InputFit {
            score: kind + band + near + measured,
            at,
            guessed: near <= 0.0,
        })
    }

    /// What a bare number counts: the noun after it.
    fn counted(&self, place: usize, quantity: &Quantity) -> Option<&str> {
        let next = self.said.iter().find(|word| word.place == place + 1)?;
        let noun = next.typed();
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
                at,
                guessed: true,
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
            if self.crossed(place, word.place) {
                weight *= 0.3;
            }
            sum += weight;
        }
        let whole = |phrase: &Vec<String>| {
            let reach = FARTHEST.max(phrase.len() + 2);
            let about = |part: &String| {
                self.said.iter().any(|word| {
                    word.is(part)
                        && word.place.abs_diff(place) <= reach
                        && !self.crossed(place, word.place)
                })
            };
            !phrase.is_empty() && phrase.iter().all(about)
        };
        // the more of what is said the name explains, the surer it is meant
        let named = input.phrases.iter().filter(|phrase| whole(phrase));
        let words = named.map(Vec::len).max().unwrap_or(0);
        sum + if words > 0 {
            0.5 + 0.1 * words as f64
        } else {
            0.0
        }
    }

    /// Whether another quantity stands between two places.
    fn crossed(&self, a: usize, b: usize) -> bool {
        let (low, high) = (a.min(b), a.max(b));
        self.items[low + 1..high.max(low + 1)]
            .iter()
            .any(|item| matches!(item, ScannedItem::Quantity(_)))
    }
}
