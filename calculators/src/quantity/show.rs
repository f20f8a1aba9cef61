//! Prints quantities: fractions to a stated denominator, decimals to a stated
//! step, always rounded in a named direction.

use super::number::{tidy, to_digits};
use crate::message::{Message, tell};
use crate::span::is_even;
use crate::unit::{ScaleKind, Unit, UnitFault};
use crate::words::joined;
use serde::{Deserialize, Serialize};

/// Which way a printed value may differ from the exact one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Rounding {
    Up,
    Down,
    /// Halves go away from zero.
    Nearest,
}

impl Rounding {
    pub fn parse(word: &str) -> Option<Rounding> {
        match word {
            "up" => Some(Rounding::Up),
            "down" => Some(Rounding::Down),
            "nearest" => Some(Rounding::Nearest),
            _ => None,
        }
    }
}

/// The printed value is a whole number of these.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum RoundingStep {
    /// One part in so many: 1/8.
    Fraction(u32),
    /// `multiple × 10^-places`, printed with so many places: 0.05, 1, 100.
    Decimal { multiple: f64, places: usize },
}

impl RoundingStep {
    /// Reads `1/8`, `0.1`, `1` or `100`.
    pub fn parse(text: &str) -> Option<RoundingStep> {
        if let Some(bottom) = text.strip_prefix("1/") {
            let bottom: u32 = bottom.parse().ok()?;
            return matches!(bottom, 2 | 4 | 8 | 16 | 32 | 64)
                .then_some(RoundingStep::Fraction(bottom));
        }
        let places = text.split_once('.').map_or(0, |(_, places)| places.len());
        let digits: String = text.chars().filter(|c| *c != '.').collect();
        let plain =
            !digits.is_empty() && digits.len() <= 9 && digits.chars().all(|c| c.is_ascii_digit());
        let multiple: f64 = digits.parse().ok()?;
        (plain && multiple > 0.0).then_some(RoundingStep::Decimal { multiple, places })
    }

    /// The next finer step: half of a fraction, down to a sixty-fourth, then ever more decimals.
    /// `None` past what a double tells apart.
    pub(crate) fn finer(self) -> Option<RoundingStep> {
        const MOST_PLACES: usize = 13;
        match self {
            RoundingStep::Fraction(bottom) if bottom < 64 => {
                Some(RoundingStep::Fraction(bottom * 2))
            }
            // the first decimals that are finer than a sixty-fourth
            RoundingStep::Fraction(_) => Some(RoundingStep::Decimal {
                multiple: 1.0,
                places: 3,
            }),
            // 100, then 10: fewer zeros before more places
            RoundingStep::Decimal {
                multiple,
                places: 0,
            } if multiple >= 10.0 => {
                let multiple = libm::floor(multiple / 10.0);
                Some(RoundingStep::Decimal {
                    multiple,
                    places: 0,
                })
            }
            RoundingStep::Decimal { places, .. } if places < MOST_PLACES => {
                Some(RoundingStep::Decimal {
                    multiple: 1.0,
                    places: places + 1,
                })
            }
            RoundingStep::Decimal { .. } => None,
        }
    }

    fn scaled(self, value: f64) -> f64 {
        match self {
            RoundingStep::Fraction(bottom) => value * f64::from(bottom),
            RoundingStep::Decimal { multiple, places } => value * power_of_ten(places) / multiple,
        }
    }

    fn unscaled(self, steps: f64) -> f64 {
        match self {
            RoundingStep::Fraction(bottom) => steps / f64::from(bottom),
            RoundingStep::Decimal { multiple, places } => steps * multiple / power_of_ten(places),
        }
    }
}

fn power_of_ten(places: usize) -> f64 {
    (0..places).fold(1.0, |power, _| power * 10.0)
}

/// Conversion leaves noise in the last bits; a value this near a step, in
/// steps, counts as that step, else 25 1/2 could be rounded down to 25 3/8.
const NOISE: f64 = 1e-9;

/// A whole number of steps, rounded the way stated.
pub(crate) fn whole_steps(steps: f64, rounding: Rounding) -> f64 {
    let near = libm::round(steps);
    if (steps - near).abs() <= NOISE * steps.abs().max(1.0) {
        return near;
    }
    match rounding {
        Rounding::Up => libm::ceil(steps),
        Rounding::Down => libm::floor(steps),
        Rounding::Nearest => near,
    }
}

/// How a quantity is printed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct UnitFormat {
    pub unit: Unit,
    pub kind: ScaleKind,
    pub step: RoundingStep,
    pub rounding: Rounding,
}

/// A printed value: the rounded number in the form's unit, and its text.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundedQuantity {
    pub value: f64,
    pub text: String,
}

impl UnitFormat {
    /// A form from its parts as a catalog writes them; `None` for a bad step.
    ///
    /// # Errors
    /// A unit that can't be read.
    pub fn parse(unit: &str, step: &str, rounding: Rounding) -> Result<UnitFormat, UnitFault> {
        let unit = if unit == "count" {
            Unit::count()
        } else {
            Unit::parse(unit)?
        };
        let step = RoundingStep::parse(step).ok_or_else(|| {
            let help = tell::write::step();
            UnitFault::new(tell::unit::bad_step(&step), Some(help))
        })?;
        Ok(UnitFormat {
            kind: unit.natural_kind(),
            unit,
            step,
            rounding,
        })
    }

