//! Units in a question: one word after a number, or several that name one.

use super::asked::Told;
use crate::message::tell::unit as tell;
use crate::quantity::unit_word;
use crate::unit::{Unit, refused};

/// How people write newton metres.
const TORQUE: &str = "nm";
/// Words that a unit's name may have: `pounds per square inch`.
const MOST_UNIT_WORDS: usize = 4;

/// The unit that a text begins with in as many words as it has, and where it ends.
pub(super) fn longest_unit(text: &str) -> Option<(Unit, usize)> {
    let mut ends = Vec::new();
    let mut at = 0;
    for word in text.split(' ').take(MOST_UNIT_WORDS) {
        let plain = word.trim_end_matches([',', ';', ':', '.', '?', '!']);
        if word.is_empty() || plain.starts_with(|c: char| c.is_ascii_digit()) {
            break;
        }
        ends.push(at + plain.len());
        at += word.len() + 1;
        if plain.len() < word.len() {
            break;
        }
    }
    for end in ends.into_iter().rev() {
        let unit = Unit::parse(&each(&text[..end])).ok();
        if let Some(unit) = unit.filter(|unit| unit.symbol != "1") {
            return Some((unit, end));
        }
    }
    None
}

/// `20 litres a minute` and `70 nm` as the calculators take them.
pub(super) fn each(quantity: &str) -> String {
    let end = quantity.len().saturating_sub(TORQUE.len());
    let torque = quantity
        .get(end..)
        .filter(|last| last.eq_ignore_ascii_case(TORQUE));
    if let Some(number) = torque.and_then(|_| quantity.get(..end))
        && !number.ends_with(char::is_alphabetic)
    {
        return format!("{number}N·m");
    }
    quantity.replace(" a ", " per ").replace(" an ", " per ")
}

/// The unit that stands after a number, and where it ends.
pub(super) fn unit_at(text: &str, from: usize) -> Result<Option<(Unit, usize)>, Told> {
    let rest = text[from..].trim_start();
    let start = text.len() - rest.len();
    if let Some((unit, end)) = longest_unit(rest) {
        return Ok(Some((unit, start + end)));
    }
    let word = rest.split(char::is_whitespace).next().unwrap_or("");
    let word = word[..unit_word(word)].trim_end_matches([',', ';', ':', '.', '?', '!', '-']);
    // among numbers these are degrees and torques: nothing else that is asked is written so
    let meant = match word {
        "f" | "F" => "degF",
        "c" | "C" => "degC",
        _ if word.eq_ignore_ascii_case(TORQUE) => "N·m",
        _ => word,
    };
    if meant == word
        && let Some(help) = refused(word)
    {
        let text = &text[..start + word.len()];
        return Err(Told::of(text, tell::refused(&word), Some(help)));
    }
    Ok(Unit::parse(meant)
        .ok()
        .filter(|_| word != "1")
        .map(|unit| (unit, start + word.len())))
}
