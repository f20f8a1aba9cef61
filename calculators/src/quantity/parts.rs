//! Takes a typed text apart: numbers, each with the unit that follows it.

use super::QuantityFault;
use super::cursor::Cursor;
use super::marks::LoneMark;
use super::number::{self, ParsedNumber, is_vulgar};
use crate::message::tell;

/// A number, and the unit that stands after it.
#[derive(Debug)]
pub(super) struct QuantityPart<'t> {
    pub number: ParsedNumber,
    /// The number as it is written.
    pub digits: &'t str,
    pub unit: &'t str,
    /// The letter or mark right before the number.
    pub after: Option<char>,
}

/// More than any quantity has: `1 h 30 min 15 s`.
const MOST: usize = 3;

/// Splits the text into numbers with their units, from the byte after its sign on.
pub(super) fn parts(
    text: &str,
    from: usize,
    lone: LoneMark,
) -> Result<Vec<QuantityPart<'_>>, QuantityFault> {
    let bad = || QuantityFault::NotANumber {
        text: text.to_string(),
    };
    let mut parts = Vec::new();
    let mut at = from;
    while at < text.len() {
        let number = number::read(text, at, lone)?;
        let start = text.len() - text[number.end..].trim_start().len();
        let end = start + unit_word(&text[start..]);
        let unit = text[start..end].trim_end();
        parts.push(QuantityPart {
            number,
            digits: &text[at..number.end],
            unit,
            after: text[..at].chars().next_back(),
        });
        at = next(text, end, unit)?;
        if parts.len() > MOST || (unit.is_empty() && at < text.len()) {
            return Err(bad());
        }
    }
    if parts.is_empty() {
        return Err(bad());
    }
    Ok(parts)
}

/// Where the next number begins: after blanks, after the comma of `5 ft, 6 in`, or after the dash
/// of `5'-6"`, as drawings write it.
fn next(text: &str, end: usize, unit: &str) -> Result<usize, QuantityFault> {
    let mut cursor = Cursor { text, at: end };
    let blank = |c: char| c.is_whitespace();
    // `1 ft.2 in` may be two inches or a fifth of one
    if cursor.peek() == Some('.') && text[..end].ends_with(char::is_alphabetic) {
        return Err(QuantityFault::Compound {
            text: text.to_string(),
            why: tell::parts::point(),
        });
    }
    while cursor.next_if(blank).is_some() {}
    let mut ahead = cursor;
    if !unit.is_empty() && ahead.next_if(|c| c == ',').is_some() && ahead.next_if(blank).is_some() {
        cursor = ahead;
    }
    if is_foot(unit) {
        cursor.next_if(is_dash);
    }
    while cursor.next_if(blank).is_some() {}
    Ok(cursor.at)
}

fn is_dash(c: char) -> bool {
    matches!(c, '-' | '–' | '−')
}

pub(super) fn is_foot(word: &str) -> bool {
    let bare = word.strip_suffix('.').unwrap_or(word);
    ["ft", "foot", "feet", "'", "′", "’", "‘"]
        .iter()
        .any(|foot| foot.eq_ignore_ascii_case(bare))
}

/// How far the unit word goes: up to the digit that begins another number.
pub(crate) fn unit_word(text: &str) -> usize {
    let mut before = ' ';
    for (at, c) in text.char_indices() {
        let after = &text[at + c.len_utf8()..];
        let digit = c.is_ascii_digit() || is_vulgar(c);
        let point = c == '.' && after.starts_with(|next: char| next.is_ascii_digit());
        let foot = is_dash(c) && is_foot(text[..at].trim_end());
        if (digit && !is_power(before, c, after)) || point || c == ',' || foot {
            return at;
        }
        before = c;
    }
    text.len()
}

/// Whether a digit belongs to the unit: `in2`, `m^3`, `s-1`, and not `5ft2"` or `5 ft2 in`.
fn is_power(before: char, digit: char, after: &str) -> bool {
    let raised = match digit {
        '2' | '3' => before.is_alphabetic() || before == '^' || is_dash(before),
        '4' => before.is_alphabetic() || before == '^',
        '1' => is_dash(before),
        _ => false,
    };
    let number = |c: char| c.is_alphanumeric() || is_vulgar(c);
    let goes_on = after.starts_with(|c: char| number(c) || ".'\"′″’”‘“".contains(c));
    let rest = after.trim_start();
    raised && !goes_on && (rest.starts_with("per ") || !rest.starts_with(number))
}
