//! The functions of the formula language, each with what it takes and gives.

use crate::quantity::Rounding;
use crate::unit::Dimension;

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
            && (self.rule != Rule::Lookup || count.is_multiple_of(2))
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

/// Every function but `sum` and `root`, which bind a name and are parsed apart.
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

/// The dimension that a rule wants of each argument, where it wants one.
pub(super) fn wanted(rule: Rule) -> Option<Dimension> {
    match rule {
        Rule::Plain | Rule::ToAngle => Some(Dimension::NONE),
        Rule::OfAngle => Some(Dimension::ANGLE),
        _ => None,
    }
}
