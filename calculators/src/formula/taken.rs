//! Formulas made shorter for the working.

use super::ast::{Expr, ExprKind};
use super::evaluate::evaluate;
use super::values::{Value, Values};

/// Keeps only the branches that were taken.
pub(super) fn taken(expr: &Expr, values: &dyn Values) -> Expr {
    if let ExprKind::If(condition, yes, no) = &expr.kind {
        match evaluate(condition, values) {
            Ok(Value::Truth(true)) => return taken(yes, values),
            Ok(Value::Truth(false)) => return taken(no, values),
            // Inside a sum the condition depends on the counter.
            _ => {}
        }
    }
    expr.over_children(&mut |child| taken(child, values))
}
