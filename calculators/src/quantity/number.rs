//! Reads one number as crews write it: `14`, `.5`, `31,75`, `1 1/4`, `1-1/4`,
//! `1¼`, `9/16`, `10 000`, `1,250.5`. Anything doubtful is refused with the
//! readings it might have had.

use super::QuantityFault;
use super::cursor::Cursor;
use super::digits::value_of;
use super::marks::{self, LoneMark};
use crate::message::tell;

/// A number's value and where its text ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ParsedNumber {
    pub value: f64,
    pub end: usize,
    pub whole: bool,
}

const VULGAR: [(char, u32, u32); 18] = [
    ('¼', 1, 4),
    ('½', 1, 2),
    ('¾', 3, 4),
    ('⅐', 1, 7),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
];

/// Spaces that group digits.
fn groups(c: char) -> bool {
    matches!(c, ' ' | '\u{202f}' | '\u{2009}' | '\u{a0}')
}

fn slash(c: char) -> bool {
    matches!(c, '/' | '\u{2044}' | '\u{2215}')
}

/// Exact up to 10^22.
pub(super) fn power_of_ten(power: usize) -> f64 {
    (0..power).fold(1.0, |value, _| value * 10.0)
}

/// How many bytes the number takes that `text` begins with.
pub(crate) fn number_at(text: &str) -> Result<usize, QuantityFault> {
    read(text, 0, LoneMark::Point).map(|number| number.end)
}

/// Reads the number that begins at `from`; the caller has dealt with the sign.
pub(super) fn read(text: &str, from: usize, lone: LoneMark) -> Result<ParsedNumber, QuantityFault> {
    let mut cursor = Cursor { text, at: from };
    if let Some(part) = vulgar(&mut cursor) {
        return finish(&cursor, part, false);
    }
    let mut digits = cursor.digits().to_string();
    let grouped = group(&mut cursor, &mut digits);
    match cursor.peek() {
        Some('.' | ',') => {
            let lone = if grouped { LoneMark::Decimal } else { lone };
            let (number, whole) = marks::read(&mut cursor, from, &digits, lone)?;
            decimal(&cursor, &number, whole)
        }
        _ if digits.is_empty() => Err(QuantityFault::NotANumber {
            text: text.trim().to_string(),
        }),
        Some(c) if slash(c) && !grouped => {
            let part = fraction(&mut cursor, &digits)?;
            finish(&cursor, part, false)
        }
        _ => mixed(cursor, &digits),
    }
}

/// After a whole number: a vulgar fraction, ` 1/4` or `-1/4`, or nothing.
fn mixed(mut cursor: Cursor<'_>, first: &str) -> Result<ParsedNumber, QuantityFault> {
    let whole = value_of(first);
    let after_whole = cursor.at;
    if let Some(part) = vulgar(&mut cursor) {
        return finish(&cursor, whole + part, false);
    }
    let mut spaces = 0;
    while cursor.next_if(|c| c == ' ' || c == '\u{a0}').is_some() {
        spaces += 1;
    }
    if spaces > 0
        && let Some(part) = vulgar(&mut cursor)
    {
        return finish(&cursor, whole + part, false);
    }
    let dash = cursor.next_if(|c| matches!(c, '-' | '–' | '−')).is_some();
    let mut spaced_dash = dash && spaces > 0;
    while dash && cursor.next_if(|c| c == ' ').is_some() {
        spaced_dash = true;
    }
    let top = cursor.digits();
    if top.is_empty() || !cursor.peek().is_some_and(slash) {
        cursor.at = after_whole;
        return finish(&cursor, whole, true);
    }
    if spaced_dash {
        return Err(QuantityFault::SpacedDash {
            text: cursor.text.trim().to_string(),
        });
    }
    let text = cursor.text;
    let part = fraction(&mut cursor, top)?;
    if part >= 1.0 {
        return Err(QuantityFault::BadFraction {
            text: text.trim().to_string(),
            why: tell::fraction::at_least_one(),
        });
    }
    finish(&cursor, whole + part, false)
}

/// At a slash with the numerator read: the denominator.
fn fraction(cursor: &mut Cursor<'_>, top: &str) -> Result<f64, QuantityFault> {
    let text = cursor.text.trim().to_string();
    let bad = |why| {
        Err(QuantityFault::BadFraction {
            text: text.clone(),
            why,
        })
    };
    cursor.next_if(slash);
    let bottom = cursor.digits();
    if bottom.is_empty() {
        return bad(tell::fraction::no_denominator());
    }
    let below = value_of(bottom);
    if below == 0.0 {
        return bad(tell::fraction::by_zero());
    }
    if cursor
        .peek()
        .is_some_and(|c| slash(c) || c == '.' || c == ',')
    {
        return bad(tell::fraction::goes_on());
    }
    Ok(value_of(top) / below)
}

