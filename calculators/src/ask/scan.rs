//! A question taken apart: words, and quantities as the calculators read them.

use super::asked::Told;
use crate::message::tell;
use crate::quantity::{Want, number_at, read, unit_word};
use crate::unit::{Unit, refused};

/// A piece of a question.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum ScannedItem {
    /// In small letters.
    Word(String),
    Quantity(Quantity),
}

/// A number, with its unit where it has one.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Quantity {
    /// As typed.
    pub text: String,
    pub unit: Option<Unit>,
    /// Where it ends in the question.
    pub end: usize,
}

/// Later pieces of a question are not looked at.
const MOST_ITEMS: usize = 24;

/// What of a question is understood, and what of it is refused.
pub(super) fn scan(text: &str) -> (Vec<ScannedItem>, Vec<Told>) {
    let (mut items, mut told) = (Vec::new(), Vec::new());
    let mut at = 0;
    let mut before = ' ';
    while let Some(first) = text[at..]
        .chars()
        .next()
        .filter(|_| items.len() < MOST_ITEMS)
    {
        let rest = &text[at..];
        let apart = !(before.is_alphanumeric() || before == '.');
        let length = if apart && begins_number(rest) {
            match quantity(rest) {
                Ok(quantity) => {
                    let length = quantity.end;
                    items.push(ScannedItem::Quantity(Quantity {
                        end: at + length,
                        ..quantity
                    }));
                    length
                }
                Err(refusal) => {
                    let length = refusal.text.len();
                    told.push(refusal);
                    length
                }
            }
        } else if first.is_alphanumeric() {
            let length = rest
                .find(|c: char| !c.is_alphanumeric())
                .unwrap_or(rest.len());
            items.push(ScannedItem::Word(rest[..length].to_ascii_lowercase()));
            length
        } else {
            first.len_utf8()
        };
        before = text[..at + length].chars().next_back().unwrap_or(' ');
        at += length;
        // `14in` is done; `2x4` goes on with a word
        if before.is_ascii_digit() && text[at..].starts_with(char::is_alphabetic) {
            before = ' ';
        }
    }
    (items, told)
}

fn is_vulgar(c: char) -> bool {
    "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞".contains(c)
}

fn begins_number(text: &str) -> bool {
    let mut letters = text.chars();
    match letters.next() {
        Some('-' | '−' | '.') => letters.next().is_some_and(|next| next.is_ascii_digit()),
        Some(first) => first.is_ascii_digit() || is_vulgar(first),
        None => false,
    }
}

/// The digits and marks that a number may be made of.
fn run(text: &str) -> &str {
    let part = |c: char| {
        c.is_ascii_digit() || is_vulgar(c) || " \u{a0}\u{202f}\u{2009}.,/⁄-–−+".contains(c)
    };
    let end = text.find(|c| !part(c)).unwrap_or(text.len());
    text[..end].trim_end_matches(|c: char| !c.is_ascii_digit() && !is_vulgar(c))
}

fn quantity(text: &str) -> Result<Quantity, Told> {
    let sign = text
        .chars()
        .next()
        .filter(|c| "-−".contains(*c))
        .map_or(0, char::len_utf8);
    let refuse = |end: usize, message, help| Told {
        text: text[..end].trim_end().to_string(),
        message,
        help,
    };
    let digits = run(&text[sign..]);
    let number = number_at(digits)
        .map_err(|fault| refuse(sign + digits.len(), fault.message(), Some(fault.help())))?;
    let end = sign + number;
    let Some((unit, unit_end)) = unit_at(text, end)? else {
        return Ok(Quantity {
            text: text[..end].to_string(),
            unit: None,
            end,
        });
    };
    // `5 ft 6 in`, `5'-6"`
    let more = text[unit_end..].trim_start_matches([' ', '-']);
    let start = text.len() - more.len();
    if begins_number(more)
        && let Ok(length) = number_at(run(more))
        && let Ok(Some((_, end))) = unit_at(text, start + length)
        && read(&text[..end], &Want::of(unit.clone())).is_ok()
    {
        return Ok(Quantity {
            text: text[..end].to_string(),
            unit: Some(unit),
            end,
        });
    }
    Ok(Quantity {
        text: text[..unit_end].to_string(),
        unit: Some(unit),
        end: unit_end,
    })
}

/// The unit that stands after a number, and where it ends.
fn unit_at(text: &str, from: usize) -> Result<Option<(Unit, usize)>, Told> {
    let rest = text[from..].trim_start();
    let start = text.len() - rest.len();
    let word = rest.split(char::is_whitespace).next().unwrap_or("");
    let word = word[..unit_word(word)].trim_end_matches([',', ';', ':', '.', '?', '!', '-']);
    if let Some(help) = refused(word) {
        let message = tell::unit::refused(&word);
        let text = text[..start + word.len()].to_string();
        return Err(Told {
            text,
            message,
            help: Some(help),
        });
    }
    Ok(Unit::parse(word)
        .ok()
        .filter(|_| word != "1")
        .map(|unit| (unit, start + word.len())))
}
