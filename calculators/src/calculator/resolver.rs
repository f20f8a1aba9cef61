//! What a calculator doesn't hold itself, and whom it asks for it.

use super::answer::{InputSource, Problem};
use crate::field::Entry;
use crate::formula::{Value, Values};
use crate::names::Names;

/// A value that came along the graph.
#[derive(Debug, Clone, PartialEq)]
pub struct Resolved {
    pub entry: Entry,
    pub source: InputSource,
}

/// What the graph gives a calculator: inputs that nobody typed, and tables.
pub trait Resolver {
    /// The value of a measurement, a rating or another calculator's output.
    ///
    /// # Errors
    /// Why there is none.
    fn resolve(&self, from: &str) -> Result<Resolved, Problem>;
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
    /// A table's column, row by row; empty where it isn't known.
    fn entries(&self, _table: &str, _column: &str) -> Vec<Value> {
        Vec::new()
    }
}

pub(super) struct Known<'a> {
    pub values: &'a Names<Value>,
    pub resolver: &'a dyn Resolver,
}

impl Values for Known<'_> {
    fn value(&self, name: &str) -> Option<Value> {
        self.values.get(name).cloned()
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String> {
        self.resolver.lookup(table, column, keys)
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, String> {
        self.resolver.found(table, keys)
    }
}
