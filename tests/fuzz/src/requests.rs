//! Requests as people and accidents make them: seeded, so that every run asks the same.

use gaugeleaf_calc::calculator::{Calculator, Input};
use gaugeleaf_calc::field::FieldKind;
use gaugeleaf_calc::unit::Unit;
use serde_json::{Map, Value, json};

/// A small generator of pseudo-random numbers (SplitMix64): the same on every machine.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 up to but not including `end`.
    pub fn below(&mut self, end: usize) -> usize {
        (self.roll() % end.max(1) as u64) as usize
    }

    /// True `percent` times in a hundred.
    pub fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    /// A number in `[0, 1)`.
    pub fn share(&mut self) -> f64 {
        (self.roll() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }
}

/// What a generator of entries knows of one input.
#[derive(Debug)]
pub struct AskedInput {
    pub name: String,
    pub kind: Kind,
}

/// How an input is answered.
#[derive(Debug)]
pub enum Kind {
    /// A quantity, with the units it may be typed in; its own comes first.
    Number(Vec<Scale>),
    Choice(Vec<String>),
}

/// A unit, and an input's hard limits and usual band in it.
#[derive(Debug)]
pub struct Scale {
    pub unit: String,
    /// Counted, not measured.
    pub count: bool,
    pub limits: (f64, f64),
    pub usual: (f64, f64),
}

/// One request to calculate, with anything from sound entries to noise.
pub fn calculate(name: &str, inputs: &[AskedInput], dice: &mut Dice) -> Value {
    // a single bad entry empties the whole answer, so most requests are sound throughout
    let spoilt = dice.chance(25);
    // and most stay near the calculator's own example, where inputs agree with each other
    let left_out = *dice.pick(&[0, 30, 60, 80, 90, 95]);
    let mut entries = Map::new();
    for input in inputs {
        if !dice.chance(left_out) {
            entries.insert(input.name.clone(), entry(&input.kind, spoilt, dice));
        }
    }
    if dice.chance(1) {
        entries.insert("no_such_input".to_owned(), json!("1"));
    }
    let mut want = Vec::new();
    for part in ["figure", "working", "plot", "bound"] {
        if dice.chance(30) {
            want.push(part);
        }
    }
    json!({ "do": "calculate", "name": name, "inputs": entries, "want": want })
}

/// One request to show the same quantity in another unit.
pub fn switch(name: &str, inputs: &[AskedInput], dice: &mut Dice) -> Value {
    let input = dice.pick(inputs);
    let (text, from, to) = match &input.kind {
        Kind::Number(scales) => {
            let from = dice.pick(scales);
            let text = number(from.limits, dice.chance(20), dice);
            (text, from.unit.clone(), dice.pick(scales).unit.clone())
        }
        Kind::Choice(names) => (dice.pick(names).clone(), "in".to_owned(), "mm".to_owned()),
    };
    json!({ "do": "switch", "name": name, "input": input.name, "text": text, "from": from, "to": to })
}

/// One question in a person's own words: a calculator's name, and a few inputs with values, some
/// of them doubtful or noise.
pub fn ask(name: &str, inputs: &[AskedInput], dice: &mut Dice) -> Value {
    let mut words: Vec<String> = name.split('-').map(|word| slip(word, dice)).collect();
    for _ in 0..1 + dice.below(3) {
        let input = dice.pick(inputs);
        let said = input.name.replace('_', " ");
        let value = match &input.kind {
            Kind::Choice(names) => dice.pick(names).clone(),
            Kind::Number(scales) => {
                let scale = dice.pick(scales);
                let text = number(scale.limits, dice.chance(15), dice);
                let unit = if scale.count { "" } else { scale.unit.as_str() };
                format!("{text} {unit}")
            }
        };
        match dice.below(4) {
            0 => words.push(value),
            1 => words.push(noise(dice)),
            2 => words.extend([value, said]),
            _ => words.extend([said, value]),
        }
    }
    if dice.chance(15) {
        words = vec![
            number((0.0, 2000.0), false, dice),
            "bar".into(),
            "in".into(),
            "psi".into(),
        ];
    }
    let meanings = json!([[words[0], ["guide", "pressure"]]]);
    json!({ "do": "ask", "query": words.join(" "), "meanings": meanings, "candidates": [name] })
}

/// One search: a few words of the text, some of them cut short or with a slip of the thumb.
pub fn search(words: &[&str], dice: &mut Dice) -> Value {
    let count = 1 + dice.below(3);
    let query: Vec<String> = (0..count)
        .map(|_| slip(words[dice.below(words.len())], dice))
        .collect();
    json!({ "do": "search", "query": query.join(" "), "limit": 1 + dice.below(20) })
}

/// The word, or what a hurried thumb makes of it.
fn slip(word: &str, dice: &mut Dice) -> String {
    let mut letters: Vec<char> = word.chars().collect();
    let at = dice.below(letters.len());
    match dice.below(8) {
        0 if !letters.is_empty() => _ = letters.remove(at),
        1 => letters.insert(at, 'e'),
        2 if at + 1 < letters.len() => letters.swap(at, at + 1),
        3 => letters.truncate(at + 1),
        4 => return noise(dice),
        _ => {}
    }
    letters.into_iter().collect()
}

