//! The functions of the formula language, each with what it takes and gives.

use super::lattice;
use crate::quantity::Rounding;
use crate::span::Span;
use crate::unit::Dimension;
use crate::water::Water;

/// What a function does to the dimensions of its arguments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// Takes a plain number, gives one.
    Plain,
    /// Takes an angle, gives a plain number.
    OfAngle,
    /// Takes a plain number, gives an angle.
    ToAngle,
    /// Takes two quantities of one dimension, gives an angle.
    AngleOfTwo,
    /// Takes any quantity, gives the same.
    Same,
    /// Takes several quantities of one dimension, gives the same.
    SameOfAll,
    SquareRoot,
    /// `lookup("table", "column", "key", value, …)`.
    Lookup,
    /// `found("table", "key", value, …)`.
    Found,
    /// Takes a layout, a centre and plain numbers, gives a plain number.
    Lattice,
    /// Takes an absolute temperature and an absolute pressure.
    Water(Property),
}

/// A property of liquid water.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Property {
    Density,
    Viscosity,
    HeatCapacity,
    Expansion,
}

impl Property {
    pub fn dimension(self) -> Dimension {
        match self {
            Property::Density => Dimension::DENSITY,
            Property::Viscosity => Dimension::VISCOSITY,
            Property::HeatCapacity => Dimension::ENERGY
                .over(Dimension::MASS)
                .over(Dimension::TEMPERATURE),
            Property::Expansion => Dimension::NONE.over(Dimension::TEMPERATURE),
        }
    }

    fn of(self, water: Water) -> f64 {
        match self {
            Property::Density => water.density(),
            Property::Viscosity => water.viscosity(),
            Property::HeatCapacity => water.heat_capacity(),
            Property::Expansion => water.expansion(),
        }
    }

    /// The value, or why there is none.
    pub(super) fn at(self, temperature: f64, pressure: f64) -> Result<f64, String> {
        let water = Water::at(temperature, pressure);
        water.map(|water| self.of(water)).ok_or_else(|| {
            "water's properties are known here for liquid from 0 °C to 100 °C, up to 3000 bar"
                .to_string()
        })
    }

    /// The steepest change per kelvin and per pascal anywhere in the range,
    /// with room to spare: the tests hold it against differences.
    pub(super) fn steepest(self) -> (f64, f64) {
        match self {
            Property::Density => (1.2, 8e-7),
            Property::Viscosity => (1e-4, 8e-12),
            Property::HeatCapacity => (30.0, 1.5e-5),
            Property::Expansion => (3e-5, 8e-12),
        }
    }
}

/// One function, as the trainer's page lists it.
#[derive(Debug)]
pub struct Function {
    pub name: &'static str,
    pub usage: &'static str,
    pub about: &'static str,
    pub rule: Rule,
    least: usize,
    most: usize,
}

impl Function {
    pub fn takes(&self, count: usize) -> bool {
        (self.least..=self.most).contains(&count)
            && match self.rule {
                Rule::Lookup => count.is_multiple_of(2),
                Rule::Found => !count.is_multiple_of(2),
                _ => true,
            }
    }
}

const fn function(
    name: &'static str,
    usage: &'static str,
    about: &'static str,
    rule: Rule,
    (least, most): (usize, usize),
) -> Function {
    Function {
        name,
        usage,
        about,
        rule,
        least,
        most,
    }
}

/// Every function but `sum`, `largest` and `root`, which bind a name and are parsed apart.
pub static FUNCTIONS: &[Function] = &[
    function(
        "abs",
        "abs(x)",
        "the size of x without its sign",
        Rule::Same,
        (1, 1),
    ),
    function(
        "sqrt",
        "sqrt(x)",
        "the square root",
        Rule::SquareRoot,
        (1, 1),
    ),
    function("min", "min(a, b, …)", "the least", Rule::SameOfAll, (2, 16)),
    function(
        "max",
        "max(a, b, …)",
        "the greatest",
        Rule::SameOfAll,
        (2, 16),
    ),
    function(
        "floor",
        "floor(x)",
        "the whole number at or below x",
        Rule::Plain,
        (1, 1),
    ),
    function(
        "ceil",
        "ceil(x)",
        "the whole number at or above x",
        Rule::Plain,
        (1, 1),
    ),
    function(
        "round",
        "round(x)",
        "the nearest whole number, halves away from zero",
        Rule::Plain,
        (1, 1),
    ),
    function("sin", "sin(angle)", "the sine", Rule::OfAngle, (1, 1)),
    function("cos", "cos(angle)", "the cosine", Rule::OfAngle, (1, 1)),
    function("tan", "tan(angle)", "the tangent", Rule::OfAngle, (1, 1)),
    function(
        "asin",
        "asin(x)",
        "the angle whose sine is x",
        Rule::ToAngle,
        (1, 1),
    ),
    function(
        "acos",
        "acos(x)",
        "the angle whose cosine is x",
        Rule::ToAngle,
        (1, 1),
    ),
    function(
        "atan",
        "atan(x)",
        "the angle whose tangent is x",
        Rule::ToAngle,
        (1, 1),
    ),
    function(
        "atan2",
        "atan2(y, x)",
        "the angle of the point (x, y)",
        Rule::AngleOfTwo,
        (2, 2),
    ),
    function("exp", "exp(x)", "e to the power x", Rule::Plain, (1, 1)),
    function("ln", "ln(x)", "the natural logarithm", Rule::Plain, (1, 1)),
    function(
        "log10",
        "log10(x)",
        "the common logarithm",
        Rule::Plain,
        (1, 1),
    ),
    function(
        "lookup",
        "lookup(\"table\", \"column\", \"key column\", value, …)",
        "the entry of a table's column in the row whose key columns equal the values",
        Rule::Lookup,
        (4, 8),
    ),
    function(
        "found",
        "found(\"table\", \"key column\", value, …)",
        "whether a table has a row whose key columns equal the values",
        Rule::Found,
        (3, 9),
    ),
    function(
        "lattice_row",
        "lattice_row(layout, centre, reach, lane, j)",
        "tubes in row j from the middle, for a reach and half a lane in tube pitches",
        Rule::Lattice,
        (5, 5),
    ),
    function(
        "lattice_end",
        "lattice_end(layout, centre, reach)",
        "the farthest row from the middle that may hold a tube",
        Rule::Lattice,
        (3, 3),
    ),
    function(
        "water_density",
        "water_density(temperature, absolute pressure)",
        "density of liquid water (IAPWS-95)",
        Rule::Water(Property::Density),
        (2, 2),
    ),
    function(
        "water_viscosity",
        "water_viscosity(temperature, absolute pressure)",
        "viscosity of liquid water (IAPWS R12-08)",
        Rule::Water(Property::Viscosity),
        (2, 2),
    ),
    function(
        "water_heat_capacity",
        "water_heat_capacity(temperature, absolute pressure)",
        "heat capacity of liquid water at constant pressure (IAPWS-95)",
        Rule::Water(Property::HeatCapacity),
        (2, 2),
    ),
    function(
        "water_expansion",
        "water_expansion(temperature, absolute pressure)",
        "volume expansion of liquid water at constant pressure (IAPWS-95)",
        Rule::Water(Property::Expansion),
        (2, 2),
    ),
];

