//! `1000 bar in psi`: the same quantity in another unit, with its rounding told.

use super::asked::Conversion;
use super::scan::{Quantity, ScannedItem, quantities};
use super::words::{QuestionWord, SmallWords};
use crate::quantity::{Want, bare_in_unit, in_unit, read, rounded_reading};
use crate::unit::{Dimension, ScaleKind, Unit};

/// What stands before a unit of one letter.
const TOWARDS: [&str; 5] = ["in ", "to ", "as ", "into ", "="];

/// Units of the two systems that stand beside each other.
const PAIRS: [(&str, &str); 9] = [
    ("in", "mm"),
    ("ft", "m"),
    ("psi", "bar"),
    ("gal/min", "L/min"),
    ("lbf", "N"),
    ("lb", "kg"),
    ("gal", "L"),
    ("hp", "kW"),
    ("degF", "degC"),
];

/// The conversion that a question asks for: a quantity alone, or with a unit, in any order.
pub(super) fn conversion(
    text: &str,
    items: &[ScannedItem],
    said: &[QuestionWord],
    small: &SmallWords,
) -> Option<Conversion> {
    let mut quantities = quantities(items);
    let Some(first) = quantities.next() else {
        return of_one(text, said, small);
    };
    let quantity = Some(first).filter(|one| !one.bare)?;
    let unit = quantity.unit.as_ref()?;
    if quantities.next().is_some() {
        return None;
    }
    // `14 in as m`: a letter is a unit where nothing but one is wanted
    let rest = text[quantity.end..].trim();
    let mut towards = TOWARDS.iter();
    let wanted = towards.find_map(|towards| rest.strip_prefix(towards));
    let wanted = match said {
        [] => single(wanted.unwrap_or(rest)).or_else(|| other(unit)),
        [word] => word.unit.clone().or_else(|| single(wanted?)),
        _ => None,
    };
    let wanted = wanted?;
    // `22 gpm in litres` is a flow in litres a minute
    if unit.dimension == Dimension::FLOW && wanted.dimension == Dimension::VOLUME {
        return convert(quantity, &other(unit)?);
    }
    convert(quantity, &wanted)
}

/// `gallons to litres`, `how many litres in a gallon`: one of a unit in the other.
fn of_one(text: &str, said: &[QuestionWord], small: &SmallWords) -> Option<Conversion> {
    let [first, second] = said else {
        return None;
    };
    // `1 k bar in psi` has a number that can't be read
    if text.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let (first, second) = (first.unit.as_ref()?, second.unit.as_ref()?);
    let (from, wanted) = if small.counts(text) {
        (second, first)
    } else {
        (first, second)
    };
    let one = Quantity {
        text: format!("1 {}", from.symbol),
        unit: Some(from.clone()),
        end: 0,
        bare: false,
        guessed: false,
        doubt: None,
    };
    // one degree says nothing of the others
    (from.symbol != wanted.symbol && !from.has_own_zero()).then(|| convert(&one, wanted))?
}

fn single(text: &str) -> Option<Unit> {
    let letter = text.trim_end_matches(['?', '.', ' ']).trim_start();
    match letter {
        "c" | "C" => Unit::parse("degC").ok(),
        "f" | "F" => Unit::parse("degF").ok(),
        _ => Unit::parse(letter).ok().filter(|_| letter.len() == 1),
    }
}

/// The unit beside this one in the other system.
pub(super) fn other(unit: &Unit) -> Option<Unit> {
    let symbol = unit.symbol.as_str();
    let pair = PAIRS.iter().find(|(a, b)| *a == symbol || *b == symbol);
    let (a, b) = pair.or_else(|| (symbol == "ksi").then_some(&PAIRS[2]))?;
    Unit::parse(if *b == symbol { a } else { b }).ok()
}

/// The units that texts may print this one's quantity in: its pair, or the first pair of its kind.
fn others(unit: &Unit) -> Vec<Unit> {
    if let Some(other) = other(unit) {
        return vec![other];
    }
    let pairs = PAIRS.iter().map(|(a, b)| [Unit::parse(a), Unit::parse(b)]);
    for pair in pairs {
        let units: Vec<Unit> = pair.into_iter().flatten().collect();
        if units.iter().any(|one| one.dimension == unit.dimension) {
            return units;
        }
    }
    Vec::new()
}

fn convert(quantity: &Quantity, wanted: &Unit) -> Option<Conversion> {
    let unit = quantity.unit.as_ref()?;
    if unit.dimension != wanted.dimension {
        return None;
    }
    let own_zero = unit.has_own_zero() || wanted.has_own_zero();
    let kind = if own_zero {
        ScaleKind::Absolute
    } else {
        wanted.natural_kind()
    };
    let want = Want {
        kind,
        ..Want::of(wanted.clone())
    };
    let from = in_unit(read(&quantity.text, &want).ok()?.si, unit, kind);
    let si = read(&quantity.text, &want).ok()?.si;
    let to = rounded_reading(si, wanted, kind);
    let exact = to == in_unit(si, wanted, kind);
    Some(Conversion { from, to, exact })
}

/// The numbers under which a quantity may stand in a text: `9/16`, `0.5625`, `14.2875`.
pub(super) fn spellings(quantity: &Quantity) -> Vec<String> {
    let mut found = Vec::new();
    let Some(unit) = &quantity.unit else {
        return found;
    };
    let kind = unit.natural_kind();
    let want = Want {
        kind,
        ..Want::of(unit.clone())
    };
    let Ok(typed) = read(&quantity.text, &want) else {
        return found;
    };
    let mut add = |text: String| {
        let text: String = text.chars().filter(|c| *c != '\u{202f}').collect();
        if !found.contains(&text) {
            found.push(text);
        }
    };
    for unit in std::iter::once(unit.clone()).chain(others(unit)) {
        add(bare_in_unit(typed.si, &unit, kind));
        if unit.symbol == "in" {
            add(format!("{}", crate::quantity::tidy(unit.from_si(typed.si))));
        }
    }
    found
}
