//! How people spell units beyond the table's symbols, and which unit a misspelt one may be.

use super::Dimension;
use super::table::SYMBOLS;
use crate::words::joined;
use gaugeleaf_finding::edits;

/// Whole spellings, whatever their capitals, and what each stands for.
pub const SPELLED: [(&str, &str); 32] = [
    ("lpm", "L/min"),
    ("l min", "L/min"),
    ("liters min", "L/min"),
    ("litres min", "L/min"),
    ("fpm", "ft/min"),
    ("fps", "ft/s"),
    ("scfm", "ft3/min"),
    ("gph", "gal/h"),
    ("kpsi", "ksi"),
    ("k psi", "ksi"),
    ("dBA", "dB"),
    ("dB(A)", "dB"),
    ("ft lb", "ft·lbf"),
    ("ft lbs", "ft·lbf"),
    ("ft-lb", "ft·lbf"),
    ("ft-lbs", "ft·lbf"),
    ("foot pounds", "ft·lbf"),
    ("lb ft", "ft·lbf"),
    ("deg F", "degF"),
    ("degs F", "degF"),
    ("degree F", "degF"),
    ("degrees F", "degF"),
    ("degrees fahrenheit", "degF"),
    ("° F", "degF"),
    ("deg C", "degC"),
    ("degs C", "degC"),
    ("degree C", "degC"),
    ("degrees C", "degC"),
    ("degrees celsius", "degC"),
    ("degrees centigrade", "degC"),
    ("centigrade", "degC"),
    ("° C", "degC"),
];

/// The expression that a spelling in words stands for: `gallons per minute`, `US gal`, `sq. in.`
pub(super) fn spelled(text: &str) -> Option<String> {
    let known = |text: &str| {
        let mut spelled = SPELLED.iter();
        let found = spelled.find(|(word, _)| word.eq_ignore_ascii_case(text))?;
        Some(found.1.to_string())
    };
    let apart = text.replace('/', " / ");
    let words = apart
        .split_whitespace()
        .map(|word| word.strip_suffix('.').unwrap_or(word));
    let plain = joined(&words.clone().collect::<Vec<_>>(), " ");
    if let Some(meant) = known(&plain) {
        return Some(meant);
    }
    let mut meant = String::new();
    let (mut power, mut wanted) = ("", true);
    let mut words = words.peekable();
    while let Some(word) = words.next() {
        let gallon = words.peek().is_some_and(|next| {
            let start = next.get(..3).unwrap_or("");
            start.eq_ignore_ascii_case("gal") || start.eq_ignore_ascii_case("gpm")
        });
        match word.to_ascii_lowercase().as_str() {
            "per" | "/" if !wanted => {
                meant.push('/');
                wanted = true;
            }
            // every gallon here is the US one
            "us" | "u.s" if wanted && gallon => {}
            "sq" | "square" if wanted && power.is_empty() => power = "2",
            "cu" | "cubic" if wanted && power.is_empty() => power = "3",
            "per" | "/" => return None,
            _ if wanted => {
                meant.push_str(word);
                meant.push_str(power);
                (power, wanted) = ("", false);
            }
            _ => return None,
        }
    }
    (!wanted && meant != text).then_some(meant)
}

/// The unit that a misspelt word most likely is. A wrong one is worse than none: the first letter
/// must agree, since a prefix tells powers of ten apart, there must be one slip and no more (a
/// letter too many, too few or wrong, or two neighbours swapped), and no other unit may be as near.
pub(super) fn meant(word: &str) -> Option<&'static str> {
    let first = word.chars().next()?;
    if word.chars().count() < 3 {
        return None;
    }
    let mut near = SYMBOLS.iter().filter(|entry| {
        let mut spellings = std::iter::once(&entry.symbol).chain(entry.others);
        spellings.any(|spelling| {
            spelling.starts_with(first) && spelling.len() > 1 && edits(word, spelling) == 1
        })
    });
    let only = near.next()?;
    near.next().is_none().then_some(only.symbol)
}

