//! Units, quantities, formulas, calculators and the graph of named quantities.
//!
//! The generator, the command line, the tests and the page all compute through
//! this crate, so that a number has one source. It must never contain I/O, a
//! clock, randomness, global state, HTML, locale or wire formats; it must never
//! panic on any input; and it returns the same bits on every target.

pub mod ask;
pub mod calculator;
pub mod catalog;
pub mod day;
pub mod field;
pub mod figure;
pub mod formula;
pub mod ground;
pub mod kit;
pub mod message;
pub mod named;
pub mod names;
pub mod plot;
pub mod quantity;
pub mod source;
pub mod span;
pub mod table;
pub mod unit;
pub mod water;
mod words;

mod builtin;
#[cfg(test)]
mod testing;

pub use builtin::{builtin, is_built_in};
pub use calculator::{Answer, Argument, Calculator, Problem};
pub use catalog::{Catalog, Job, defined};
pub use gaugeleaf_finding as finding;
pub use names::Names;
pub use source::SourceFile;
