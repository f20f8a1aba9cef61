//! The functions of the formula language, each with what it takes and gives.

use super::lattice::Lattice;
use super::maths::Maths;
use crate::message::{Message, tell};
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
    /// Takes an input by its name.
    Tolerance,
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
    pub(super) fn at(self, temperature: f64, pressure: f64) -> Result<f64, Message> {
        let water = Water::at(temperature, pressure);
        water
            .map(|water| self.of(water))
            .ok_or_else(tell::formula::water)
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
    pub rule: CallRule,
}

const fn function(name: &'static str, rule: CallRule) -> Function {
    Function { name, rule }
}

/// Every function but `sum`, `largest` and `root`, which bind a name and are parsed apart.
pub static FUNCTIONS: &[Function] = &[
    // The square root.
    function("sqrt", CallRule::Maths(Maths::SquareRoot)),
    // The size of x without its sign.
    function("abs", CallRule::Maths(Maths::Abs)),
    // The least.
    function("min", CallRule::Maths(Maths::Least)),
    // The greatest.
    function("max", CallRule::Maths(Maths::Greatest)),
    // The whole number at or below x.
    function("floor", CallRule::Maths(Maths::Floor)),
    // The whole number at or above x.
    function("ceil", CallRule::Maths(Maths::Ceiling)),
    // The nearest whole number, halves away from zero.
    function("round", CallRule::Maths(Maths::Round)),
    // The sine.
    function("sin", CallRule::Maths(Maths::Sine)),
    // The cosine.
    function("cos", CallRule::Maths(Maths::Cosine)),
    // The tangent.
    function("tan", CallRule::Maths(Maths::Tangent)),
    // The angle whose sine is x.
    function("asin", CallRule::Maths(Maths::ArcSine)),
    // The angle whose cosine is x.
    function("acos", CallRule::Maths(Maths::ArcCosine)),
    // The angle whose tangent is x.
    function("atan", CallRule::Maths(Maths::ArcTangent)),
    // The angle of the point (x, y).
    function("atan2", CallRule::Maths(Maths::ArcTangentOfTwo)),
    // E to the power x.
    function("exp", CallRule::Maths(Maths::Exponential)),
    // The natural logarithm.
    function("ln", CallRule::Maths(Maths::Logarithm)),
    // The common logarithm.
    function("log10", CallRule::Maths(Maths::CommonLogarithm)),
    // Darcy's friction factor in a pipe: 64/Re up to 2000, Colebrook's equation above.
    function("darcy_friction", CallRule::Maths(Maths::Friction)),
    // The entry of a table's column in the row whose key columns equal the values.
    function("lookup", CallRule::Lookup),
    // Whether a table has a row whose key columns equal the values.
    function("found", CallRule::Found),
    // Tubes in row j from the middle, for a reach and half a lane in tube pitches.
    function("lattice_row", CallRule::Lattice(Lattice::Row)),
    // The farthest row from the middle that may hold a tube.
    function("lattice_end", CallRule::Lattice(Lattice::End)),
    // How far an input may lie from what was told, by the tolerance that was told with it; else 0.
    function("tolerance", CallRule::Tolerance),
    // Density of liquid water (IAPWS-95).
    function("water_density", CallRule::Water(Property::Density)),
    // Viscosity of liquid water (IAPWS R12-08).
    function("water_viscosity", CallRule::Water(Property::Viscosity)),
    // Heat capacity of liquid water at constant pressure (IAPWS-95).
    function(
        "water_heat_capacity",
        CallRule::Water(Property::HeatCapacity),
    ),
    // Volume expansion of liquid water at constant pressure (IAPWS-95).
    function("water_expansion", CallRule::Water(Property::Expansion)),
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
