//! Prints a formula on one line of plain text.

use super::ast::{Expr, ExprKind, Operator};
use super::functions::CallRule;
use super::maths::Maths;
use crate::words::joined;

/// How names are written: as symbols, or as the numbers put in for them.
pub trait Notation {
    /// The text for a name; `D_c` is D with the subscript c.
    fn name(&self, name: &str) -> String;
    /// True where the text is a quantity, to be kept together in products.
    fn is_number(&self) -> bool;
}

/// Binds tighter than any operator.
const ATOM: u8 = 9;
const PRODUCT: u8 = 6;

pub(super) fn print(expr: &Expr, notation: &dyn Notation) -> String {
    at_level(expr, 0, notation)
}

/// `6 in` binds looser than a power, `1 1/2 in` looser than a product.
pub(super) fn quantity_level(text: &str) -> u8 {
    if text.contains('/') || text.starts_with('−') {
        PRODUCT - 1
    } else if text.contains(' ') {
        PRODUCT + 1
    } else {
        ATOM
    }
}

fn at_level(expr: &Expr, outer: u8, notation: &dyn Notation) -> String {
    let (text, level) = bare(expr, notation);
    if level < outer {
        format!("({text})")
    } else {
        text
    }
}

/// Two parts and the sign between them; how tightly it holds decides their brackets.
fn binary(operator: Operator, a: &Expr, b: &Expr, notation: &dyn Notation) -> (String, u8) {
    let level = operator.level();
    let (left, right) = match operator {
        Operator::Power => (level + 1, level),
        Operator::Add | Operator::Multiply | Operator::And | Operator::Or => (level, level),
        _ => (level, level + 1),
    };
    let space = if operator == Operator::Power { "" } else { " " };
    let (a, b) = (at_level(a, left, notation), at_level(b, right, notation));
    (format!("{a}{space}{}{space}{b}", operator.sign()), level)
}

fn bare(expr: &Expr, notation: &dyn Notation) -> (String, u8) {
    let sub = |inner: &Expr, level: u8| at_level(inner, level, notation);
    match &expr.kind {
        ExprKind::Number(value) => (format!("{value}"), ATOM),
        ExprKind::Quantity { text, .. } => (text.clone(), quantity_level(text)),
        ExprKind::Word(word) => (word.clone(), ATOM),
        ExprKind::Name(name) if name == "pi" => ("π".into(), ATOM),
        ExprKind::Name(name) => {
            let text = notation.name(name);
            let level = if notation.is_number() {
                quantity_level(&text)
            } else {
                ATOM
            };
            (text, level)
        }
        ExprKind::Negate(inner) => (format!("−{}", sub(inner, 7)), 7),
        ExprKind::Not(inner) => (format!("not {}", sub(inner, 4)), 3),
        ExprKind::Binary(operator, a, b) => binary(*operator, a, b, notation),
        ExprKind::If(condition, yes, no) => (
            format!(
                "{} if {}, else {}",
                sub(yes, 1),
                sub(condition, 1),
                sub(no, 0)
            ),
            0,
        ),
        ExprKind::Call(function, arguments)
            if function.rule == CallRule::Maths(Maths::SquareRoot) =>
        {
            (
                format!(
                    "√({})",
                    arguments
                        .iter()
                        .map(|inner| sub(inner, 0))
                        .collect::<String>()
                ),
                ATOM,
            )
        }
        ExprKind::Call(function, arguments) => {
            let arguments: Vec<String> = arguments.iter().map(|inner| sub(inner, 0)).collect();
            (
                format!("{}({})", function.name, joined(&arguments, ", ")),
                ATOM,
            )
        }
        ExprKind::Over {
            gather,
            name,
            from,
            to,
            body,
        } => {
            let (word, body) = (gather.word(), sub(body, 5));
            (
                format!(
                    "{word} of {body} for {name} = {} to {}",
                    sub(from, 5),
                    sub(to, 5)
                ),
                0,
            )
        }
        ExprKind::Root {
            name,
            low,
            high,
            body,
        } => (
            format!(
                "{name} between {} and {} at which {} = 0",
                sub(low, 5),
                sub(high, 5),
                sub(body, 5)
            ),
            0,
        ),
    }
}