pub(super) fn find(name: &str) -> Option<&'static Function> {
    FUNCTIONS.iter().find(|function| function.name == name)
}

/// The value of a function of plain SI numbers. Whole-number functions forgive
/// conversion noise, so that a ratio of 2.0000000000000004 doesn't count as 3.
pub(super) fn apply(name: &str, arguments: &[f64]) -> f64 {
    use crate::quantity::whole_steps;
    let x = arguments.first().copied().unwrap_or(f64::NAN);
    let y = arguments.get(1).copied().unwrap_or(f64::NAN);
    match name {
        "abs" => libm::fabs(x),
        "sqrt" => libm::sqrt(x),
        "min" => arguments.iter().copied().fold(f64::INFINITY, f64::min),
        "max" => arguments.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        "floor" => whole_steps(x, Rounding::Down),
        "ceil" => whole_steps(x, Rounding::Up),
        "round" => whole_steps(x, Rounding::Nearest),
        "sin" => libm::sin(x),
        "cos" => libm::cos(x),
        "tan" => libm::tan(x),
        "asin" => libm::asin(x),
        "acos" => libm::acos(x),
        "atan" => libm::atan(x),
        "atan2" => libm::atan2(x, y),
        "exp" => libm::exp(x),
        "ln" => libm::log(x),
        "log10" => libm::log10(x),
        _ => f64::NAN,
    }
}

/// The span of a function of spans; `None` where it may have no value.
pub(super) fn enclose(name: &str, arguments: &[Span]) -> Option<Span> {
    use crate::quantity::whole_steps;
    let x = *arguments.first()?;
    let inside = |low: f64, high: f64| x.low >= low && x.high <= high;
    Some(match name {
        "abs" => x.abs(),
        "sqrt" if x.low >= 0.0 => x.monotone(libm::sqrt),
        "min" => arguments.iter().copied().reduce(Span::min)?,
        "max" => arguments.iter().copied().reduce(Span::max)?,
        "floor" => x.stepped(|x| whole_steps(x, Rounding::Down)),
        "ceil" => x.stepped(|x| whole_steps(x, Rounding::Up)),
        "round" => x.stepped(|x| whole_steps(x, Rounding::Nearest)),
        "sin" => x.sin(),
        "cos" => x.cos(),
        "tan" => x.tan()?,
        "asin" if inside(-1.0, 1.0) => x.monotone(libm::asin),
        "acos" if inside(-1.0, 1.0) => x.monotone(libm::acos),
        "atan" => x.monotone(libm::atan),
        "atan2" => x.atan2(*arguments.get(1)?),
        "exp" => x.monotone(libm::exp),
        "ln" if x.low > 0.0 => x.monotone(libm::log),
        "log10" if x.low > 0.0 => x.monotone(libm::log10),
        _ => return None,
    })
}

/// The value of a lattice function.
pub(super) fn lattice(name: &str, layout: &str, centre: &str, numbers: &[f64]) -> Option<f64> {
    match (name, numbers) {
        ("lattice_row", [reach, lane, row]) => lattice::row(layout, centre, *reach, *lane, *row),
        ("lattice_end", [reach]) => lattice::farthest_row(layout, centre, *reach),
        _ => None,
    }
}

/// The dimension that a rule wants of each argument, where it wants one.
pub(super) fn wanted(rule: Rule) -> Option<Dimension> {
    match rule {
        Rule::Plain | Rule::ToAngle => Some(Dimension::NONE),
        Rule::OfAngle => Some(Dimension::ANGLE),
        _ => None,
    }
}
