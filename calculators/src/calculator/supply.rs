//! What a calculator doesn't hold itself, and whom it asks for it.

use super::answer::{InputSource, Problem};
use crate::field::Entry;
use crate::formula::{Value, Values};
use crate::names::Names;

/// A value that came along the graph.
#[derive(Debug, Clone, PartialEq)]
pub struct Supplied {
    pub entry: Entry,
    pub source: InputSource,
}

/// What the graph gives a calculator: inputs that nobody typed, and tables.
pub trait Supply {
    /// The value of a measurement, a rating or another calculator's output.
    ///
    /// # Errors
    /// Why there is none.
    fn supply(&self, from: &str) -> Result<Supplied, Problem>;
    /// A table's entry.
    ///
    /// # Errors
    /// Says that no row fits.
    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String>;
    /// Whether a table has such a row.
    ///
    /// # Errors
    /// Says that there is no such table.
    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, String>;
}

pub(super) struct Known<'a> {
    pub values: &'a Names<Value>,
    pub supply: &'a dyn Supply,
}

impl Values for Known<'_> {
    fn value(&self, name: &str) -> Option<Value> {
        self.values.get(name).cloned()
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String> {
        self.supply.lookup(table, column, keys)
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, String> {
        self.supply.found(table, keys)
    }
}
