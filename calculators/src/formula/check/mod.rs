//! The dimension checker: gives a formula its type, or says which part of it
//! adds a pressure to a length.

mod call;

use crate::message::in_english;
use std::ops::Range;

use super::ast::{Expr, ExprKind, Gather, Operator};
use super::types::{Scope, Type, TypeFault};
use crate::unit::{Dimension, ScaleKind};
use call::call;
use gaugeleaf_finding::nearest;

fn fault(span: &Range<usize>, message: impl Into<String>) -> TypeFault {
    TypeFault {
        span: span.clone(),
        message: message.into(),
        help: None,
    }
}

struct BoundType<'a> {
    name: &'a str,
    kind: Type,
    outer: &'a dyn Scope,
}

impl Scope for BoundType<'_> {
    fn name(&self, name: &str) -> Option<Type> {
        if name == self.name {
            Some(self.kind.clone())
        } else {
            self.outer.name(name)
        }
    }

    fn is_told(&self, name: &str) -> bool {
        name != self.name && self.outer.is_told(name)
    }

    fn names(&self) -> Vec<String> {
        self.outer.names()
    }

    fn column(&self, table: &str, column: &str) -> Result<Type, String> {
        self.outer.column(table, column)
    }
}

pub(super) fn check(expr: &Expr, scope: &dyn Scope) -> Result<Type, TypeFault> {
    match &expr.kind {
        ExprKind::Number(_) => Ok(Type::PLAIN),
        ExprKind::Quantity {
            dimension, kind, ..
        } => Ok(Type::Number(*dimension, *kind)),
        ExprKind::Word(word) => Ok(Type::Choice(vec![word.clone()])),
        ExprKind::Name(name) => named(name, &expr.span, scope),
        ExprKind::Negate(inner) => match number(inner, scope)? {
            (dimension, ScaleKind::Plain) => Ok(Type::Number(dimension, ScaleKind::Plain)),
            _ => Err(fault(&inner.span, "an absolute value has no negative")),
        },
        ExprKind::Not(inner) => truth(inner, scope).map(|()| Type::Truth),
        ExprKind::Binary(operator, a, b) => binary(*operator, a, b, &expr.span, scope),
        ExprKind::If(condition, yes, no) => {
            truth(condition, scope)?;
            branches(check(yes, scope)?, check(no, scope)?, &no.span)
        }
        ExprKind::Call(function, arguments) => call(function, arguments, &expr.span, scope),
        ExprKind::Over {
            gather,
            name,
            from,
            to,
            body,
        } => {
            plain(from, scope)?;
            plain(to, scope)?;
            let bound = BoundType {
                name,
                kind: Type::PLAIN,
                outer: scope,
            };
            let (dimension, kind) = number(body, &bound)?;
            if kind == ScaleKind::Absolute && *gather == Gather::Sum {
                return Err(fault(&body.span, "absolute values can't be added up"));
            }
            Ok(Type::Number(dimension, kind))
        }
        ExprKind::Root {
            name,
            low,
            high,
            body,
        } => {
            let low_type = number(low, scope)?;
            let high_type = number(high, scope)?;
            if low_type != high_type {
                return Err(disagree(&high.span, low_type, high_type));
            }
            let kind = Type::Number(low_type.0, low_type.1);
            number(
                body,
                &BoundType {
                    name,
                    kind: kind.clone(),
                    outer: scope,
                },
            )?;
            Ok(kind)
        }
    }
}

fn named(name: &str, span: &Range<usize>, scope: &dyn Scope) -> Result<Type, TypeFault> {
    if let Some(found) = scope.name(name) {
        return Ok(found);
    }
    if name == "pi" {
        return Ok(Type::PLAIN);
    }
    let names = scope.names();
    let help =
        nearest(name, names.iter().map(String::as_str)).map(|near| format!("did you mean {near}?"));
    Err(TypeFault {
        help,
        ..fault(span, format!("there is no quantity `{name}` here"))
    })
}

fn number(expr: &Expr, scope: &dyn Scope) -> Result<(Dimension, ScaleKind), TypeFault> {
    match check(expr, scope)? {
        Type::Number(dimension, kind) => Ok((dimension, kind)),
        other => Err(fault(
            &expr.span,
            format!("{} stands where a number is wanted", other.described()),
        )),
    }
}

fn plain(expr: &Expr, scope: &dyn Scope) -> Result<(), TypeFault> {
    let (dimension, _) = number(expr, scope)?;
    if dimension.is_none() {
        return Ok(());
    }
    Err(fault(
        &expr.span,
        format!(
            "{} stands where a plain number is wanted",
            in_english(&dimension.a_name())
        ),
    ))
}

fn truth(expr: &Expr, scope: &dyn Scope) -> Result<(), TypeFault> {
    match check(expr, scope)? {
        Type::Truth => Ok(()),
        other => Err(fault(
            &expr.span,
            format!("{} stands where a condition is wanted", other.described()),
        )),
    }
}

fn disagree(
    span: &Range<usize>,
    a: (Dimension, ScaleKind),
    b: (Dimension, ScaleKind),
) -> TypeFault {
    let a = Type::Number(a.0, a.1).described();
    let b = Type::Number(b.0, b.1).described();
    fault(span, format!("{a} and {b} don't go together"))
}

