//! Keeps only the branches that were taken, for the working.

use super::ast::{Expr, ExprKind};
use super::evaluate::{Value, Values, evaluate};

pub(super) fn taken(expr: &Expr, values: &dyn Values) -> Expr {
    let go = |inner: &Expr| Box::new(taken(inner, values));
    let kind = match &expr.kind {
        ExprKind::If(condition, yes, no) => match evaluate(condition, values) {
            Ok(Value::Truth(true)) => return taken(yes, values),
            Ok(Value::Truth(false)) => return taken(no, values),
            // Inside a sum the condition depends on the counter.
            _ => ExprKind::If(go(condition), go(yes), go(no)),
        },
        ExprKind::Negate(inner) => ExprKind::Negate(go(inner)),
        ExprKind::Not(inner) => ExprKind::Not(go(inner)),
        ExprKind::Binary(operator, a, b) => ExprKind::Binary(*operator, go(a), go(b)),
        ExprKind::Call(name, arguments) => ExprKind::Call(
            name.clone(),
            arguments
                .iter()
                .map(|argument| taken(argument, values))
                .collect(),
        ),
        ExprKind::Over {
            gather,
            name,
            from,
            to,
            body,
        } => ExprKind::Over {
            gather: *gather,
            name: name.clone(),
            from: go(from),
            to: go(to),
            body: go(body),
        },
        ExprKind::Root {
            name,
            low,
            high,
            body,
        } => ExprKind::Root {
            name: name.clone(),
            low: go(low),
            high: go(high),
            body: go(body),
        },
        other => other.clone(),
    };
    Expr {
        kind,
        span: expr.span.clone(),
    }
}
