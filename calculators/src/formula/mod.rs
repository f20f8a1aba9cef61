//! Formulas in ordinary mathematical notation: parsed, checked for dimensions,
//! evaluated, and printed with symbols or with numbers put in.
//!
//! ```
//! use gaugeleaf_calc::formula::Formula;
//! let formula = Formula::parse("2 * (stock + 3 in)").unwrap();
//! assert_eq!(formula.names(), ["stock"]);
//! assert!(Formula::parse("2 * (stock").is_err());
//! ```
//!
//! The language knows no calculators: names are resolved by the caller's scope.

mod ast;
mod check;
mod enclose;
mod enclose_ranges;
mod enclose_tables;
mod evaluate;
mod fault;
mod functions;
mod lattice;
mod lex;
pub(crate) mod mathml;
mod maths;
mod parse;
mod plain;
mod root;
mod signature;
mod simplify;
mod spreads;
mod taken;
mod types;
mod values;

pub use crate::span::Span;
pub use ast::{Expr, ExprKind, Operator};
pub use fault::FormulaFault;
pub use functions::{FUNCTIONS, Function};
pub use plain::Notation;
pub use spreads::{Spread, Spreads};
pub use types::{Scope, Type, TypeFault};
pub use values::{EvalFault, Value, Values};
pub(crate) use values::{TOLERANCE, tolerance_name};

use serde::{Deserialize, Serialize};

/// A parsed formula.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Formula {
    #[serde(skip)]
    pub text: String,
    pub expr: Expr,
}

impl Formula {
    /// Parses a formula.
    ///
    /// # Errors
    /// The first place at which the text stops being a formula.
    pub fn parse(text: &str) -> Result<Formula, FormulaFault> {
        Ok(Formula {
            text: text.to_string(),
            expr: parse::parse(text)?,
        })
    }

    /// The type of the result, with every dimension checked.
    ///
    /// # Errors
    /// The first sub-formula whose dimensions don't agree.
    pub fn check(&self, scope: &dyn Scope) -> Result<Type, TypeFault> {
        check::check(&self.expr, scope)
    }

    /// The value, given values for its names.
    ///
    /// # Errors
    /// A result that doesn't exist (a division by zero, a missing table row).
    pub fn evaluate(&self, values: &dyn Values) -> Result<Value, EvalFault> {
        evaluate::evaluate(&self.expr, values)
    }

    /// Every value it may take for names that lie anywhere in their spans.
    ///
    /// # Errors
    /// A part that may have no value there.
    pub fn enclose(&self, spreads: &dyn Spreads) -> Result<Spread, EvalFault> {
        enclose::enclose(&self.expr, spreads)
    }

    /// The names it reads, each once, in order of appearance.
    pub fn names(&self) -> Vec<&str> {
        let mut names = Vec::new();
        self.expr.collect_names(&mut Vec::new(), &mut names);
        names
    }

    /// The formula in one line of plain text.
    pub fn plain(&self, notation: &dyn Notation) -> String {
        plain::print(&self.expr, notation)
    }

    /// The formula with only the branches that these values take.
    pub fn taken(&self, values: &dyn Values) -> Formula {
        Formula {
            text: self.text.clone(),
            expr: taken::taken(&self.expr, values),
        }
    }

    /// The formula as presentation MathML, without the enclosing `math` element.
    pub fn mathml(&self, notation: &dyn Notation) -> String {
        mathml::print(&self.expr, notation)
    }
}

#[cfg(test)]
mod tests;

#[cfg(test)]
mod soundness;