fn branches(yes: Type, no: Type, span: &Range<usize>) -> Result<Type, TypeFault> {
    match (yes, no) {
        (Type::Choice(mut yes), Type::Choice(no)) => {
            for word in no {
                if !yes.contains(&word) {
                    yes.push(word);
                }
            }
            Ok(Type::Choice(yes))
        }
        (yes, no) if yes == no => Ok(yes),
        (yes, no) => Err(fault(
            span,
            format!(
                "`then` gives {} and `else` gives {}",
                yes.described(),
                no.described()
            ),
        )),
    }
}

fn binary(
    operator: Operator,
    a: &Expr,
    b: &Expr,
    span: &Range<usize>,
    scope: &dyn Scope,
) -> Result<Type, TypeFault> {
    match operator {
        Operator::And | Operator::Or => {
            truth(a, scope)?;
            truth(b, scope)?;
            Ok(Type::Truth)
        }
        Operator::Equal | Operator::Differs => {
            match (check(a, scope)?, check(b, scope)?) {
                (Type::Choice(a), Type::Choice(b)) => same_choices(&a, &b, span)?,
                (Type::Number(..), Type::Number(..)) => comparable(a, b, span, scope)?,
                (a, b) => {
                    let message = format!("{} can't equal {}", a.described(), b.described());
                    return Err(fault(span, message));
                }
            }
            Ok(Type::Truth)
        }
        _ if operator.compares() => comparable(a, b, span, scope).map(|()| Type::Truth),
        Operator::Power => power(a, b, scope),
        _ => arithmetic(operator, number(a, scope)?, number(b, scope)?, span),
    }
}

/// A word that isn't among a choice's names can never be equal to it: a slip.
fn same_choices(a: &[String], b: &[String], span: &Range<usize>) -> Result<(), TypeFault> {
    let (few, many) = if a.len() <= b.len() { (a, b) } else { (b, a) };
    match few.iter().find(|word| !many.contains(word)) {
        None => Ok(()),
        Some(word) => Err(TypeFault {
            help: Some(format!("the choices are {}", many.join(", "))),
            ..fault(span, format!("\"{word}\" is not one of the choices"))
        }),
    }
}

fn comparable(a: &Expr, b: &Expr, span: &Range<usize>, scope: &dyn Scope) -> Result<(), TypeFault> {
    let (a, b) = (number(a, scope)?, number(b, scope)?);
    if a == b {
        Ok(())
    } else {
        Err(disagree(span, a, b))
    }
}

fn arithmetic(
    operator: Operator,
    a: (Dimension, ScaleKind),
    b: (Dimension, ScaleKind),
    span: &Range<usize>,
) -> Result<Type, TypeFault> {
    use ScaleKind::{Absolute, Plain};
    let (dimension, kind) = match operator {
        // A ratio to the true zero is meaningful, so products are plain.
        Operator::Multiply => (a.0.times(b.0), Plain),
        Operator::Divide => (a.0.over(b.0), Plain),
        _ if a.0 != b.0 => return Err(disagree(span, a, b)),
        Operator::Add => match (a.1, b.1) {
            (Absolute, Absolute) => {
                // nothing else has a true zero to name
                let of = if a.0 == Dimension::PRESSURE {
                    "pressure"
                } else {
                    "temperature"
                };
                return Err(fault(
                    span,
                    format!("two absolute values of {of} can't be added"),
                ));
            }
            (Plain, Plain) => (a.0, Plain),
            _ => (a.0, Absolute),
        },
        _ => match (a.1, b.1) {
            (Plain, Absolute) => {
                return Err(fault(
                    span,
                    "an absolute value can't be taken from a difference",
                ));
            }
            (Absolute, Plain) => (a.0, Absolute),
            _ => (a.0, Plain),
        },
    };
    Ok(Type::Number(dimension, kind))
}

fn power(base: &Expr, exponent: &Expr, scope: &dyn Scope) -> Result<Type, TypeFault> {
    let (dimension, _) = number(base, scope)?;
    plain(exponent, scope)?;
    if dimension.is_none() {
        return Ok(Type::PLAIN);
    }
    let Some(constant) = constant(exponent) else {
        return Err(TypeFault {
            help: Some("divide the base by a quantity of its own kind first".into()),
            ..fault(
                &exponent.span,
                format!(
                    "the power of {} must be a constant",
                    in_english(&dimension.a_name())
                ),
            )
        });
    };
    match dimension.power(constant) {
        Some(raised) => Ok(Type::Number(raised, ScaleKind::Plain)),
        None => Err(fault(
            &exponent.span,
            format!(
                "{} can't be raised to this power",
                in_english(&dimension.a_name())
            ),
        )),
    }
}

/// The value of an exponent made of numbers alone.
fn constant(expr: &Expr) -> Option<f64> {
    match &expr.kind {
        ExprKind::Number(value) => Some(*value),
        ExprKind::Negate(inner) => constant(inner).map(|value| -value),
        ExprKind::Binary(Operator::Divide, a, b) => Some(constant(a)? / constant(b)?),
        _ => None,
    }
}