    pub fn print(&self, si: f64) -> RoundedQuantity {
        let steps = whole_steps(
            self.step.scaled(self.unit.from_si_as(si, self.kind)),
            self.rounding,
        );
        // No minus before a zero.
        let value = self.step.unscaled(steps) + 0.0;
        let number = match self.step {
            RoundingStep::Fraction(bottom) => fraction(steps, bottom),
            RoundingStep::Decimal { places, .. } => decimal(value, places),
        };
        RoundedQuantity {
            value,
            text: with_unit(&number, &self.unit),
        }
    }

    /// One step of the form, in SI.
    pub(crate) fn one_step(&self) -> f64 {
        self.unit.difference_to_si(self.step.unscaled(1.0))
    }

    /// Says how results in this form are rounded: `rounded down to 1/8 in`.
    pub fn rounding_words(&self) -> Message {
        use tell::rounding as tell;
        let step = match self.step {
            RoundingStep::Fraction(bottom) => format!("1/{bottom}"),
            RoundingStep::Decimal { multiple, places } => {
                decimal(multiple / power_of_ten(places), places)
            }
        };
        if self.unit.symbol == "count" && step == "1" {
            // A count that comes out whole isn't rounded.
            return match self.rounding {
                Rounding::Nearest => Message::default(),
                Rounding::Up => tell::up_whole(),
                Rounding::Down => tell::down_whole(),
            };
        }
        let step = with_unit(&step, &self.unit);
        match self.rounding {
            Rounding::Up => tell::up(&step),
            Rounding::Down => tell::down(&step),
            Rounding::Nearest => tell::nearest(&step),
        }
    }
}

fn with_unit(number: &str, unit: &Unit) -> String {
    if unit.shown.is_empty() {
        number.to_string()
    } else if unit.clings() {
        format!("{number}{}", unit.shown)
    } else {
        format!("{number} {}", unit.shown)
    }
}

/// `25 1/2` from 204 eighths.
fn fraction(steps: f64, bottom: u32) -> String {
    let sign = if steps < 0.0 { "−" } else { "" };
    let steps = steps.abs();
    let below = f64::from(bottom);
    let whole = libm::floor(steps / below);
    let mut top = steps - whole * below;
    let mut under = below;
    while top > 0.0 && is_even(top) {
        top /= 2.0;
        under /= 2.0;
    }
    let whole_text = decimal(whole, 0);
    match (whole > 0.0, top > 0.0) {
        (_, false) => format!("{sign}{whole_text}"),
        (true, true) => format!("{sign}{whole_text} {top}/{under}"),
        (false, true) => format!("{sign}{top}/{under}"),
    }
}

/// Decimal digits with thousands set apart by a narrow no-break space from five digits on.
fn decimal(value: f64, places: usize) -> String {
    let text = format!("{:.places$}", value.abs());
    let (whole, rest) = text.split_at(text.find('.').unwrap_or(text.len()));
    let mut grouped = String::new();
    for (at, digit) in whole.chars().enumerate() {
        if whole.len() >= 5 && at > 0 && (whole.len() - at) % 3 == 0 {
            grouped.push('\u{202f}');
        }
        grouped.push(digit);
    }
    let sign = if value < 0.0 { "−" } else { "" };
    format!("{sign}{grouped}{rest}")
}

/// The shortest text that gives the quantity back in a unit: a fraction where
/// inches come out even in sixty-fourths, else up to ten significant digits.
pub fn in_unit(si: f64, unit: &Unit, kind: ScaleKind) -> String {
    with_unit(&bare_in_unit(si, unit, kind), unit)
}

pub(crate) fn bare_in_unit(si: f64, unit: &Unit, kind: ScaleKind) -> String {
    let value = unit.from_si_as(si, kind);
    if unit.symbol == "in" {
        let sixty_fourths = value * 64.0;
        if (sixty_fourths - libm::round(sixty_fourths)).abs() < 1e-9 * value.abs().max(1.0) {
            return fraction(libm::round(sixty_fourths), 64);
        }
    }
    plain(value)
}

/// Up to ten significant digits, without trailing zeros.
fn plain(value: f64) -> String {
    let rounded = to_digits(value, 10);
    let text = format!("{rounded}");
    let places = text.split_once('.').map_or(0, |(_, places)| places.len());
    decimal(rounded, places)
}

/// What was understood, as typed and in both unit systems: `14 in = 355.6 mm`.
pub fn understood(
    si: f64,
    typed: &Unit,
    main: &Unit,
    also: Option<&Unit>,
    kind: ScaleKind,
) -> String {
    let mut readings = vec![in_unit(si, typed, kind)];
    for unit in std::iter::once(main).chain(also) {
        let reading = match also {
            Some(_) if unit.symbol != typed.symbol => rounded_reading(si, unit, kind),
            _ => in_unit(si, unit, kind),
        };
        if !readings.contains(&reading) {
            readings.push(reading);
        }
    }
    if typed.symbol == "in" {
        let decimal = with_unit(&plain(tidy(typed.from_si_as(si, kind))), typed);
        if !readings.contains(&decimal) {
            readings.insert(1, decimal);
        }
    }
    joined(&readings, " = ")
}

/// Enough digits to recognise the value by: six significant ones.
pub(crate) fn rounded_reading(si: f64, unit: &Unit, kind: ScaleKind) -> String {
    let exact = bare_in_unit(si, unit, kind);
    if exact.contains('/') {
        return with_unit(&exact, unit);
    }
    let value = unit.from_si_as(si, kind);
    let rounded = to_digits(value, 6);
    with_unit(&plain(rounded), unit)
}
