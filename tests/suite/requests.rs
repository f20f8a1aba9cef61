//! Requests as people and accidents make them: seeded, so that every run asks the same.

use serde_json::{Map, Value, json};

/// A small generator of pseudo-random numbers (SplitMix64): the same on every machine.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 up to but not including `end`.
    pub fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }

    /// True `percent` times in a hundred.
    pub fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    /// A number in `[0, 1)`.
    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }
}

/// What a generator of entries knows of one input.
#[derive(Debug)]
pub struct Asked {
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

/// A unit, and an input's limits in it.
#[derive(Debug)]
pub struct Scale {
    pub unit: String,
    pub least: f64,
    pub most: f64,
}

/// One request to calculate, with anything from sound entries to noise.
pub fn calculate(name: &str, inputs: &[Asked], dice: &mut Dice) -> Value {
    // most requests are sound throughout: a single bad entry empties the whole answer
    let spoilt = dice.chance(25);
    let mut entries = Map::new();
    for input in inputs {
        if dice.chance(8) {
            continue;
        }
        entries.insert(input.name.clone(), entry(&input.kind, spoilt, dice));
    }
    if dice.chance(1) {
        entries.insert("no_such_input".to_owned(), json!("1"));
    }
    let mut want = Vec::new();
    for part in ["figure", "working"] {
        if dice.chance(30) {
            want.push(part);
        }
    }
    json!({ "do": "calculate", "name": name, "inputs": entries, "want": want })
}

/// One request to show the same quantity in another unit.
pub fn switch(name: &str, inputs: &[Asked], dice: &mut Dice) -> Value {
    let input = dice.pick(inputs);
    let (text, from, to) = match &input.kind {
        Kind::Number(scales) => {
            let from = dice.pick(scales);
            let text = number(from, dice);
            (text, from.unit.clone(), dice.pick(scales).unit.clone())
        }
        Kind::Choice(names) => (dice.pick(names).clone(), "in".to_owned(), "mm".to_owned()),
    };
    json!({ "do": "switch", "name": name, "input": input.name, "text": text, "from": from, "to": to })
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
            let Scale { unit, .. } = scale;
            let text = if spoilt && dice.chance(40) {
                noise(dice)
            } else {
                number(scale, dice)
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

/// A number, mostly within the limits, written in one of the ways that crews write numbers.
fn number(scale: &Scale, dice: &mut Dice) -> String {
    let Scale { least, most, .. } = *scale;
    let value = match dice.below(40) {
        0 => least,
        1 => most,
        2 => most * 1.5,
        3 => least - 1.0,
        4..10 => (most - least) * dice.share() * dice.share() * dice.share() + least,
        _ => (most - least) * dice.share() + least,
    };
    let whole = value.abs().trunc();
    let parts = *dice.pick(&[2u32, 4, 8, 16, 32, 64, 3, 10]);
    let over = dice.below(parts as usize) + usize::from(dice.chance(90));
    match dice.below(9) {
        0 => format!("{whole}"),
        1 => format!("{whole} {over}/{parts}"),
        2 => format!("{whole}-{over}/{parts}"),
        3 => format!("{over}/{parts}"),
        4 => format!("{whole}{}", dice.pick(&["½", "¼", "¾", "⅛", "⅜", "⅝", "⅞"])),
        5 => format!("{value:.1}").replace('.', ","),
        6 => format!("{value:.3}"),
        7 => format!("{value:.6}"),
        _ => format!("{value}"),
    }
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
