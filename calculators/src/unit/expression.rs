//! Reads unit expressions: symbols, powers, products and one division.

use super::refused::{REFUSED, RefusedWord};
use super::spelling::{meant, spelled};
use super::table::{SYMBOLS, Symbol, System};
use super::{Dimension, Unit};
use crate::message::Message;
use crate::message::tell::unit as tell;

/// Why a unit can't be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnitFault {
    pub message: Message,
    pub help: Option<Message>,
    /// The kinds of quantity that the help is about; of any, where there is none.
    pub about: Vec<Dimension>,
}

impl UnitFault {
    pub(crate) fn new(message: Message, help: Option<Message>) -> UnitFault {
        UnitFault {
            message,
            help,
            about: Vec::new(),
        }
    }
}

/// Longest expression worth reading; anything longer is a mistake.
const LONGEST: usize = 40;

fn is_too_long(text: &str) -> bool {
    text.chars().count() > LONGEST
}

impl Unit {
    /// Reads a unit expression such as `in`, `gal/min`, `kg/m3` or `J/(kg·K)`.
    ///
    /// # Errors
    /// A symbol that isn't in the table, or that the table refuses because it
    /// means several things (`ton`).
    pub fn parse(text: &str) -> Result<Unit, UnitFault> {
        if text == "1" {
            return Ok(Unit::one());
        }
        // what people spell otherwise is tried once the plain notation has failed
        parse(text).or_else(|fault| {
            let spelled = spelled(text.trim()).filter(|_| !is_too_long(text));
            spelled.and_then(|meant| parse(&meant).ok()).ok_or(fault)
        })
    }
}

impl TryFrom<String> for Unit {
    type Error = &'static str;

    fn try_from(symbol: String) -> Result<Unit, &'static str> {
        if symbol == "count" {
            return Ok(Unit::count());
        }
        Unit::parse(&symbol).map_err(|_| "it is no unit")
    }
}

/// What is told of a part that is no unit, and of the whole that it stands in.
type Unknown = fn(part: &str, whole: &str) -> UnitFault;

fn parse(text: &str) -> Result<Unit, UnitFault> {
    parse_telling(text, unknown)
}

fn parse_telling(text: &str, unknown: Unknown) -> Result<Unit, UnitFault> {
    let text = text.trim();
    if is_too_long(text) {
        return Err(UnitFault::new(tell::too_long(), None));
    }
    if let Some(symbol) = symbol(text)? {
        return Ok(of(symbol));
    }
    let (over, under) = match text.split_once('/') {
        Some((over, under)) => (over, Some(under)),
        None => (text, None),
    };
    let mut unit = product(over, text, unknown)?;
    if let Some(under) = under {
        let bare = under
            .strip_prefix('(')
            .and_then(|inner| inner.strip_suffix(')'))
            .unwrap_or(under);
        if bare.contains('/') {
            return Err(UnitFault::new(
                tell::divides_twice(&text),
                Some(tell::brackets()),
            ));
        }
        let below = product(bare, text, unknown)?;
        if bare.contains(['·', '*']) && bare == under {
            return Err(UnitFault::new(
                tell::two_ways(&text),
                Some(tell::write(&format!("{over}/({bare})"))),
            ));
        }
        unit = divide(&unit, &below);
    }
    // `cfm` is named by what it is made of, and what is printed has to be read again
    if is_too_long(&unit.shown) {
        return Err(UnitFault::new(tell::too_long(), None));
    }
    Ok(unit)
}

/// Finds a symbol by its exact spelling, else by its only match in another case.
fn symbol(text: &str) -> Result<Option<&'static Symbol>, UnitFault> {
    let spelled = |entry: &Symbol, same: &dyn Fn(&str, &str) -> bool| {
        same(entry.symbol, text) || entry.others.iter().any(|other| same(other, text))
    };
    if let Some(exact) = SYMBOLS.iter().find(|entry| spelled(entry, &|a, b| a == b)) {
        return Ok(Some(exact));
    }
    if let Some(RefusedWord { word, about, help }) = REFUSED.iter().find(|one| one.word == text) {
        return Err(UnitFault {
            message: tell::refused(word),
            help: Some(help()),
            about: about.to_vec(),
        });
    }
    let mut loose = SYMBOLS
        .iter()
        .filter(|entry| spelled(entry, &|a, b| a.eq_ignore_ascii_case(b)));
    match (loose.next(), loose.next()) {
        (Some(only), None) if !text.is_empty() => Ok(Some(only)),
        (Some(one), Some(two)) => Err(UnitFault::new(
            tell::either(&one.symbol, &text, &two.symbol),
            Some(tell::capitals()),
        )),
        _ => Ok(None),
    }
}

fn of(symbol: &Symbol) -> Unit {
    let (numerator, denominator) = (symbol.ratio.numerator(), symbol.ratio.denominator());
    let (numerator, denominator) = if symbol.of_half_turn {
        (std::f64::consts::PI * numerator, 180.0 * denominator)
    } else {
        (numerator, denominator)
    };
    Unit {
        symbol: symbol.symbol.to_string(),
        shown: symbol.shown.to_string(),
        dimension: symbol.dimension,
        marks: symbol.marks,
        system: symbol.system,
        numerator,
        denominator,
        zero: symbol.zero,
    }
}

