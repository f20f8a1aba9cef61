//! The types of formulas, and the scope that gives names theirs.

use std::ops::Range;

use crate::message::in_english;
use crate::message::tell::dimension as tell;
use crate::unit::{Dimension, ScaleKind};

/// What a formula or a name stands for.
#[derive(Debug, Clone, PartialEq)]
pub enum Type {
    Number(Dimension, ScaleKind),
    /// A condition.
    Truth,
    /// One of these choices.
    Choice(Vec<String>),
}

impl Type {
    pub const PLAIN: Type = Type::Number(Dimension::NONE, ScaleKind::Plain);

    /// The type in words, with its article.
    pub(crate) fn described(&self) -> String {
        match self {
            Type::Number(Dimension::PRESSURE, ScaleKind::Absolute) => {
                in_english(&tell::absolute_pressure())
            }
            Type::Number(_, ScaleKind::Absolute) => in_english(&tell::absolute_temperature()),
            Type::Number(Dimension::TEMPERATURE, ScaleKind::Plain) => {
                in_english(&tell::temperature_difference())
            }
            Type::Number(dimension, _) => in_english(&dimension.a_name()),
            Type::Truth => "a condition".into(),
            Type::Choice(_) => "a choice".into(),
        }
    }
}

/// A sub-formula whose parts don't agree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypeFault {
    pub span: Range<usize>,
    pub message: String,
    pub help: Option<String>,
}

/// What names and tables a formula may use.
pub trait Scope {
    fn name(&self, name: &str) -> Option<Type>;
    /// Whether somebody tells it, so that it may have a tolerance of its own.
    fn is_told(&self, name: &str) -> bool;
    /// Names to suggest for a misspelt one.
    fn names(&self) -> Vec<String>;
    /// The type of a table's column.
    ///
    /// # Errors
    /// Says which table or column doesn't exist.
    fn column(&self, table: &str, column: &str) -> Result<Type, String>;
}
