//! Formulas made shorter before they are worked out many times over.

use super::ast::{Expr, ExprKind};
use super::functions::CallRule;
use super::values::Value;

/// Puts in the value of every part that hangs on none of the bound names, and the branch
/// that such a condition takes, so that a sum or a root works them out once and not at
/// every turn.
pub(super) fn folded(expr: &Expr, bound: &[&str], value: &dyn Fn(&Expr) -> Option<Value>) -> Expr {
    if !reads(expr, bound) {
        let kind = match value(expr) {
            Some(Value::Number(number)) => Some(ExprKind::Number(number)),
            Some(Value::Choice(word)) => Some(ExprKind::Word(word)),
            // its parts may still have one
            Some(Value::Truth(_)) | None => None,
        };
        if let Some(kind) = kind {
            let span = expr.span.clone();
            return Expr { kind, span };
        }
    }
    let mut inside = bound.to_vec();
    match &expr.kind {
        ExprKind::If(condition, yes, no) if !reads(condition, bound) => match value(condition) {
            Some(Value::Truth(true)) => return folded(yes, bound, value),
            Some(Value::Truth(false)) => return folded(no, bound, value),
            _ => {}
        },
        ExprKind::Over { name, .. } | ExprKind::Root { name, .. } => inside.push(name),
        // Its arguments name tables, columns and keys.
        ExprKind::Call(function, _)
            if matches!(function.rule, CallRule::Lookup | CallRule::Found) =>
        {
            return expr.clone();
        }
        _ => {}
    }
    expr.over_children(&mut |child| folded(child, &inside, value))
}

/// Whether a part may hang on one of these names; a name bound again inside counts too.
fn reads(expr: &Expr, bound: &[&str]) -> bool {
    match &expr.kind {
        ExprKind::Name(name) => bound.contains(&name.as_str()),
        _ => expr.any_child(&mut |child| reads(child, bound)),
    }
}
