//! What a formula's names stand for, and what it comes to.

use crate::message::Message;
use std::ops::Range;

#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    Number(f64),
    Truth(bool),
    Choice(String),
}

/// What an input's tolerance stands under among the values: no name that a file can give.
pub(crate) fn tolerance_name(input: &str) -> String {
    let mut name = TOLERANCE.to_string();
    name.push_str(input);
    name
}

pub(crate) const TOLERANCE: &str = "±";

/// A result that doesn't exist, and the part of the formula to blame.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EvalFault {
    pub span: Range<usize>,
    pub message: Message,
}

/// Boxed, since every part of a formula hands up its value or its fault.
pub(super) type BoxedFault = Box<EvalFault>;

impl EvalFault {
    pub(super) fn new(span: &Range<usize>, message: Message) -> EvalFault {
        EvalFault {
            span: span.clone(),
            message,
        }
    }
}

/// Where names and table entries get their values.
pub trait Values {
    fn value(&self, name: &str) -> Option<Value>;
    /// A table's entry in the row whose key columns equal the given values.
    ///
    /// # Errors
    /// Says that no row fits.
    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, Message>;
    /// Whether a table has a row whose key columns equal the given values.
    ///
    /// # Errors
    /// Says that there is no such table.
    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, Message>;
}

/// A sum's or a root's own name beside the others.
pub(super) struct BoundValue<'a> {
    pub name: &'a str,
    pub value: f64,
    pub outer: &'a dyn Values,
}

impl Values for BoundValue<'_> {
    fn value(&self, name: &str) -> Option<Value> {
        if name == self.name {
            Some(Value::Number(self.value))
        } else {
            self.outer.value(name)
        }
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, Message> {
        self.outer.lookup(table, column, keys)
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, Message> {
        self.outer.found(table, keys)
    }
}
