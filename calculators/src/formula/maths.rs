//! The functions of numbers alone: of values, and of spans.

use crate::quantity::{Rounding, whole_steps};
use crate::span::Span;
use crate::unit::Dimension;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Maths {
    Abs,
    SquareRoot,
    Least,
    Greatest,
    Floor,
    Ceiling,
    Round,
    Sine,
    Cosine,
    Tangent,
    ArcSine,
    ArcCosine,
    ArcTangent,
    ArcTangentOfTwo,
    Exponential,
    Logarithm,
    CommonLogarithm,
    Friction,
}

/// What a function does to the dimensions of its arguments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DimensionRule {
    /// A plain number, gives one.
    Plain,
    /// An angle, gives a plain number.
    Angle,
    /// A plain number, gives an angle.
    Ratio,
    /// Two quantities of one dimension, gives an angle.
    Two,
    /// One quantity or several of one dimension, gives the same.
    Same,
    /// Any quantity whose root has a dimension.
    Square,
}

impl DimensionRule {
    /// The dimension that each argument must have, where there is one.
    pub(super) fn wanted(self) -> Option<Dimension> {
        match self {
            DimensionRule::Plain | DimensionRule::Ratio => Some(Dimension::NONE),
            DimensionRule::Angle => Some(Dimension::ANGLE),
            _ => None,
        }
    }
}

impl Maths {
    pub(super) fn takes(self) -> DimensionRule {
        match self {
            Maths::Abs | Maths::Least | Maths::Greatest => DimensionRule::Same,
            Maths::SquareRoot => DimensionRule::Square,
            Maths::Sine | Maths::Cosine | Maths::Tangent => DimensionRule::Angle,
            Maths::ArcSine | Maths::ArcCosine | Maths::ArcTangent => DimensionRule::Ratio,
            Maths::ArcTangentOfTwo => DimensionRule::Two,
            _ => DimensionRule::Plain,
        }
    }

    /// The value for plain SI numbers; those of one argument leave the second alone, and
    /// of more than two the first two are taken, then the result and the next. Whole-number
    /// functions forgive conversion noise, so that 2.0000000000000004 doesn't count as 3.
    pub(super) fn of(self, x: f64, y: f64) -> f64 {
        match self {
            Maths::Abs => libm::fabs(x),
            Maths::SquareRoot => libm::sqrt(x),
            // of 0 and -0 either may come back, on each target another: both are 0
            Maths::Least => x.min(y) + 0.0,
            Maths::Greatest => x.max(y) + 0.0,
            Maths::Floor => whole_steps(x, Rounding::Down),
            Maths::Ceiling => whole_steps(x, Rounding::Up),
            Maths::Round => whole_steps(x, Rounding::Nearest),
            Maths::Sine => libm::sin(x),
            Maths::Cosine => libm::cos(x),
            Maths::Tangent => libm::tan(x),
            Maths::ArcSine => libm::asin(x),
            Maths::ArcCosine => libm::acos(x),
            Maths::ArcTangent => libm::atan(x),
            Maths::ArcTangentOfTwo => libm::atan2(x, y),
            Maths::Exponential => libm::exp(x),
            Maths::Logarithm => libm::log(x),
            Maths::CommonLogarithm => libm::log10(x),
            Maths::Friction => friction(x, y),
        }
    }

    /// The span for spans; `None` where there may be no value.
    pub(super) fn enclose(self, arguments: &[Span]) -> Option<Span> {
        let x = *arguments.first()?;
        let inside = |low: f64, high: f64| x.low >= low && x.high <= high;
        Some(match self {
            Maths::Abs => x.abs(),
            Maths::SquareRoot if x.low >= 0.0 => x.monotone(libm::sqrt),
            Maths::Least => arguments.iter().copied().reduce(Span::min)?,
            Maths::Greatest => arguments.iter().copied().reduce(Span::max)?,
            Maths::Floor | Maths::Ceiling | Maths::Round => x.stepped(|x| self.of(x, x)),
            Maths::Sine => x.sin(),
            Maths::Cosine => x.cos(),
            Maths::Tangent => x.tan()?,
            Maths::ArcSine | Maths::ArcCosine if inside(-1.0, 1.0) => x.monotone(|x| self.of(x, x)),
            Maths::ArcTangent | Maths::Exponential => x.monotone(|x| self.of(x, x)),
            Maths::ArcTangentOfTwo => x.atan2(*arguments.get(1)?),
            Maths::Logarithm | Maths::CommonLogarithm if x.low > 0.0 => {
                x.monotone(|x| self.of(x, x))
            }
            Maths::Friction => return friction_span(x, *arguments.get(1)?),
            _ => return None,
        })
    }
}

/// The Reynolds number up to which flow in a pipe counts as laminar.
const LAMINAR: f64 = 2000.0;
/// Newton's method doubles the digits at each turn; what is left over ends a see-saw of the last.
const TURNS: usize = 12;

/// Darcy's friction factor: 64/Re in laminar flow, Colebrook's above.
fn friction(reynolds: f64, roughness: f64) -> f64 {
    if reynolds <= LAMINAR {
        64.0 / reynolds
    } else {
        colebrook(reynolds, roughness)
    }
}

/// Colebrook's equation in 1/√f, which is what is tried.
fn colebrook(reynolds: f64, roughness: f64) -> f64 {
    let slope = 2.51 / reynolds;
    let mut x = 8.0;
    for _ in 0..TURNS {
        let last = x;
        let inside = roughness / 3.7 + slope * x;
        x -= (x + 2.0 * libm::log10(inside))
            / (1.0 + 2.0 / core::f64::consts::LN_10 * slope / inside);
        if x == last {
            break;
        }
    }
    1.0 / (x * x)
}

/// On either side it falls as the Reynolds number grows, and grows with the roughness; where
/// turbulence begins it steps up.
fn friction_span(reynolds: Span, roughness: Span) -> Option<Span> {
    if reynolds.low <= 0.0 || roughness.high > 1.0 {
        return None;
    }
    // a smooth bore's may reach below 0 by the last digit
    let smooth = roughness.low.max(0.0);
    let laminar = Span {
        low: 64.0 / reynolds.high.min(LAMINAR),
        high: 64.0 / reynolds.low,
    };
    let turbulent = Span {
        low: colebrook(reynolds.high, smooth),
        high: colebrook(reynolds.low.max(LAMINAR), roughness.high),
    };
    let found = match (reynolds.high <= LAMINAR, reynolds.low > LAMINAR) {
        (true, _) => laminar,
        (_, true) => turbulent,
        _ => laminar.hull(turbulent),
    };
    Some(found.monotone(|x| x))
}
