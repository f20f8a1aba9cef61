//! Units and their dimensions: what `gal/min` means and how large it is.
//!
//! ```
//! use gaugeleaf_calc::message::in_english;
//! use gaugeleaf_calc::unit::Unit;
//! let flow = Unit::parse("gal/min").unwrap();
//! assert!((flow.to_si(1.0) - 6.30901964e-5).abs() < 1e-15);
//! assert_eq!(in_english(&flow.dimension.a_name()), "a flow");
//! ```
use serde::{Deserialize, Serialize};

mod dimension;
mod expression;
mod refused;
mod spelling;
mod table;

pub use dimension::{Dimension, ScaleKind};
pub use expression::UnitFault;
pub(crate) use refused::refused;
pub use spelling::SPELLED;
pub(crate) use spelling::offered;
pub use table::{SYMBOLS, System};

/// A unit as written in a catalog or by a reader, ready to convert.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct Unit {
    /// The spelling machines use: `degC`, `ft3/min`.
    pub symbol: String,
    /// The spelling people read: `°C`, `ft³/min`.
    pub shown: String,
    pub dimension: Dimension,
    /// Set where the symbol alone fixes it: `psia` is absolute, `psig` is not.
    pub marks: Option<ScaleKind>,
    pub system: System,
    /// SI = value × numerator ÷ denominator, whole numbers wherever the
    /// definition is a ratio, so that conversions round once.
    numerator: f64,
    denominator: f64,
    /// Where the scale's zero lies, in SI: 273.15 for degC, 0 for most.
    zero: f64,
}

impl From<Unit> for String {
    fn from(unit: Unit) -> String {
        unit.symbol
    }
}

impl Unit {
    /// The unit of a bare count.
    pub fn count() -> Unit {
        Unit {
            symbol: "count".into(),
            shown: String::new(),
            dimension: Dimension::NONE,
            marks: None,
            system: System::Both,
            numerator: 1.0,
            denominator: 1.0,
            zero: 0.0,
        }
    }

    /// The unit of a plain number with decimals.
    pub(crate) fn one() -> Unit {
        Unit {
            symbol: "1".into(),
            ..Unit::count()
        }
    }

    /// A scale with a zero of its own (°C, °F) reads as a temperature, not as
    /// a difference, unless the context wants a difference.
    pub fn has_own_zero(&self) -> bool {
        self.zero != 0.0
    }

    /// What a value in this unit is when nothing says otherwise.
    pub fn natural_kind(&self) -> ScaleKind {
        match self.marks {
            Some(kind) => kind,
            None if self.has_own_zero() => ScaleKind::Absolute,
            None => ScaleKind::Plain,
        }
    }

    /// SI value of `value` in this unit, the scale's zero included.
    pub fn to_si(&self, value: f64) -> f64 {
        self.difference_to_si(value) + self.zero
    }

    /// Value in this unit of an SI value, the scale's zero included.
    pub fn from_si(&self, si: f64) -> f64 {
        self.difference_from_si(si - self.zero)
    }

    pub fn difference_to_si(&self, value: f64) -> f64 {
        value * self.numerator / self.denominator
    }

    pub fn difference_from_si(&self, si: f64) -> f64 {
        si * self.denominator / self.numerator
    }

    /// To SI, counting the scale's zero only where the kind is absolute.
    pub fn to_si_as(&self, value: f64, kind: ScaleKind) -> f64 {
        match kind {
            ScaleKind::Absolute => self.to_si(value),
            ScaleKind::Plain => self.difference_to_si(value),
        }
    }

    /// From SI, counting the scale's zero only where the kind is absolute.
    pub fn from_si_as(&self, si: f64, kind: ScaleKind) -> f64 {
        match kind {
            ScaleKind::Absolute => self.from_si(si),
            ScaleKind::Plain => self.difference_from_si(si),
        }
    }

    /// True where no space stands between number and unit: marks of plane angle.
    pub fn clings(&self) -> bool {
        self.shown == "°"
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::message::in_english;

    fn si(value: f64, unit: &str) -> f64 {
        Unit::parse(unit).unwrap().to_si(value)
    }

    #[test]
    fn inches_convert_with_one_rounding() {
        assert_eq!(si(14.0, "in"), 0.3556);
        assert!((Unit::parse("in").unwrap().from_si(0.6477) - 25.5).abs() < 1e-14);
        assert_eq!(Unit::parse("mm").unwrap().from_si(0.3556), 355.6);
    }

    #[test]
    fn temperatures_keep_their_zero_and_differences_do_not() {
        let f = Unit::parse("degF").unwrap();
        assert!((f.to_si(32.0) - 273.15).abs() < 1e-12);
        assert!((f.to_si(212.0) - 373.15).abs() < 1e-12);
        assert!((f.to_si_as(18.0, ScaleKind::Plain) - 10.0).abs() < 1e-12);
    }

    #[test]
    fn a_unit_of_units_that_are_quotients_is_read_again_by_its_own_name() {
        for text in [
            "cfm/s3",
            "cfm·s",
            "m/gpm",
            "cfm/gpm",
            "kg·cfm/(m·gpm)",
            "J/(kg·K)",
            "lbf/in2",
        ] {
            let unit = Unit::parse(text).unwrap();
            let again =
                Unit::parse(&unit.symbol).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
            assert_eq!(
                (&again.symbol, again.dimension),
                (&unit.symbol, unit.dimension)
            );
            assert!(
                (again.to_si(1.0) / unit.to_si(1.0) - 1.0).abs() < 1e-12,
                "{text}"
            );
        }
        // it would be read again as a quotient by min2
        assert!(Unit::parse("cfm2").is_err());
    }

    #[test]
    fn a_part_that_can_not_be_put_in_anew_is_mended_no_further() {
        for text in ["ks^~4", "5 ks^~4", "in/ks^~4", "psj/psj", "psj/in"] {
            assert!(Unit::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn compound_units_multiply_and_divide() {
        assert!((si(1.0, "lbf/in2") - si(1.0, "psi")).abs() < 1e-9);
        assert!((si(1.0, "J/(kg·K)") - 1.0).abs() < 1e-15);
        assert_eq!(Unit::parse("ft³/min").unwrap().symbol, "ft3/min");
        assert_eq!(Unit::parse("ft^3/min").unwrap().shown, "ft³/min");
    }

    #[test]
    fn case_is_forgiven_where_only_one_unit_can_be_meant() {
        assert_eq!(Unit::parse("PSI").unwrap().symbol, "psi");
        assert_eq!(Unit::parse("Bar").unwrap().symbol, "bar");
        assert_eq!(Unit::parse("GPM").unwrap().symbol, "gal/min");
    }

    #[test]
    fn an_ambiguous_unit_is_refused_with_the_choices() {
        let fault = Unit::parse("ton").unwrap_err();
        let help = in_english(&fault.help.expect("there are others"));
        assert!(help.contains("kg"));
        assert!(Unit::parse("furlong").is_err());
        assert!(Unit::parse("").is_err());
        assert!(Unit::parse("m/").is_err());
        assert!(Unit::parse("m2000000000000").is_err());
    }
}
