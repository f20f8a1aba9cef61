//! The unit table. Every factor is an exact ratio of whole numbers derived
//! from the definitions of the inch, the pound, standard gravity and the US
//! gallon (NIST SP 811, appendix B; SI Brochure, 9th edition), in one place.

use super::{Dimension, ScaleKind};

/// Which side of "both unit systems" a unit belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum System {
    Us,
    Si,
    Both,
}

/// An exact ratio, reduced at compile time.
#[derive(Debug, Clone, Copy)]
pub struct Ratio(u128, u128);

impl Ratio {
    const fn new(numerator: u128, denominator: u128) -> Ratio {
        let (mut a, mut b) = (numerator, denominator);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        Ratio(numerator / a, denominator / a)
    }

    const fn by(self, other: Ratio) -> Ratio {
        Ratio::new(self.0 * other.0, self.1 * other.1)
    }

    const fn per(self, other: Ratio) -> Ratio {
        Ratio::new(self.0 * other.1, self.1 * other.0)
    }

    pub const fn numerator(self) -> f64 {
        self.0 as f64
    }

    pub const fn denominator(self) -> f64 {
        self.1 as f64
    }
}

const ONE: Ratio = Ratio::new(1, 1);
const THOUSAND: Ratio = Ratio::new(1000, 1);
const MILLI: Ratio = Ratio::new(1, 1000);

// Definitions.
const INCH: Ratio = Ratio::new(254, 10_000);
const POUND: Ratio = Ratio::new(45_359_237, 100_000_000);
const GRAVITY: Ratio = Ratio::new(980_665, 100_000);
const GALLON: Ratio = INCH.by(INCH).by(INCH).by(Ratio::new(231, 1));
const ATMOSPHERE: Ratio = Ratio::new(101_325, 1);

// Derived.
const FOOT: Ratio = INCH.by(Ratio::new(12, 1));
const MINUTE: Ratio = Ratio::new(60, 1);
const HOUR: Ratio = Ratio::new(3600, 1);
const LITRE: Ratio = MILLI;
const POUND_FORCE: Ratio = POUND.by(GRAVITY);
const PSI: Ratio = POUND_FORCE.per(INCH.by(INCH));
const BAR: Ratio = Ratio::new(100_000, 1);
const HORSEPOWER: Ratio = FOOT.by(POUND_FORCE).by(Ratio::new(550, 1));
const FAHRENHEIT: Ratio = Ratio::new(5, 9);

/// One symbol of the table and the other ways people write it.
#[derive(Debug)]
pub struct Symbol {
    pub symbol: &'static str,
    pub shown: &'static str,
    pub others: &'static [&'static str],
    pub dimension: Dimension,
    pub ratio: Ratio,
    /// Zero of the scale in SI.
    pub zero: f64,
    pub marks: Option<ScaleKind>,
    pub system: System,
    /// The ratio is to the degree, π/180, which is no ratio of whole numbers.
    pub of_half_turn: bool,
}

const fn unit(
    symbol: &'static str,
    others: &'static [&'static str],
    dimension: Dimension,
    ratio: Ratio,
    system: System,
) -> Symbol {
    Symbol {
        symbol,
        shown: symbol,
        others,
        dimension,
        ratio,
        zero: 0.0,
        marks: None,
        system,
        of_half_turn: false,
    }
}

const fn shown(mut symbol: Symbol, shown: &'static str) -> Symbol {
    symbol.shown = shown;
    symbol
}

const fn from_zero(mut symbol: Symbol, zero: f64) -> Symbol {
    symbol.zero = zero;
    symbol
}

const fn marked(mut symbol: Symbol, kind: ScaleKind) -> Symbol {
    symbol.marks = Some(kind);
    symbol
}

