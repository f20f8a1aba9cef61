//! Dimensions: what kind of quantity a number is, so that a pressure is never
//! added to a length.

use crate::message::{Message, tell};
use serde::{Deserialize, Serialize};
use std::fmt;

/// Whether a number counts from a true zero or is a difference.
///
/// Temperatures and absolute pressures count from a true zero; gauge
/// pressures, temperature differences and everything else are plain. Kept
/// apart by type: an absolute pressure is refused where a gauge one is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum ScaleKind {
    Plain,
    Absolute,
}

/// Exponents are kept in twelfths, so that square, cube and fourth roots of
/// any dimension are exact.
const ONE: i16 = 12;
const BASES: usize = 6;
const BASE_SYMBOLS: [&str; BASES] = ["m", "kg", "s", "K", "rad", "dB"];

/// Powers of length, mass, time, temperature, plane angle and sound level.
///
/// Angle and level count as bases of their own, against SI's habit, so that a
/// bare number can't pass for an angle nor a ratio for a noise level.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Dimension([i16; BASES]);

impl Dimension {
    pub const NONE: Dimension = Dimension([0; BASES]);
    pub const LENGTH: Dimension = Dimension::of([1, 0, 0, 0, 0, 0]);
    pub const AREA: Dimension = Dimension::of([2, 0, 0, 0, 0, 0]);
    pub const VOLUME: Dimension = Dimension::of([3, 0, 0, 0, 0, 0]);
    pub const MASS: Dimension = Dimension::of([0, 1, 0, 0, 0, 0]);
    pub const TIME: Dimension = Dimension::of([0, 0, 1, 0, 0, 0]);
    pub const TEMPERATURE: Dimension = Dimension::of([0, 0, 0, 1, 0, 0]);
    pub const ANGLE: Dimension = Dimension::of([0, 0, 0, 0, 1, 0]);
    pub const LEVEL: Dimension = Dimension::of([0, 0, 0, 0, 0, 1]);
    pub const SPEED: Dimension = Dimension::of([1, 0, -1, 0, 0, 0]);
    pub const FLOW: Dimension = Dimension::of([3, 0, -1, 0, 0, 0]);
    pub const FORCE: Dimension = Dimension::of([1, 1, -2, 0, 0, 0]);
    pub const PRESSURE: Dimension = Dimension::of([-1, 1, -2, 0, 0, 0]);
    pub const ENERGY: Dimension = Dimension::of([2, 1, -2, 0, 0, 0]);
    pub const POWER: Dimension = Dimension::of([2, 1, -3, 0, 0, 0]);
    pub const DENSITY: Dimension = Dimension::of([-3, 1, 0, 0, 0, 0]);
    pub const VISCOSITY: Dimension = Dimension::of([-1, 1, -1, 0, 0, 0]);

    const fn of(whole: [i16; BASES]) -> Dimension {
        let mut parts = [0; BASES];
        let mut at = 0;
        while at < BASES {
            parts[at] = whole[at] * ONE;
            at += 1;
        }
        Dimension(parts)
    }

    pub fn is_none(self) -> bool {
        self == Dimension::NONE
    }

    #[must_use]
    pub fn times(self, other: Dimension) -> Dimension {
        Dimension(std::array::from_fn(|at| {
            self.0[at].saturating_add(other.0[at])
        }))
    }

    #[must_use]
    pub fn over(self, other: Dimension) -> Dimension {
        Dimension(std::array::from_fn(|at| {
            self.0[at].saturating_sub(other.0[at])
        }))
    }

    /// The dimension raised to a power, if the result has exponents in twelfths.
    pub fn power(self, exponent: f64) -> Option<Dimension> {
        let mut parts = [0; BASES];
        for (part, own) in parts.iter_mut().zip(self.0) {
            let raised = f64::from(own) * exponent;
            if raised.abs() > 1e4 || (raised - libm::round(raised)).abs() > 1e-9 {
                return None;
            }
            *part = libm::round(raised) as i16;
        }
        Some(Dimension(parts))
    }

    /// Temperatures and pressures are the quantities with a true zero to name.
    pub fn can_be_absolute(self) -> bool {
        self == Dimension::TEMPERATURE || self == Dimension::PRESSURE
    }

    /// The kind of quantity by its everyday name: a length, an angle.
    pub fn a_name(self) -> Message {
        use tell::dimension as tell;
        match self {
            Dimension::NONE => tell::none(),
            Dimension::LENGTH => tell::length(),
            Dimension::AREA => tell::area(),
            Dimension::VOLUME => tell::volume(),
            Dimension::MASS => tell::mass(),
            Dimension::TIME => tell::time(),
            Dimension::TEMPERATURE => tell::temperature(),
            Dimension::ANGLE => tell::angle(),
            Dimension::LEVEL => tell::level(),
            Dimension::SPEED => tell::speed(),
            Dimension::FLOW => tell::flow(),
            Dimension::FORCE => tell::force(),
            Dimension::PRESSURE => tell::pressure(),
            Dimension::ENERGY => tell::energy(),
            Dimension::POWER => tell::power(),
            Dimension::DENSITY => tell::density(),
            Dimension::VISCOSITY => tell::viscosity(),
            _ => tell::other(&self.to_string()),
        }
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_none() {
            return out.write_str("1");
        }
        let mut first = true;
        for (symbol, part) in BASE_SYMBOLS.iter().zip(self.0) {
            if part == 0 {
                continue;
            }
            if !first {
                out.write_str("·")?;
            }
            first = false;
            out.write_str(symbol)?;
            match (part % ONE, part / ONE) {
                (0, 1) => {}
                (0, whole) => write!(out, "^{whole}")?,
                _ => write!(out, "^({part}/{ONE})")?,
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::message::in_english;

    #[test]
    fn the_root_of_pressure_over_density_is_a_speed() {
        let ratio = Dimension::PRESSURE.over(Dimension::DENSITY);
        assert_eq!(ratio.power(0.5), Some(Dimension::SPEED));
    }

    #[test]
    fn a_fifth_root_of_a_length_has_no_dimension_to_give() {
        assert_eq!(Dimension::LENGTH.power(0.2), None);
    }

    #[test]
    fn names_carry_their_article() {
        assert_eq!(in_english(&Dimension::ANGLE.a_name()), "an angle");
        assert_eq!(
            in_english(&Dimension::LENGTH.power(5.0).unwrap().a_name()),
            "a quantity in m^5"
        );
    }
}
