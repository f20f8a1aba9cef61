//! Reads a typed quantity: numbers with units, alone or as `5 ft 6 1/2 in`.

use super::clean::clean;
use super::fault::QuantityFault;
use super::marks::LoneMark;
use super::parts::{QuantityPart, is_foot, parts};
use super::unit_of::unit_of;
use crate::message::{Message, tell};
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

    pub(super) fn example(&self) -> String {
        if self.unit.clings() {
            format!("12{}", self.unit.shown)
        } else {
            format!("12 {}", self.unit.symbol)
        }
    }

    pub(super) fn name(&self) -> Message {
        match (self.kind, self.unit.dimension) {
            (ScaleKind::Plain, Dimension::TEMPERATURE) => tell::dimension::temperature_difference(),
            (ScaleKind::Absolute, Dimension::PRESSURE) => tell::dimension::absolute_pressure(),
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
const LONGEST: usize = 100;

/// Reads what a person typed. A point before three digits is a decimal point here, as catalogs
/// and pages write it; a field, which knows its limits, asks `readings`.
///
/// # Errors
/// Refuses anything that isn't wholly understood, naming the reason; what has more than one
/// reading is never guessed.
pub fn read(text: &str, want: &Want) -> Result<Typed, QuantityFault> {
    read_as(text, want, LoneMark::Point)
}

pub(super) fn read_as(text: &str, want: &Want, lone: LoneMark) -> Result<Typed, QuantityFault> {
    let text = &*clean(text);
    if text.is_empty() {
        return Err(QuantityFault::Empty);
    }
    if text.chars().count() > LONGEST {
        let start: String = text.chars().take(40).collect();
        return Err(QuantityFault::TooLong {
            text: format!("{start}…"),
        });
    }
    let (negative, from) = match text.chars().next() {
        Some(sign @ ('-' | '−')) => (true, sign.len_utf8()),
        Some('+') => (false, 1),
        _ => (false, 0),
    };
    let parts = parts(text, from, lone)?;
    let typed = match parts.as_slice() {
        [only] => single(text, only, want)?,
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

fn single(
    text: &str,
    QuantityPart { number, unit, .. }: &QuantityPart<'_>,
    want: &Want,
) -> Result<Typed, QuantityFault> {
    if want.count && !(unit.is_empty() && number.whole) {
        return Err(QuantityFault::NotWhole {
            text: text.to_string(),
        });
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

/// Units that go together, larger first.
const LADDERS: [&[&str]; 3] = [
    &["ft", "in"],
    &["h", "min", "s"],
    &["deg", "arcmin", "arcsec"],
];

/// `5 ft 6 1/2 in`, `1 h 30 min`: whole larger part, smaller part below one of it. The last part
/// may leave its unit out, as in `20' 6`: it is the next smaller one.
fn compound(text: &str, parts: &[QuantityPart<'_>], want: &Want) -> Result<Typed, QuantityFault> {
    let fault = |why| {
        Err(QuantityFault::Compound {
            text: text.to_string(),
            why,
        })
    };
    let mut si = 0.0;
    let mut units: Vec<Unit> = Vec::new();
    for part in parts {
        let number = &part.number;
        let larger = units.last();
        let ladder = larger.and_then(|larger| {
            let mut ladders = LADDERS.iter();
            ladders.find_map(|ladder| Some((ladder, rung(ladder, larger)?)))
        });
        // `10'000` is how some write ten thousand
        let thousands = part.digits.len() == 3
            && part
                .after
                .is_some_and(|c| is_foot(c.encode_utf8(&mut [0; 4])));
        let unit = match (part.unit, ladder) {
            ("", Some((ladder, above))) if !thousands && above + 1 < ladder.len() => {
                unit_of(text, ladder[above + 1], want)?
            }
            ("", _) => return fault(tell::parts::no_unit()),
            (word, _) => unit_of(text, word, want)?,
        };
        if let Some(larger) = larger {
            let below = ladder.and_then(|(ladder, above)| Some(rung(ladder, &unit)? > above));
            if below != Some(true) {
                return fault(tell::parts::order());
            }
            if unit.to_si(number.value) >= larger.to_si(1.0) {
                return fault(tell::parts::overfull());
            }
        }
        if units.len() + 1 < parts.len() && !number.whole {
            return fault(tell::parts::fraction());
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

fn rung(ladder: &[&str], unit: &Unit) -> Option<usize> {
    ladder.iter().position(|symbol| *symbol == unit.symbol)
}
