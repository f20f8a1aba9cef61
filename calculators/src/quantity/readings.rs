//! The readings of a typed text where its field may tell which of them is meant.

use super::QuantityFault;
use super::marks::LoneMark;
use super::read::{Typed, Want, read_as};
use crate::message::tell;
use crate::span::Span;
use crate::unit::ScaleKind;

/// What a text may mean.
#[derive(Debug)]
pub(crate) enum TypedReadings {
    One(Typed),
    /// `1,250 mm` and `1.250 mm`: in thousands, and as a decimal.
    Two(Box<MarkDoubt>),
}

#[derive(Debug)]
pub(crate) struct MarkDoubt {
    pub plain: Typed,
    pub decimal: Typed,
    /// The words to ask back with.
    pub fault: QuantityFault,
}

/// The signs that set a tolerance apart.
const TOLERANCE: [&str; 3] = ["+-", "+/-", "±"];

/// Reads a quantity that may carry a tolerance: `14 in ± 1/8 in`, `14 +- 1/8`.
///
/// # Errors
/// As `read`, and for a tolerance that isn't a positive difference.
pub(crate) fn readings(text: &str, want: &Want) -> Result<TypedReadings, QuantityFault> {
    let fault = match with_tolerance(text, want, LoneMark::Asked) {
        Ok(typed) => return Ok(TypedReadings::One(typed)),
        Err(fault @ QuantityFault::AmbiguousMark { .. }) => fault,
        Err(fault) => return Err(fault),
    };
    let as_meant = |lone| with_tolerance(text, want, lone);
    match (as_meant(LoneMark::Thousands), as_meant(LoneMark::Decimal)) {
        // `1.000` of a count, or a tolerance without a doubt of its own
        (Ok(plain), Ok(decimal)) if plain == decimal => Ok(TypedReadings::One(plain)),
        (Ok(plain), Ok(decimal)) => Ok(TypedReadings::Two(Box::new(MarkDoubt {
            plain,
            decimal,
            fault,
        }))),
        (Ok(only), Err(_)) | (Err(_), Ok(only)) => Ok(TypedReadings::One(only)),
        (Err(_), Err(fault)) => Err(fault),
    }
}

fn with_tolerance(text: &str, want: &Want, lone: LoneMark) -> Result<Typed, QuantityFault> {
    let cut = TOLERANCE.iter().find_map(|sign| text.split_once(sign));
    let Some((value, tolerance)) = cut else {
        return read_as(text, want, lone);
    };
    let fault = |why| QuantityFault::Tolerance {
        text: text.trim().to_string(),
        why,
    };
    if want.count {
        return Err(fault(tell::tolerance::count()));
    }
    let typed = read_as(value, want, lone)?;
    let room = Want {
        unit: typed.unit.clone(),
        kind: ScaleKind::Plain,
        count: false,
    };
    let room = read_as(tolerance, &room, lone)?.si;
    if room < 0.0 {
        return Err(fault(tell::tolerance::negative()));
    }
    if lone == LoneMark::Thousands && room > typed.si.abs() {
        return Err(fault(tell::tolerance::too_large()));
    }
    let span = Span::new(typed.si - room, typed.si + room);
    Ok(Typed {
        span: Some(span),
        ..typed
    })
}