pub(super) fn is_vulgar(c: char) -> bool {
    VULGAR.iter().any(|(mark, ..)| *mark == c)
}

fn vulgar(cursor: &mut Cursor<'_>) -> Option<f64> {
    let c = cursor.peek()?;
    let (_, top, bottom) = VULGAR.iter().find(|(mark, ..)| *mark == c)?;
    cursor.at += c.len_utf8();
    Some(f64::from(*top) / f64::from(*bottom))
}

/// A decimal's digits read: nothing of a fraction may follow, as in `1.5 1/4`.
fn decimal(cursor: &Cursor<'_>, digits: &str, whole: bool) -> Result<ParsedNumber, QuantityFault> {
    let bad = |why| {
        Err(QuantityFault::BadFraction {
            text: cursor.text.trim().to_string(),
            why,
        })
    };
    let mut after = Cursor { ..*cursor };
    if after.peek().is_some_and(slash) || vulgar(&mut after).is_some() {
        return bad(tell::fraction::decimal_inside());
    }
    let number = finish(cursor, value_of(digits), whole)?;
    while after.next_if(|c| c == ' ').is_some() {}
    if !after.digits().is_empty() && after.peek().is_some_and(slash) {
        return bad(tell::fraction::decimal_before());
    }
    Ok(number)
}

/// Takes the groups of three digits that spaces set apart: `10 000`, and not `10 125/1000`.
fn group(cursor: &mut Cursor<'_>, digits: &mut String) -> bool {
    let mut grouped = false;
    if digits.is_empty() || digits.len() > 3 || digits.starts_with('0') {
        return grouped;
    }
    loop {
        let mut ahead = Cursor { ..*cursor };
        if ahead.next_if(groups).is_none() {
            return grouped;
        }
        let three = ahead.digits();
        let goes_on = ahead
            .peek()
            .is_some_and(|c| slash(c) || "'\"′″’”‘“".contains(c));
        if three.len() != 3 || goes_on {
            return grouped;
        }
        digits.push_str(three);
        cursor.at = ahead.at;
        grouped = true;
    }
}

/// What follows a number must not look like more of a number.
fn finish(cursor: &Cursor<'_>, value: f64, whole: bool) -> Result<ParsedNumber, QuantityFault> {
    let text = || cursor.text.trim().to_string();
    let rest = &cursor.text[cursor.at..];
    let mut ahead = rest.chars();
    match ahead.next() {
        Some('e' | 'E') => {
            let digits = rest[1..].trim_start_matches(['+', '-', '−']);
            if digits.starts_with(|c: char| c.is_ascii_digit()) {
                return Err(QuantityFault::Exponent { text: text() });
            }
        }
        Some(c) if slash(c) || c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '–' | '+') => {
            return Err(QuantityFault::NotANumber { text: text() });
        }
        Some(c) if is_vulgar(c) => {
            return Err(QuantityFault::NotANumber { text: text() });
        }
        _ => {}
    }
    if !value.is_finite() {
        return Err(QuantityFault::TooLarge { text: text() });
    }
    Ok(ParsedNumber {
        value,
        end: cursor.at,
        whole,
    })
}

/// A double cleaned of the last bits' noise, for showing: 12 significant digits.
pub fn tidy(value: f64) -> f64 {
    to_digits(value, 12)
}

/// The value rounded to so many significant digits, at most 15.
pub(super) fn to_digits(value: f64, digits: usize) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value + 0.0;
    }
    // most of what crews write, and printing it to round it costs more than all else here
    if value == libm::trunc(value) && value.abs() < power_of_ten(digits) {
        return value;
    }
    let text = format!("{:.*e}", digits.saturating_sub(1), value.abs());
    let Some((mantissa, exponent)) = text.split_once('e') else {
        return value;
    };
    let (negative, power) = match exponent.strip_prefix('-') {
        Some(power) => (true, power),
        None => (false, exponent),
    };
    let power = power
        .bytes()
        .fold(0, |power, digit| power * 10 + i32::from(digit - b'0'));
    // One scale, so that both numbers stay exact for every size that occurs.
    let places = mantissa
        .split_once('.')
        .map_or(0, |(_, places)| places.len()) as i32;
    let whole = value_of(&mantissa.replace('.', ""));
    let scale = if negative { -power } else { power } - places;
    let scaled = if scale >= 0 {
        whole * power_of_ten(scale as usize)
    } else {
        whole / power_of_ten(scale.unsigned_abs() as usize)
    };
    scaled.copysign(value)
}