const fn degrees(symbol: &'static str, others: &'static [&'static str], ratio: Ratio) -> Symbol {
    let mut symbol = unit(symbol, others, Dimension::ANGLE, ratio, Both);
    symbol.of_half_turn = true;
    symbol
}

use System::{Both, Si, Us};

/// Every unit there is; compound units are built from these.
pub static SYMBOLS: &[Symbol] = &[
    unit(
        "in",
        &[
            "inch", "inches", "\"", "″", "”", "“", "''", "′′", "’’", "‘‘",
        ],
        Dimension::LENGTH,
        INCH,
        Us,
    ),
    unit(
        "ft",
        &["foot", "feet", "'", "′", "’", "‘"],
        Dimension::LENGTH,
        FOOT,
        Us,
    ),
    unit("thou", &[], Dimension::LENGTH, INCH.by(MILLI), Us),
    unit(
        "yd",
        &["yard", "yards"],
        Dimension::LENGTH,
        FOOT.by(Ratio::new(3, 1)),
        Us,
    ),
    unit(
        "mm",
        &["millimetre", "millimetres", "millimeter", "millimeters"],
        Dimension::LENGTH,
        MILLI,
        Si,
    ),
    shown(
        unit(
            "um",
            &["µm", "μm", "micron", "microns"],
            Dimension::LENGTH,
            MILLI.by(MILLI),
            Si,
        ),
        "µm",
    ),
    unit(
        "cm",
        &["centimetre", "centimetres", "centimeter", "centimeters"],
        Dimension::LENGTH,
        Ratio::new(1, 100),
        Si,
    ),
    unit(
        "m",
        &["metre", "metres", "meter", "meters"],
        Dimension::LENGTH,
        ONE,
        Si,
    ),
    unit("kg", &["kilogram", "kilograms"], Dimension::MASS, ONE, Si),
    unit("g", &["gram", "grams"], Dimension::MASS, MILLI, Si),
    unit(
        "lb",
        &["lbs", "lbm", "pound", "pounds"],
        Dimension::MASS,
        POUND,
        Us,
    ),
    unit(
        "s",
        &["sec", "second", "seconds"],
        Dimension::TIME,
        ONE,
        Both,
    ),
    unit("min", &["minute", "minutes"], Dimension::TIME, MINUTE, Both),
    unit(
        "h",
        &["hr", "hrs", "hour", "hours"],
        Dimension::TIME,
        HOUR,
        Both,
    ),
    unit("K", &["kelvin"], Dimension::TEMPERATURE, ONE, Si),
    from_zero(
        shown(
            unit(
                "degC",
                &["°C", "℃", "celsius"],
                Dimension::TEMPERATURE,
                ONE,
                Si,
            ),
            "°C",
        ),
        273.15,
    ),
    from_zero(
        shown(
            unit(
                "degF",
                &["°F", "℉", "fahrenheit"],
                Dimension::TEMPERATURE,
                FAHRENHEIT,
                Us,
            ),
            "°F",
        ),
        // 0 °F is 459.67 × 5/9 K.
        459.67 * 5.0 / 9.0,
    ),
    unit("rad", &["radian", "radians"], Dimension::ANGLE, ONE, Both),
    shown(degrees("deg", &["°", "degree", "degrees"], ONE), "°"),
    degrees("arcmin", &["arcminute", "arcminutes"], Ratio::new(1, 60)),
    degrees("arcsec", &["arcsecond", "arcseconds"], Ratio::new(1, 3600)),
    shown(
        unit(
            "dB",
            &["dBA", "dB(A)", "decibel", "decibels"],
            Dimension::LEVEL,
            ONE,
            Both,
        ),
        "dB",
    ),
    unit("%", &["percent"], Dimension::NONE, Ratio::new(1, 100), Both),
    unit("N", &["newton", "newtons"], Dimension::FORCE, ONE, Si),
    unit("kN", &[], Dimension::FORCE, THOUSAND, Si),
    unit("lbf", &["pound-force"], Dimension::FORCE, POUND_FORCE, Us),
    unit("kgf", &[], Dimension::FORCE, GRAVITY, Si),
    unit("Pa", &["pascal"], Dimension::PRESSURE, ONE, Si),
    unit("kPa", &[], Dimension::PRESSURE, THOUSAND, Si),
    unit(
        "MPa",
        &[],
        Dimension::PRESSURE,
        Ratio::new(1_000_000, 1),
        Si,
    ),
    unit(
        "GPa",
        &[],
        Dimension::PRESSURE,
        Ratio::new(1_000_000_000, 1),
        Si,
    ),
    unit("bar", &["bars"], Dimension::PRESSURE, BAR, Si),
    unit("mbar", &[], Dimension::PRESSURE, BAR.by(MILLI), Si),
    unit("psi", &[], Dimension::PRESSURE, PSI, Us),
    unit("ksi", &[], Dimension::PRESSURE, PSI.by(THOUSAND), Us),
    unit("atm", &[], Dimension::PRESSURE, ATMOSPHERE, Both),
    marked(
        unit("psig", &[], Dimension::PRESSURE, PSI, Us),
        ScaleKind::Plain,
    ),
    marked(
        unit("psia", &[], Dimension::PRESSURE, PSI, Us),
        ScaleKind::Absolute,
    ),
    marked(
        unit("barg", &["bar(g)"], Dimension::PRESSURE, BAR, Si),
        ScaleKind::Plain,
    ),
    marked(
        unit("bara", &["bar(a)"], Dimension::PRESSURE, BAR, Si),
        ScaleKind::Absolute,
    ),
    marked(
        unit("kPaa", &["kPa(a)"], Dimension::PRESSURE, THOUSAND, Si),
        ScaleKind::Absolute,
    ),
    unit("J", &["joule", "joules"], Dimension::ENERGY, ONE, Si),
    unit("kJ", &[], Dimension::ENERGY, THOUSAND, Si),
    unit("MJ", &[], Dimension::ENERGY, Ratio::new(1_000_000, 1), Si),
    unit(
        "kWh",
        &["kW·h"],
        Dimension::ENERGY,
        Ratio::new(3_600_000, 1),
        Si,
    ),
    unit("W", &["watt", "watts"], Dimension::POWER, ONE, Si),
    unit("kW", &[], Dimension::POWER, THOUSAND, Si),
    unit("hp", &["horsepower"], Dimension::POWER, HORSEPOWER, Us),
    unit(
        "L",
        &["l", "litre", "litres", "liter", "liters"],
        Dimension::VOLUME,
        LITRE,
        Si,
    ),
    unit(
        "mL",
        &["ml", "millilitre", "milliliter"],
        Dimension::VOLUME,
        LITRE.by(MILLI),
        Si,
    ),
    unit("gal", &["gallon", "gallons"], Dimension::VOLUME, GALLON, Us),
    unit("gal/min", &["gpm"], Dimension::FLOW, GALLON.per(MINUTE), Us),
    shown(
        unit(
            "ft3/min",
            &["cfm"],
            Dimension::FLOW,
            FOOT.by(FOOT).by(FOOT).per(MINUTE),
            Us,
        ),
        "ft³/min",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::refused::REFUSED;

    #[test]
    fn no_spelling_stands_for_two_units() {
        let mut seen = std::collections::BTreeMap::new();
        for entry in SYMBOLS {
            for spelling in std::iter::once(&entry.symbol).chain(entry.others) {
                let before = seen.insert(*spelling, entry.symbol);
                assert!(
                    before.is_none(),
                    "{spelling} is both {before:?} and {}",
                    entry.symbol
                );
                assert!(
                    REFUSED.iter().all(|refused| refused.word != *spelling),
                    "{spelling} is refused too"
                );
            }
        }
    }

    /// NIST SP 811 (2008), appendix B.8: the printed factors, from memory of
    /// the table, to the digits printed there.
    #[test]
    fn factors_agree_with_the_digits_printed_in_nist_sp_811() {
        let printed = [
            ("psi", 6.894_757e3),
            ("lbf", 4.448_222),
            ("lb", 4.535_924e-1),
            ("hp", 7.456_999e2),
            ("gal", 3.785_412e-3),
            ("gal/min", 6.309_020e-5),
            ("ft3/min", 4.719_474e-4),
            ("ft", 3.048e-1),
            ("atm", 1.013_25e5),
        ];
        for (symbol, expected) in printed {
            let entry = SYMBOLS.iter().find(|entry| entry.symbol == symbol).unwrap();
            let factor = entry.ratio.numerator() / entry.ratio.denominator();
            assert!((factor / expected - 1.0).abs() < 2e-7, "{symbol}: {factor}");
        }
    }
}