fn entry(kind: &Kind, spoilt: bool, dice: &mut Dice) -> Value {
    match kind {
        Kind::Choice(_) if spoilt && dice.chance(10) => json!({ "text": noise(dice) }),
        Kind::Choice(names) => json!({ "text": dice.pick(names) }),
        Kind::Number(scales) => {
            let scale = if dice.chance(60) {
                &scales[0]
            } else {
                dice.pick(scales)
            };
            let unit = &scale.unit;
            let text = match dice.below(5) {
                0 if spoilt => noise(dice),
                1 if spoilt => number(scale.limits, true, dice),
                _ if scale.count => count(scale.usual, dice),
                _ => number(scale.usual, false, dice),
            };
            match dice.below(4) {
                0 => json!(format!("{text} {unit}")),
                1 => json!({ "text": format!("{text}{unit}"), "unit": unit, "confirmed": true }),
                2 => json!({ "text": text, "unit": unit, "confirmed": dice.chance(50) }),
                _ => json!({ "text": text, "unit": unit, "confirmed": true }),
            }
        }
    }
}

/// A number written in one of the ways that crews write numbers: from a band, or also from
/// just outside it and with more digits than anyone needs.
fn number((low, high): (f64, f64), wild: bool, dice: &mut Dice) -> String {
    let value = match dice.below(if wild { 8 } else { 40 }) {
        0 => low,
        1 => high,
        2 if wild => high * 1.5,
        3 if wild => low - 1.0,
        4..10 => (high - low) * dice.share() * dice.share() * dice.share() + low,
        _ => (high - low) * dice.share() + low,
    };
    let whole = value.abs().trunc();
    let parts = *dice.pick(&[2usize, 4, 8, 16, 32, 64, 3, 10]);
    let over = if wild && dice.chance(20) {
        dice.below(70)
    } else {
        ((value.abs() - whole) * parts as f64) as usize
    };
    let eighth = ["⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];
    match dice.below(9) {
        0 => format!("{}", value.round()),
        1..=3 if over == 0 => format!("{whole}"),
        1 if whole > 0.0 => format!("{whole} {over}/{parts}"),
        2 if whole > 0.0 => format!("{whole}-{over}/{parts}"),
        1..=3 => format!("{over}/{parts}"),
        4 if whole > 0.0 => format!("{whole}{}", dice.pick(&eighth)),
        4 => (*dice.pick(&eighth)).to_owned(),
        5 => format!("{value:.1}").replace('.', ","),
        6 => format!("{value:.3}"),
        7 => format!("{value:.6}"),
        _ if wild => format!("{value}"),
        _ => format!("{value:.2}"),
    }
}

/// A whole number from a band.
fn count((low, high): (f64, f64), dice: &mut Dice) -> String {
    format!(
        "{}",
        (low + dice.share() * (high - low + 1.0)).floor().min(high)
    )
}

/// Text that is rarely a number, made of what stands in numbers and units.
fn noise(dice: &mut Dice) -> String {
    const PIECES: [&str; 44] = [
        "0", "1", "2", "7", "9", "14", "1/4", "1/0", ".", ",", "-", "−", "+", "/", "'", "\"", "″",
        " ", "\u{a0}", "e", "E9", "1e308", "1e-320", "NaN", "inf", "psi", "mm", "ft", "in", "bar",
        "m", "yd", "kg", "°", "½", "⁄", "x", "*", "<b>", "\0", "😀", "\\", "٣", "’",
    ];
    (0..dice.below(7)).map(|_| *dice.pick(&PIECES)).collect()
}

/// A seed of a calculator's own.
pub fn seed(name: &str) -> u64 {
    name.bytes().fold(1, |seed: u64, byte| {
        seed.wrapping_mul(31).wrapping_add(byte.into())
    })
}

/// What to ask of each of a calculator's inputs.
pub fn asked(calculator: &Calculator) -> Vec<AskedInput> {
    calculator.inputs.iter().map(one_asked).collect()
}

fn one_asked(input: &Input) -> AskedInput {
    let kind = match &input.field.kind {
        FieldKind::Choice(choices) => {
            Kind::Choice(choices.iter().map(|choice| choice.name.clone()).collect())
        }
        FieldKind::Number {
            format,
            least,
            most,
            usual,
            want,
        } => {
            let limits = (least.unwrap_or(0.0), most.unwrap_or(1000.0));
            let usual = usual.unwrap_or(limits);
            let scale = |unit: String| {
                // a plain count has no unit that could be read
                let known = Unit::parse(&unit).unwrap_or_else(|_| format.main.unit.clone());
                let band = |(low, high)| (known.from_si(low), known.from_si(high));
                Scale {
                    limits: band(limits),
                    usual: band(usual),
                    count: want.count,
                    unit,
                }
            };
            Kind::Number(format.units().into_iter().map(scale).collect())
        }
    };
    AskedInput {
        name: input.field.name.clone(),
        kind,
    }
}
