//! Prints a formula as presentation MathML (W3C MathML Core).

use super::ast::{Expr, ExprKind, Gather, Operator};
use super::functions::{CallRule, Function};
use super::maths::Maths;
use super::plain::{Notation, quantity_level};
use crate::words::joined;

pub(super) fn print(expr: &Expr, notation: &dyn Notation) -> String {
    Writer { notation }.at_level(expr, 0)
}

pub(crate) fn escape(text: &str) -> String {
    // nearly all are names and numbers
    if !text.contains(['&', '<', '>', '"']) {
        return text.to_string();
    }
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}

/// A symbol such as `D_c`, with its subscript.
pub(crate) fn symbol(text: &str) -> String {
    match text.split_once('_') {
        Some((base, below)) => {
            format!(
                "<msub><mi>{}</mi><mtext>{}</mtext></msub>",
                escape(base),
                escape(&below.replace('_', " "))
            )
        }
        None => format!("<mi>{}</mi>", escape(text)),
    }
}

pub(crate) fn quantity(text: &str) -> String {
    // No-break spaces: a number isn't parted from its unit.
    format!("<mtext>{}</mtext>", escape(&text.replace(' ', "\u{a0}")))
}

struct Writer<'a> {
    notation: &'a dyn Notation,
}

impl Writer<'_> {
    fn at_level(&self, expr: &Expr, outer: u8) -> String {
        let (text, level) = self.bare(expr);
        if level < outer {
            format!("<mrow><mo>(</mo>{text}<mo>)</mo></mrow>")
        } else {
            format!("<mrow>{text}</mrow>")
        }
    }

    fn bare(&self, expr: &Expr) -> (String, u8) {
        match &expr.kind {
            ExprKind::Number(value) => (format!("<mn>{value}</mn>"), 9),
            ExprKind::Quantity { text, .. } => (quantity(text), quantity_level(text)),
            ExprKind::Word(word) => (format!("<mtext>{}</mtext>", escape(word)), 9),
            ExprKind::Name(name) if name == "pi" => ("<mi>π</mi>".into(), 9),
            ExprKind::Name(name) => {
                let text = self.notation.name(name);
                if self.notation.is_number() {
                    (quantity(&text), quantity_level(&text))
                } else {
                    (symbol(&text), 9)
                }
            }
            ExprKind::Negate(inner) => (format!("<mo>−</mo>{}", self.at_level(inner, 7)), 7),
            ExprKind::Not(inner) => (
                format!("<mtext>not\u{a0}</mtext>{}", self.at_level(inner, 4)),
                3,
            ),
            ExprKind::Binary(operator, a, b) => self.binary(*operator, a, b),
            ExprKind::If(condition, yes, no) => (self.cases(condition, yes, no), 9),
            ExprKind::Call(function, arguments) => (self.call(function, arguments), 9),
            ExprKind::Over {
                gather,
                name,
                from,
                to,
                body,
            } => {
                let sign = if *gather == Gather::Sum {
                    "<mo>∑</mo>"
                } else {
                    "<mo>max</mo>"
                };
                let text = format!(
                    "<munderover>{sign}<mrow>{}<mo>=</mo>{}</mrow>{}</munderover>{}",
                    symbol(name),
                    self.at_level(from, 0),
                    self.at_level(to, 0),
                    self.at_level(body, 6)
                );
                (text, 5)
            }
            ExprKind::Root {
                name,
                low,
                high,
                body,
            } => (
                format!(
                    "{}<mtext>\u{a0}between\u{a0}</mtext>{}<mtext>\u{a0}and\u{a0}</mtext>{}<mtext>\u{a0}at which\u{a0}</mtext>{}<mo>=</mo><mn>0</mn>",
                    symbol(name),
                    self.at_level(low, 0),
                    self.at_level(high, 0),
                    self.at_level(body, 0)
                ),
                0,
            ),
        }
    }

    fn binary(&self, operator: Operator, a: &Expr, b: &Expr) -> (String, u8) {
        let level = operator.level();
        let text = match operator {
            Operator::Divide => {
                return (
                    format!(
                        "<mfrac>{}{}</mfrac>",
                        self.at_level(a, 0),
                        self.at_level(b, 0)
                    ),
                    7,
                );
            }
            Operator::Power => format!(
                "<msup>{}{}</msup>",
                self.at_level(a, level + 1),
                self.at_level(b, 0)
            ),
            Operator::And | Operator::Or => format!(
                "{}<mtext>\u{a0}{}\u{a0}</mtext>{}",
                self.at_level(a, level),
                operator.sign(),
                self.at_level(b, level)
            ),
            _ => {
                let right = if matches!(operator, Operator::Add | Operator::Multiply) {
                    level
                } else {
                    level + 1
                };
                format!(
                    "{}<mo>{}</mo>{}",
                    self.at_level(a, level),
                    escape(operator.sign()),
                    self.at_level(b, right)
                )
            }
        };
        (text, level)
    }

    /// The branches one under another, a nested `else if` as a further line.
    fn cases(&self, condition: &Expr, yes: &Expr, no: &Expr) -> String {
        let mut rows = String::new();
        let (mut condition, mut yes, mut no) = (condition, yes, no);
        loop {
            rows.push_str(&format!(
                "<mtr><mtd>{}</mtd><mtd><mtext>if\u{a0}</mtext>{}</mtd></mtr>",
                self.at_level(yes, 0),
                self.at_level(condition, 0)
            ));
            match &no.kind {
                ExprKind::If(a, b, c) => (condition, yes, no) = (a, b, c),
                _ => break,
            }
        }
        format!(
            "<mo>{{</mo><mtable>{rows}<mtr><mtd>{}</mtd><mtd><mtext>else</mtext></mtd></mtr></mtable>",
            self.at_level(no, 0)
        )
    }

    fn call(&self, function: &Function, arguments: &[Expr]) -> String {
        let inner: Vec<String> = arguments
            .iter()
            .map(|argument| self.at_level(argument, 0))
            .collect();
        match function.rule {
            CallRule::Maths(Maths::SquareRoot) => format!("<msqrt>{}</msqrt>", joined(&inner, "")),
            CallRule::Maths(Maths::Abs) => format!("<mo>|</mo>{}<mo>|</mo>", joined(&inner, "")),
            _ => format!(
                "<mi>{}</mi><mo>(</mo>{}<mo>)</mo>",
                escape(function.name),
                joined(&inner, "<mo>,</mo>")
            ),
        }
    }
}
