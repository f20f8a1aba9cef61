//! The unit that a word names where a certain kind of quantity is wanted.

use super::QuantityFault;
use super::read::Want;
use crate::message::{Message, tell};
use crate::unit::{Dimension, ScaleKind, Unit, UnitFault, offered};
use crate::words::joined;

/// The unit named, checked against what is wanted.
pub(super) fn unit_of(text: &str, word: &str, want: &Want) -> Result<Unit, QuantityFault> {
    let meant = in_context(word, want.unit.dimension).unwrap_or(word);
    let unit = Unit::parse(meant).map_err(|fault| not_a_unit(text, word, want, fault))?;
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
    use tell::dimension::{absolute_pressure, either_pressure, gauge_pressure};
    match (unit.dimension, want.kind, unit.marks) {
        (Dimension::PRESSURE, ScaleKind::Plain, Some(ScaleKind::Absolute)) => {
            fault(absolute_pressure(), gauge_pressure())
        }
        (Dimension::PRESSURE, ScaleKind::Absolute, Some(ScaleKind::Plain)) => {
            fault(gauge_pressure(), absolute_pressure())
        }
        (Dimension::PRESSURE, ScaleKind::Absolute, None) => {
            fault(either_pressure(), absolute_pressure())
        }
        _ => Ok(unit),
    }
}

/// What a word means among quantities of one kind alone: `60 F` is a temperature, and the marks
/// of `35° 30'` are minutes where an angle is wanted.
fn in_context(word: &str, wanted: Dimension) -> Option<&'static str> {
    match wanted {
        Dimension::TEMPERATURE => match word.strip_suffix('.').unwrap_or(word) {
            "F" | "f" => Some("degF"),
            "C" | "c" => Some("degC"),
            _ => None,
        },
        Dimension::ANGLE => match word {
            "'" | "′" | "’" | "‘" | "min" => Some("arcmin"),
            "\"" | "″" | "”" | "“" | "''" | "′′" | "’’" | "sec" => Some("arcsec"),
            _ => None,
        },
        _ => None,
    }
}

fn not_a_unit(text: &str, word: &str, want: &Want, fault: UnitFault) -> QuantityFault {
    let text = text.to_string();
    if !word.starts_with(|c: char| c.is_alphabetic() || "°%\"'#℃℉′″”’“‘".contains(c))
    {
        return QuantityFault::NotANumber { text };
    }
    // advice about another kind of quantity is worse than none
    let dimension = want.unit.dimension;
    let apt = fault.about.is_empty() || fault.about.contains(&dimension);
    let help = fault.help.filter(|_| apt);
    QuantityFault::Unit {
        text,
        message: fault.message,
        help: help.unwrap_or_else(|| offer(want)),
    }
}

/// The units that may be written.
fn offer(want: &Want) -> Message {
    let units = match (want.unit.dimension, want.kind) {
        (Dimension::NONE, _) => return tell::write::no_unit(),
        (Dimension::PRESSURE, ScaleKind::Absolute) => &["psia", "bara", "kPaa"],
        (dimension, _) => offered(dimension),
    };
    match units {
        [] => tell::write::in_unit(&want.unit.symbol),
        [only] => tell::write::unit_as(only),
        [first @ .., last] => {
            let all = tell::write::last_unit(last, &joined(first, ", "));
            tell::write::unit_as(&all)
        }
    }
}
