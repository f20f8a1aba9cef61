//! Reads a typed quantity: numbers with units, alone or as `5 ft 6 1/2 in`.

use super::fault::QuantityFault;
use super::number::{self, ParsedNumber};
use crate::span::Span;
use crate::unit::{Dimension, ScaleKind, Unit};
use serde::{Deserialize, Serialize};

/// What a field wants: the unit that a bare number takes, and its kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Want {
    pub unit: Unit,
    pub kind: ScaleKind,
    pub count: bool,
}

impl Want {
    /// A quantity whose bare number means `unit`.
    pub fn of(unit: Unit) -> Want {
        let kind = unit.natural_kind();
        let count = unit.symbol == "count";
        Want { unit, kind, count }
    }

    /// The same quantity, with bare numbers in another unit.
    #[must_use]
    pub fn bare_in(&self, unit: &Unit) -> Want {
        Want {
            unit: unit.clone(),
            kind: self.kind,
            count: self.count,
        }
    }

    fn example(&self) -> String {
        if self.unit.clings() {
            format!("12{}", self.unit.shown)
        } else {
            format!("12 {}", self.unit.symbol)
        }
    }

    fn name(&self) -> String {
        let name = self.unit.dimension.name();
        match (self.kind, self.unit.dimension) {
            (ScaleKind::Plain, Dimension::TEMPERATURE) => "a temperature difference".into(),
            (ScaleKind::Absolute, Dimension::PRESSURE) => format!("an absolute {name}"),
            _ => self.unit.dimension.a_name(),
        }
    }
}

/// A quantity as typed.
#[derive(Debug, Clone, PartialEq)]
pub struct Typed {
    pub si: f64,
    /// The unit it was typed in (the first, for `5 ft 6 in`).
    pub unit: Unit,
    /// Its value in that unit.
    pub value: f64,
    /// What it may be in SI, where a tolerance was given.
    pub span: Option<Span>,
}

impl Typed {
    /// An SI value as if it had been typed in a unit.
    pub fn of(si: f64, unit: Unit, kind: ScaleKind) -> Typed {
        Typed {
            si,
            value: unit.from_si_as(si, kind),
            unit,
            span: None,
        }
    }
}

/// Longest entry worth reading.
const LONGEST: usize = 60;

/// Reads what a person typed.
///
/// # Errors
/// Refuses anything that isn't wholly understood, naming the reason; nothing
/// is stripped, guessed or repaired.
pub fn read(text: &str, want: &Want) -> Result<Typed, QuantityFault> {
    let text = text.trim_matches(|c: char| c.is_whitespace());
    if text.is_empty() {
        return Err(QuantityFault::Empty);
    }
    if text.chars().count() > LONGEST {
        let start: String = text.chars().take(LONGEST).collect();
        return Err(QuantityFault::NotANumber {
            text: format!("{start}…"),
        });
    }
    let (negative, from) = match text.chars().next() {
        Some(sign @ ('-' | '−')) => (true, sign.len_utf8()),
        _ => (false, 0),
    };
    let parts = parts(text, from)?;
    let typed = match parts.as_slice() {
        [(number, unit)] => single(text, *number, unit, want)?,
        several => compound(text, several, want)?,
    };
    if !typed.si.is_finite() {
        return Err(QuantityFault::TooLarge {
            text: text.to_string(),
        });
    }
    Ok(if negative { negate(typed, want) } else { typed })
}

fn negate(typed: Typed, want: &Want) -> Typed {
    let value = 0.0 - typed.value;
    Typed {
        si: typed.unit.to_si_as(value, want.kind),
        value,
        unit: typed.unit,
        span: None,
    }
}

/// The signs that set a tolerance apart.
const TOLERANCE: [&str; 3] = ["+-", "+/-", "±"];

/// Reads a quantity that may carry a tolerance: `14 in ± 1/8 in`, `14 +- 1/8`.
///
/// # Errors
/// As `read`, and for a tolerance that isn't a positive difference.
pub fn read_with_tolerance(text: &str, want: &Want) -> Result<Typed, QuantityFault> {
    let cut = TOLERANCE
        .iter()
        .find_map(|sign| Some((text.split_once(sign)?, sign)));
    let Some(((value, tolerance), _)) = cut else {
        return read(text, want);
    };
    let fault = |why| QuantityFault::Tolerance {
        text: text.trim().to_string(),
        why,
    };
    if want.count {
        return Err(fault("a count has none"));
    }
    let typed = read(value, want)?;
    let room = Want {
        unit: typed.unit.clone(),
        kind: ScaleKind::Plain,
        count: false,
    };
    let room = read(tolerance, &room)?.si;
    if room < 0.0 {
        return Err(fault("it is negative"));
    }
    let span = Span::new(typed.si - room, typed.si + room);
    Ok(Typed {
        span: Some(span),
        ..typed
    })
}