/// The units of a kind that people are told of, the commonest first.
const OFFERED: [(Dimension, &[&str]); 14] = [
    (Dimension::LENGTH, &["in", "ft", "mm", "cm", "m"]),
    (Dimension::MASS, &["lb", "kg"]),
    (Dimension::TIME, &["s", "min", "h"]),
    (Dimension::TEMPERATURE, &["degF", "degC"]),
    (Dimension::ANGLE, &["deg"]),
    (Dimension::LEVEL, &["dB"]),
    (Dimension::NONE, &["%"]),
    (Dimension::FORCE, &["lbf", "N", "kN"]),
    (Dimension::PRESSURE, &["psi", "ksi", "bar", "kPa", "MPa"]),
    (Dimension::ENERGY, &["kWh", "kJ", "MJ"]),
    (Dimension::POWER, &["hp", "kW"]),
    (Dimension::VOLUME, &["gal", "L"]),
    (Dimension::FLOW, &["gal/min", "L/min", "ft3/min"]),
    (Dimension::SPEED, &["ft/s", "ft/min", "m/s"]),
];

/// The units to write a quantity of this kind in; empty for a kind that nobody types.
pub(crate) fn offered(dimension: Dimension) -> &'static [&'static str] {
    let found = OFFERED.iter().find(|(kind, _)| *kind == dimension);
    found.map_or(&[], |(_, units)| units)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::Unit;

    #[test]
    fn units_are_read_as_people_spell_them() {
        for (text, symbol) in [
            ("in.", "in"),
            ("ft.", "ft"),
            ("lbs.", "lb"),
            ("lpm", "L/min"),
            ("LPM", "L/min"),
            ("fpm", "ft/min"),
            ("SCFM", "ft3/min"),
            ("gph", "gal/h"),
            ("ksi", "ksi"),
            ("kpsi", "ksi"),
            ("k psi", "ksi"),
            ("thou", "thou"),
            ("um", "um"),
            ("µm", "um"),
            ("mbar", "mbar"),
            ("deg F", "degF"),
            ("degrees Celsius", "degC"),
            ("gallons per minute", "gal/min"),
            ("gal per min", "gal/min"),
            ("gal./min.", "gal/min"),
            ("Gallons Per Minute", "gal/min"),
            ("litres per minute", "L/min"),
            ("US gal", "gal"),
            ("U.S. gallons per minute", "gal/min"),
            ("US gpm", "gal/min"),
            ("cubic feet per minute", "ft3/min"),
            ("cu ft per min", "ft3/min"),
            ("sq. in.", "in2"),
            ("pounds per cubic foot", "lb/ft3"),
        ] {
            let unit = Unit::parse(text).map(|unit| unit.symbol);
            // a symbol of the table may stand for what people spell as a quotient
            let meant = Unit::parse(symbol).unwrap().symbol;
            assert_eq!(unit, Ok(meant), "{text}");
        }
        for text in [
            "per min",
            "gal per",
            "gal min",
            "US",
            "sq",
            "imp gal",
            "in..",
            "gal per min per h",
        ] {
            assert!(Unit::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_suggestion_is_no_other_power_of_ten_and_none_is_better_than_a_wrong_one() {
        for word in [
            "kgal",
            "Mgal",
            "LPN",
            "day",
            "MW",
            "mW",
            "psii",
            "barr",
            "lbx",
            "km",
            "nm",
            "kbar",
            "hPa",
            "dm",
            "Mpsi",
            "micrometre",
            "kilometre",
            "megapascal",
            "mg",
            "furlong",
            "",
        ] {
            assert_eq!(meant(word), None, "{word}");
        }
        for (word, unit) in [
            ("pis", "psi"),
            ("psj", "psi"),
            ("inchs", "in"),
            ("millimetr", "mm"),
            ("galon", "gal"),
            ("minuts", "min"),
        ] {
            assert_eq!(meant(word), Some(unit), "{word}");
        }
    }

    #[test]
    fn every_unit_offered_is_read_as_of_its_kind() {
        for (dimension, units) in OFFERED {
            for unit in units {
                assert_eq!(Unit::parse(unit).unwrap().dimension, dimension, "{unit}");
            }
        }
    }
}
