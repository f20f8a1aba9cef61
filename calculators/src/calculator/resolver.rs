//! What a calculator doesn't hold itself, and whom it asks for it.

use crate::message::Message;
use std::rc::Rc;

use super::answer::{InputSource, Problem};
use super::leaf::Leaf;
use crate::field::Entry;
use crate::formula::Value;
use crate::ground::{Footing, Ground};
use crate::span::Span;

/// A value that came along the graph.
#[derive(Debug, Clone, PartialEq)]
pub struct Resolved {
    pub entry: Entry,
    pub source: InputSource,
    pub footing: Footing,
    /// Where it may lie, tolerance and all, while what is assumed lies anywhere in its usual band.
    /// None where nothing beneath is assumed.
    pub band: Option<Span>,
}

/// Why the graph gives no value.
#[derive(Debug, Clone, PartialEq)]
pub enum Unresolved {
    /// A value is refused, or can't be worked out.
    Problem(Problem),
    /// Nobody has given what it hangs on.
    Missing(Footing),
}

/// What the graph gives a calculator: inputs that nobody typed, and tables.
pub trait Resolver {
    /// The value of a measurement, a rating or another calculator's output.
    ///
    /// # Errors
    /// Why there is none.
    fn resolve(&self, from: &str) -> Result<Rc<Resolved>, Unresolved>;
    /// A table's entry.
    ///
    /// # Errors
    /// Says that no row fits.
    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, Message>;
    /// Whether a table has such a row.
    ///
    /// # Errors
    /// Says that there is no such table.
    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, Message>;
    /// What a table's entries stand on.
    fn table_ground(&self, table: &str) -> Ground;
    /// Whether an input may stand at what its file starts with.
    fn shows_defaults(&self) -> bool;
    /// Whether another calculator takes a result of this one.
    fn is_taken(&self, calculator: &str) -> bool;
    /// What there is to say of a value that something hangs on.
    fn leaf(&self, name: &str) -> Leaf;
    /// A table's column, row by row; empty where it isn't known.
    fn entries(&self, _table: &str, _column: &str) -> Vec<Value> {
        Vec::new()
    }
}