/// Splits the text into numbers, each with the unit word that follows it.
fn parts(text: &str, from: usize) -> Result<Vec<(ParsedNumber, String)>, QuantityFault> {
    let mut parts = Vec::new();
    let mut at = from;
    while at < text.len() {
        let number = number::read(text, at)?;
        let rest = &text[number.end..];
        let blank = rest.len() - rest.trim_start().len();
        let start = number.end + blank;
        let end = start + unit_word(&text[start..]);
        parts.push((number, text[start..end].trim_end().to_string()));
        at = end + (text[end..].len() - text[end..].trim_start().len());
        if at == start && at < text.len() {
            return Err(QuantityFault::NotANumber {
                text: text.to_string(),
            });
        }
        // `5'-6"`, as drawings write it.
        if text[..at].ends_with(['\'', '′', '’']) && text[at..].starts_with('-') {
            at += 1;
        }
        if parts.len() > 3 {
            return Err(QuantityFault::NotANumber {
                text: text.to_string(),
            });
        }
    }
    if parts.is_empty() {
        return Err(QuantityFault::NotANumber {
            text: text.to_string(),
        });
    }
    Ok(parts)
}

/// How far the unit word goes: up to the digit that begins another number.
pub(crate) fn unit_word(text: &str) -> usize {
    let mut before = None;
    for (at, c) in text.char_indices() {
        if c.is_ascii_digit()
            || "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞".contains(c)
            || c == '.'
            || c == ','
        {
            let exponent = matches!(c, '2' | '3' | '4')
                && before.is_some_and(|b: char| b.is_alphabetic() || b == '^')
                && !text[at + 1..].starts_with(|next: char| next.is_alphanumeric() || next == '.');
            let power = before.is_some_and(|b| matches!(b, '-' | '−'));
            if !exponent && !power {
                return at;
            }
        }
        if c == '-' && before.is_some_and(|b| matches!(b, '\'' | '′' | '’')) {
            return at;
        }
        before = Some(c);
    }
    text.len()
}

fn single(
    text: &str,
    number: ParsedNumber,
    unit: &str,
    want: &Want,
) -> Result<Typed, QuantityFault> {
    if want.count {
        return match (unit, number.whole) {
            ("", true) => Ok(Typed {
                si: number.value,
                unit: want.unit.clone(),
                value: number.value,
                span: None,
            }),
            _ => Err(QuantityFault::NotWhole {
                text: text.to_string(),
            }),
        };
    }
    let unit = if unit.is_empty() {
        want.unit.clone()
    } else {
        unit_of(text, unit, want)?
    };
    Ok(Typed {
        si: unit.to_si_as(number.value, want.kind),
        value: number.value,
        unit,
        span: None,
    })
}

/// The unit named, checked against what is wanted.
fn unit_of(text: &str, word: &str, want: &Want) -> Result<Unit, QuantityFault> {
    let unit = Unit::parse(word).map_err(|fault| {
        if word.starts_with(|c: char| c.is_alphabetic() || "°%\"'#℃℉′″”’".contains(c))
        {
            QuantityFault::Unit {
                text: text.to_string(),
                fault,
            }
        } else {
            QuantityFault::NotANumber {
                text: text.to_string(),
            }
        }
    })?;
    if unit.dimension != want.unit.dimension {
        return Err(QuantityFault::Dimension {
            text: text.to_string(),
            is: unit.dimension.a_name(),
            wanted: want.name(),
            example: want.example(),
        });
    }
    let fault = |is, wanted| {
        Err(QuantityFault::Kind {
            text: text.to_string(),
            is,
            wanted,
            example: want.example(),
        })
    };
    match (unit.dimension, want.kind, unit.marks) {
        (Dimension::PRESSURE, ScaleKind::Plain, Some(ScaleKind::Absolute)) => {
            fault("an absolute pressure", "a gauge pressure")
        }
        (Dimension::PRESSURE, ScaleKind::Absolute, Some(ScaleKind::Plain)) => {
            fault("a gauge pressure", "an absolute pressure")
        }
        (Dimension::PRESSURE, ScaleKind::Absolute, None) => fault(
            "a gauge pressure or an absolute one",
            "an absolute pressure",
        ),
        _ => Ok(unit),
    }
}

/// `5 ft 6 1/2 in`, `1 h 30 min`: whole larger part, smaller part below one of it.
fn compound(
    text: &str,
    parts: &[(ParsedNumber, String)],
    want: &Want,
) -> Result<Typed, QuantityFault> {
    const LADDERS: [&[&str]; 2] = [&["ft", "in"], &["h", "min", "s"]];
    let fault = |why| {
        Err(QuantityFault::Compound {
            text: text.to_string(),
            why,
        })
    };
    let mut si = 0.0;
    let mut units: Vec<Unit> = Vec::new();
    for (number, word) in parts {
        if word.is_empty() {
            return Err(QuantityFault::NotANumber {
                text: text.to_string(),
            });
        }
        let unit = unit_of(text, word, want)?;
        if let Some(larger) = units.last() {
            let ladder = LADDERS
                .iter()
                .find(|ladder| ladder.contains(&larger.symbol.as_str()));
            let place = |symbol: &str| ladder.and_then(|l| l.iter().position(|s| *s == symbol));
            match (place(&larger.symbol), place(&unit.symbol)) {
                (Some(above), Some(below)) if below > above => {}
                _ => return fault("only ft and in, or h, min and s, go together, larger first"),
            }
            if unit.to_si(number.value) >= larger.to_si(1.0) {
                return fault("the smaller part makes up a whole of the larger");
            }
        }
        if units.len() + 1 < parts.len() && !number.whole {
            return fault("only the last part may have a fraction");
        }
        si += unit.to_si(number.value);
        units.push(unit);
    }
    let first = units.swap_remove(0);
    Ok(Typed {
        si,
        value: first.from_si(si),
        unit: first,
        span: None,
    })
}
