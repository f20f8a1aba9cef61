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

/// One function.
#[derive(Debug)]
pub struct Function {
    pub name: &'static str,
    pub usage: &'static str,
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
    rule: CallRule,
    (least, most): (usize, usize),
) -> Function {
    Function {
        name,
        usage,
        rule,
        least,
        most,
    }
}

/// Every function but `sum`, `largest` and `root`, which bind a name and are parsed apart.
pub static FUNCTIONS: &[Function] = &[
    // The square root.
    function(
        "sqrt",
        "sqrt(x)",
        CallRule::Maths(Maths::SquareRoot),
        (1, 1),
    ),
    // The size of x without its sign.
    function("abs", "abs(x)", CallRule::Maths(Maths::Abs), (1, 1)),
    // The least.
    function(
        "min",
        "min(a, b, …)",
        CallRule::Maths(Maths::Least),
        (2, 16),
    ),
    // The greatest.
    function(
        "max",
        "max(a, b, …)",
        CallRule::Maths(Maths::Greatest),
        (2, 16),
    ),
    // The whole number at or below x.
    function("floor", "floor(x)", CallRule::Maths(Maths::Floor), (1, 1)),
    // The whole number at or above x.
    function("ceil", "ceil(x)", CallRule::Maths(Maths::Ceiling), (1, 1)),
    // The nearest whole number, halves away from zero.
    function("round", "round(x)", CallRule::Maths(Maths::Round), (1, 1)),
    // The sine.
    function("sin", "sin(angle)", CallRule::Maths(Maths::Sine), (1, 1)),
    // The cosine.
    function("cos", "cos(angle)", CallRule::Maths(Maths::Cosine), (1, 1)),
    // The tangent.
    function("tan", "tan(angle)", CallRule::Maths(Maths::Tangent), (1, 1)),
    // The angle whose sine is x.
    function("asin", "asin(x)", CallRule::Maths(Maths::ArcSine), (1, 1)),
    // The angle whose cosine is x.
    function("acos", "acos(x)", CallRule::Maths(Maths::ArcCosine), (1, 1)),
    // The angle whose tangent is x.
    function(
        "atan",
        "atan(x)",
        CallRule::Maths(Maths::ArcTangent),
        (1, 1),
    ),
    // The angle of the point (x, y).
    function(
        "atan2",
        "atan2(y, x)",
        CallRule::Maths(Maths::ArcTangentOfTwo),
        (2, 2),
    ),
    // E to the power x.
    function("exp", "exp(x)", CallRule::Maths(Maths::Exponential), (1, 1)),
    // The natural logarithm.
    function("ln", "ln(x)", CallRule::Maths(Maths::Logarithm), (1, 1)),
    // The common logarithm.
    function(
        "log10",
        "log10(x)",
        CallRule::Maths(Maths::CommonLogarithm),
        (1, 1),
    ),
    // Darcy's friction factor in a pipe: 64/Re up to 2000, Colebrook's equation above.
    function(
        "darcy_friction",
        "darcy_friction(Reynolds number, roughness / bore)",
        CallRule::Maths(Maths::Friction),
        (2, 2),
    ),
    // The entry of a table's column in the row whose key columns equal the values.
    function(
        "lookup",
        "lookup(\"table\", \"column\", \"key column\", value, …)",
        CallRule::Lookup,
        (4, 8),
    ),
    // Whether a table has a row whose key columns equal the values.
    function(
        "found",
        "found(\"table\", \"key column\", value, …)",
        CallRule::Found,
        (3, 9),
    ),
    // Tubes in row j from the middle, for a reach and half a lane in tube pitches.
    function(
        "lattice_row",
        "lattice_row(layout, centre, reach, lane, j)",
        CallRule::Lattice(Lattice::Row),
        (5, 5),
    ),
    // The farthest row from the middle that may hold a tube.
    function(
        "lattice_end",
        "lattice_end(layout, centre, reach)",
        CallRule::Lattice(Lattice::End),
        (3, 3),
    ),
    // Density of liquid water (IAPWS-95).
    function(
        "water_density",
        "water_density(temperature, absolute pressure)",
        CallRule::Water(Property::Density),
        (2, 2),
    ),
    // Viscosity of liquid water (IAPWS R12-08).
    function(
        "water_viscosity",
        "water_viscosity(temperature, absolute pressure)",
        CallRule::Water(Property::Viscosity),
        (2, 2),
    ),
    // Heat capacity of liquid water at constant pressure (IAPWS-95).
    function(
        "water_heat_capacity",
        "water_heat_capacity(temperature, absolute pressure)",
        CallRule::Water(Property::HeatCapacity),
        (2, 2),
    ),
    // Volume expansion of liquid water at constant pressure (IAPWS-95).
    function(
        "water_expansion",
        "water_expansion(temperature, absolute pressure)",
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
