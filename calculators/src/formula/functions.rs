//! The functions of the formula language, each with what it takes and gives.

use super::lattice::Lattice;
use super::maths::Maths;
use crate::unit::Dimension;
use crate::water::Water;

/// How a call is checked and worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CallRule {
    /// Of numbers alone.
    Maths(Maths),
    /// `lookup("table", "column", "key", value, …)`.
    Lookup,
    /// `found("table", "key", value, …)`.
    Found,
    /// Takes a layout, a centre and plain numbers, gives a plain number.
    Lattice(Lattice),
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

    /// The sharpest bend by temperature and by pressure anywhere in the range, as second
    /// derivatives with room to spare; 0 where it only rises or only falls. The tests hold
    /// both against differences.
    pub(super) fn bulge(self) -> (f64, f64) {
        match self {
            Property::Density => (0.024, 0.0),
            Property::Viscosity => (0.0, 3e-20),
            Property::HeatCapacity => (1.3, 1e-13),
            Property::Expansion => (8e-7, 4e-20),
        }
    }
}

/// One function, as the trainer's page lists it.
#[derive(Debug)]
pub struct Function {
    pub name: &'static str,
    pub usage: &'static str,
    pub about: &'static str,
    pub rule: CallRule,
    least: usize,
    most: usize,
}

impl Function {
    pub fn takes(&self, count: usize) -> bool {
        (self.least..=self.most).contains(&count)
            && match self.rule {
                CallRule::Lookup => count.is_multiple_of(2),
                CallRule::Found => !count.is_multiple_of(2),
                _ => true,
            }
    }
}

const fn function(
    name: &'static str,
    usage: &'static str,
    about: &'static str,
    rule: CallRule,
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
        "sqrt",
        "sqrt(x)",
        "the square root",
        CallRule::Maths(Maths::SquareRoot),
        (1, 1),
    ),
    function(
        "abs",
        "abs(x)",
        "the size of x without its sign",
        CallRule::Maths(Maths::Abs),
        (1, 1),
    ),
    function(
        "min",
        "min(a, b, …)",
        "the least",
        CallRule::Maths(Maths::Least),
        (2, 16),
    ),
    function(
        "max",
        "max(a, b, …)",
        "the greatest",
        CallRule::Maths(Maths::Greatest),
        (2, 16),
    ),
    function(
        "floor",
        "floor(x)",
        "the whole number at or below x",
        CallRule::Maths(Maths::Floor),
        (1, 1),
    ),
    function(
        "ceil",
        "ceil(x)",
        "the whole number at or above x",
        CallRule::Maths(Maths::Ceiling),
        (1, 1),
    ),
    function(
        "round",
        "round(x)",
        "the nearest whole number, halves away from zero",
        CallRule::Maths(Maths::Round),
        (1, 1),
    ),
    function(
        "sin",
        "sin(angle)",
        "the sine",
        CallRule::Maths(Maths::Sine),
        (1, 1),
    ),
    function(
        "cos",
        "cos(angle)",
        "the cosine",
        CallRule::Maths(Maths::Cosine),
        (1, 1),
    ),
    function(
        "tan",
        "tan(angle)",
        "the tangent",
        CallRule::Maths(Maths::Tangent),
        (1, 1),
    ),
    function(
        "asin",
        "asin(x)",
        "the angle whose sine is x",
        CallRule::Maths(Maths::ArcSine),
        (1, 1),
    ),
    function(
        "acos",
        "acos(x)",
        "the angle whose cosine is x",
        CallRule::Maths(Maths::ArcCosine),
        (1, 1),
    ),
    function(
        "atan",
        "atan(x)",
        "the angle whose tangent is x",
        CallRule::Maths(Maths::ArcTangent),
        (1, 1),
    ),
    function(
        "atan2",
        "atan2(y, x)",
        "the angle of the point (x, y)",
        CallRule::Maths(Maths::ArcTangentOfTwo),
        (2, 2),
    ),
    function(
        "exp",
        "exp(x)",
        "e to the power x",
        CallRule::Maths(Maths::Exponential),
        (1, 1),
    ),
    function(
        "ln",
        "ln(x)",
        "the natural logarithm",
        CallRule::Maths(Maths::Logarithm),
        (1, 1),
    ),
    function(
        "log10",
        "log10(x)",
        "the common logarithm",
        CallRule::Maths(Maths::CommonLogarithm),
        (1, 1),
    ),
    function(
        "lookup",
        "lookup(\"table\", \"column\", \"key column\", value, …)",
        "the entry of a table's column in the row whose key columns equal the values",
        CallRule::Lookup,
        (4, 8),
    ),
    function(
        "found",
        "found(\"table\", \"key column\", value, …)",
        "whether a table has a row whose key columns equal the values",
        CallRule::Found,
        (3, 9),
    ),
    function(
        "lattice_row",
        "lattice_row(layout, centre, reach, lane, j)",
        "tubes in row j from the middle, for a reach and half a lane in tube pitches",
        CallRule::Lattice(Lattice::Row),
        (5, 5),
    ),
    function(
        "lattice_end",
        "lattice_end(layout, centre, reach)",
        "the farthest row from the middle that may hold a tube",
        CallRule::Lattice(Lattice::End),
        (3, 3),
    ),
    function(
        "water_density",
        "water_density(temperature, absolute pressure)",
        "density of liquid water (IAPWS-95)",
        CallRule::Water(Property::Density),
        (2, 2),
    ),
    function(
        "water_viscosity",
        "water_viscosity(temperature, absolute pressure)",
        "viscosity of liquid water (IAPWS R12-08)",
        CallRule::Water(Property::Viscosity),
        (2, 2),
    ),
    function(
        "water_heat_capacity",
        "water_heat_capacity(temperature, absolute pressure)",
        "heat capacity of liquid water at constant pressure (IAPWS-95)",
        CallRule::Water(Property::HeatCapacity),
        (2, 2),
    ),
    function(
        "water_expansion",
        "water_expansion(temperature, absolute pressure)",
        "volume expansion of liquid water at constant pressure (IAPWS-95)",
        CallRule::Water(Property::Expansion),
        (2, 2),
    ),
];

pub(super) fn find(name: &str) -> Option<&'static Function> {
    FUNCTIONS.iter().find(|function| function.name == name)
}

/// What the sign √ stands for.
pub(super) fn square_root() -> &'static Function {
    &FUNCTIONS[0]
}

/// Each function stands once in the list, so it is its place.
impl PartialEq for Function {
    fn eq(&self, other: &Function) -> bool {
        std::ptr::eq(self, other)
    }
}

/// A function in a packed formula: its place in the list.
pub(super) mod by_place {
    use super::{FUNCTIONS, Function};
    use serde::de::Error;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(in super::super) fn serialize<S: Serializer>(
        function: &&'static Function,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        let place = FUNCTIONS.iter().position(|known| known == *function);
        place.unwrap_or(usize::MAX).serialize(serializer)
    }

    pub(in super::super) fn deserialize<'d, D: Deserializer<'d>>(
        deserializer: D,
    ) -> Result<&'static Function, D::Error> {
        let place = usize::deserialize(deserializer)?;
        let function = FUNCTIONS.get(place);
        function.ok_or_else(|| D::Error::custom("there is no such function"))
    }
}
