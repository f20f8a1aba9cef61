//! Splits a formula into tokens. A unit follows its number directly or after
//! one space and holds no space itself: `9.80665 m/s2`.

use std::ops::Range;

use super::fault::FormulaFault;

#[derive(Debug, Clone, PartialEq)]
pub(super) enum FormulaToken {
    Number {
        value: f64,
        unit: Option<(String, Range<usize>)>,
    },
    Name(String),
    Word(String),
    Sign(&'static str),
    End,
}

pub(super) type Spanned = (FormulaToken, Range<usize>);

/// Two-character signs first, so that `<=` isn't read as `<`.
const SIGNS: [(&str, &str); 22] = [
    ("<=", "<="),
    (">=", ">="),
    ("!=", "!="),
    ("≤", "<="),
    ("≥", ">="),
    ("≠", "!="),
    ("<", "<"),
    (">", ">"),
    ("=", "="),
    ("+", "+"),
    ("-", "-"),
    ("−", "-"),
    ("*", "*"),
    ("×", "*"),
    ("·", "*"),
    ("/", "/"),
    ("^", "^"),
    ("(", "("),
    (")", ")"),
    (",", ","),
    ("√", "√"),
    ("π", "π"),
];

const RESERVED: [&str; 6] = ["and", "or", "not", "if", "then", "else"];

pub(super) fn lex(text: &str) -> Result<Vec<Spanned>, FormulaFault> {
    let mut tokens = Vec::new();
    let mut at = 0;
    while let Some(c) = text[at..].chars().next() {
        if c.is_whitespace() {
            at += c.len_utf8();
            continue;
        }
        let (token, end) = if c.is_ascii_digit() || c == '.' {
            number(text, at)?
        } else if c.is_ascii_alphabetic() || c == '_' {
            let end = run(text, at, |c| c.is_ascii_alphanumeric() || c == '_');
            let name = &text[at..end];
            match RESERVED.iter().find(|word| **word == name) {
                Some(word) => (FormulaToken::Sign(word), end),
                None => (FormulaToken::Name(name.to_string()), end),
            }
        } else if c == '"' {
            let Some(length) = text[at + 1..].find('"') else {
                return Err(
                    FormulaFault::new(at..text.len(), "the quotation mark is not closed")
                        .help("close the word with a quotation mark"),
                );
            };
            (
                FormulaToken::Word(text[at + 1..at + 1 + length].to_string()),
                at + length + 2,
            )
        } else if let Some((sign, token)) =
            SIGNS.iter().find(|(sign, _)| text[at..].starts_with(sign))
        {
            (FormulaToken::Sign(token), at + sign.len())
        } else {
            return Err(FormulaFault::new(
                at..at + c.len_utf8(),
                format!("`{c}` has no meaning in a formula"),
            ));
        };
        tokens.push((token, at..end));
        at = end;
    }
    tokens.push((FormulaToken::End, text.len()..text.len()));
    Ok(tokens)
}

fn run(text: &str, from: usize, belongs: impl Fn(char) -> bool) -> usize {
    text[from..]
        .find(|c| !belongs(c))
        .map_or(text.len(), |length| from + length)
}

fn number(text: &str, from: usize) -> Result<(FormulaToken, usize), FormulaFault> {
    let mut end = run(text, from, |c| c.is_ascii_digit() || c == '.');
    let bytes = text.as_bytes();
    // An exponent needs its digit, else `2 e` would be a number and a name.
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        if bytes.get(end + 1 + sign).is_some_and(u8::is_ascii_digit) {
            end = run(text, end + 1 + sign, |c| c.is_ascii_digit());
        }
    }
    let written = &text[from..end];
    let value: f64 = match written.parse() {
        Ok(value) if f64::is_finite(value) && !written.ends_with('.') => value,
        _ => {
            return Err(
                FormulaFault::new(from..end, format!("`{written}` is not a number"))
                    .help("write it with one point and a digit on each side, such as 0.5"),
            );
        }
    };
    let gap = usize::from(text[end..].starts_with(' '));
    let start = end + gap;
    let stop = run(text, start, |c| {
        c.is_alphanumeric() || "%°/^·²³⁴⁻_".contains(c)
    });
    let word = text[start..stop].trim_end_matches('/');
    let begins = word.starts_with(|c: char| c.is_alphabetic() || c == '%' || c == '°');
    if !begins || RESERVED.contains(&word) {
        return Ok((FormulaToken::Number { value, unit: None }, end));
    }
    let mut stop = start + word.len();
    // `J/(kg·K)`: the brackets belong to the unit.
    if text[stop..].starts_with("/(")
        && let Some(length) = text[stop..].find(')')
    {
        stop += length + 1;
    }
    let span = start..stop;
    Ok((
        FormulaToken::Number {
            value,
            unit: Some((text[span.clone()].to_string(), span)),
        },
        stop,
    ))
}
