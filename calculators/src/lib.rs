//! Units, quantities, formulas, calculators and the graph of named quantities.
pub mod finding;
pub mod formula;
pub mod quantity;
pub mod unit;