/// `kg·m2`: factors with whole powers.
fn product(text: &str, whole: &str, unknown: Unknown) -> Result<Unit, UnitFault> {
    let mut result: Option<Unit> = None;
    for factor in text.split(['·', '*', '⋅']) {
        let unit = power(factor.trim(), whole, unknown)?;
        result = Some(match result {
            None => unit,
            Some(so_far) => Unit {
                symbol: together(&so_far.symbol, &unit.symbol, false),
                shown: together(&so_far.shown, &unit.shown, false),
                dimension: so_far.dimension.times(unit.dimension),
                marks: None,
                system: joined(so_far.system, unit.system),
                numerator: so_far.numerator * unit.numerator,
                denominator: so_far.denominator * unit.denominator,
                zero: 0.0,
            },
        });
    }
    result.ok_or_else(|| unknown(text, whole))
}

/// `m`, `m3`, `m^3`, `m³`, `s-1`, `s⁻¹`.
fn power(factor: &str, whole: &str, unknown: Unknown) -> Result<Unit, UnitFault> {
    if let Some(found) = symbol(factor)? {
        return Ok(of(found));
    }
    let plain: String = factor
        .chars()
        .filter(|c| *c != '^')
        .map(|c| match c {
            '²' => '2',
            '³' => '3',
            '⁴' => '4',
            '⁻' | '−' => '-',
            '¹' => '1',
            other => other,
        })
        .collect();
    let digits = plain
        .find(|c: char| c == '-' || c.is_ascii_digit())
        .unwrap_or(plain.len());
    let (name, exponent) = plain.split_at(digits);
    let exponent: i32 = match exponent {
        "2" => 2,
        "3" => 3,
        "4" => 4,
        "-1" => -1,
        "-2" => -2,
        "-3" => -3,
        _ => return Err(unknown(factor, whole)),
    };
    let Some(found) = symbol(name)? else {
        return Err(unknown(name, whole));
    };
    if found.symbol.contains('/') {
        return Err(unknown(factor, whole));
    }
    let base = of(found);
    let raise = |value: f64| (0..exponent.abs()).fold(1.0, |product, _| product * value);
    let (numerator, denominator) = if exponent > 0 {
        (raise(base.numerator), raise(base.denominator))
    } else {
        (raise(base.denominator), raise(base.numerator))
    };
    Ok(Unit {
        symbol: format!("{}{exponent}", base.symbol),
        shown: format!("{}{}", base.shown, superscript(exponent)),
        dimension: base
            .dimension
            .power(f64::from(exponent))
            .unwrap_or(Dimension::NONE),
        marks: None,
        system: base.system,
        numerator,
        denominator,
        zero: 0.0,
    })
}

fn divide(over: &Unit, under: &Unit) -> Unit {
    Unit {
        symbol: together(&over.symbol, &under.symbol, true),
        shown: together(&over.shown, &under.shown, true),
        dimension: over.dimension.over(under.dimension),
        marks: None,
        system: joined(over.system, under.system),
        numerator: over.numerator * under.denominator,
        denominator: over.denominator * under.numerator,
        zero: 0.0,
    }
}

/// Two units' names as one, the other multiplied or divided by; a name may hold a stroke itself
/// (`ft3/min`, of `cfm`), and none may hold two.
fn together(one: &str, other: &str, divided: bool) -> String {
    let halves = |name: &str| {
        let (over, under) = name.split_once('/').unwrap_or((name, ""));
        [over, under.trim_matches(['(', ')'])].map(str::to_string)
    };
    let ([over, under], [mut by, mut of]) = (halves(one), halves(other));
    if divided {
        std::mem::swap(&mut by, &mut of);
    }
    let product = |a: String, b: String| match (a.is_empty(), b.is_empty()) {
        (false, false) => format!("{a}·{b}"),
        _ => a + &b,
    };
    let (over, under) = (product(over, by), product(under, of));
    match under.as_str() {
        "" => over,
        several if several.contains('·') => format!("{over}/({several})"),
        single => format!("{over}/{single}"),
    }
}

fn joined(a: System, b: System) -> System {
    match (a, b) {
        (System::Both, other) | (other, System::Both) => other,
        (System::Us, System::Us) => System::Us,
        (System::Si, System::Si) => System::Si,
        _ => System::Both,
    }
}

fn superscript(exponent: i32) -> &'static str {
    match exponent {
        2 => "²",
        3 => "³",
        4 => "⁴",
        -1 => "⁻¹",
        -2 => "⁻²",
        -3 => "⁻³",
        _ => "",
    }
}

fn unknown(part: &str, whole: &str) -> UnitFault {
    // the whole, with the part mended: a part alone would be of another kind
    let near = meant(part).map(|near| whole.replacen(part, near, 1));
    // mended once: the part may be put in where it doesn't stand, and be unknown for ever
    let unit = near.and_then(|near| parse_telling(&near, plainly_unknown).ok());
    UnitFault {
        about: unit.iter().map(|unit| unit.dimension).collect(),
        help: unit.map(|unit| tell::near(&unit.symbol)),
        ..plainly_unknown(part, whole)
    }
}

fn plainly_unknown(part: &str, whole: &str) -> UnitFault {
    let message = if part.is_empty() || part == whole {
        tell::unknown(&whole)
    } else {
        tell::unknown_part(&part, &whole)
    };
    UnitFault::new(message, None)
}
