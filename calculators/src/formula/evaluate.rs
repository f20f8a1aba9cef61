//! Evaluates a checked formula in SI.

use std::cell::Cell;
use std::ops::Range;

use super::ast::{Expr, ExprKind, Operator};
use super::{functions, root};

#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    Number(f64),
    Truth(bool),
    Choice(String),
}

/// A result that doesn't exist, and the part of the formula to blame.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EvalFault {
    pub span: Range<usize>,
    pub message: String,
}

impl EvalFault {
    pub(super) fn new(span: &Range<usize>, message: impl Into<String>) -> EvalFault {
        EvalFault {
            span: span.clone(),
            message: message.into(),
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
    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String>;
}

/// Evaluations of sum terms and root tries that one formula may cost.
const MOST_STEPS: u32 = 200_000;

pub(super) fn evaluate(expr: &Expr, values: &dyn Values) -> Result<Value, EvalFault> {
    Run {
        steps: Cell::new(0),
    }
    .value(expr, values)
}

struct Run {
    steps: Cell<u32>,
}

struct Bound<'a> {
    name: &'a str,
    value: f64,
    outer: &'a dyn Values,
}

impl Values for Bound<'_> {
    fn value(&self, name: &str) -> Option<Value> {
        if name == self.name {
            Some(Value::Number(self.value))
        } else {
            self.outer.value(name)
        }
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String> {
        self.outer.lookup(table, column, keys)
    }
}

/// Relative width below which two compared numbers count as equal, so that
/// conversion noise can't turn `14 in <= 14 in` false.
const NOISE: f64 = 1e-12;

impl Run {
    fn value(&self, expr: &Expr, values: &dyn Values) -> Result<Value, EvalFault> {
        match &expr.kind {
            ExprKind::Number(value) => Ok(Value::Number(*value)),
            ExprKind::Quantity { si, .. } => Ok(Value::Number(*si)),
            ExprKind::Word(word) => Ok(Value::Choice(word.clone())),
            ExprKind::Name(name) => match values.value(name) {
                Some(value) => Ok(value),
                None if name == "pi" => Ok(Value::Number(std::f64::consts::PI)),
                None => Err(EvalFault::new(&expr.span, format!("`{name}` has no value"))),
            },
            ExprKind::Negate(inner) => Ok(Value::Number(-self.number(inner, values)?)),
            ExprKind::Not(inner) => Ok(Value::Truth(!self.truth(inner, values)?)),
            ExprKind::Binary(operator, a, b) => self.binary(*operator, a, b, &expr.span, values),
            ExprKind::If(condition, yes, no) => self.value(
                if self.truth(condition, values)? {
                    yes
                } else {
                    no
                },
                values,
            ),
            ExprKind::Call(name, arguments) if name == "lookup" => {
                self.lookup(arguments, &expr.span, values)
            }
            ExprKind::Call(name, arguments) => {
                let arguments = arguments
                    .iter()
                    .map(|argument| self.number(argument, values))
                    .collect::<Result<Vec<_>, _>>()?;
                finite(functions::apply(name, &arguments), &expr.span)
            }
            ExprKind::Sum {
                name,
                from,
                to,
                body,
            } => self.sum(name, from, to, body, values),
            ExprKind::Root {
                name,
                low,
                high,
                body,
            } => {
                let (low, high) = (self.number(low, values)?, self.number(high, values)?);
                let found = root::find(low, high, |x| {
                    self.step(&expr.span)?;
                    self.number(
                        body,
                        &Bound {
                            name,
                            value: x,
                            outer: values,
                        },
                    )
                })?;
                found.map(Value::Number).ok_or_else(|| {
                    EvalFault::new(&expr.span, "no root lies between the two bounds")
                })
            }
        }
    }

    fn step(&self, span: &Range<usize>) -> Result<(), EvalFault> {
        self.steps.set(self.steps.get() + 1);
        if self.steps.get() > MOST_STEPS {
            return Err(EvalFault::new(span, "this takes too many steps"));
        }
        Ok(())
    }

    fn number(&self, expr: &Expr, values: &dyn Values) -> Result<f64, EvalFault> {
        match self.value(expr, values)? {
            Value::Number(value) => Ok(value),
            _ => Err(EvalFault::new(&expr.span, "this is not a number")),
        }
    }

    fn truth(&self, expr: &Expr, values: &dyn Values) -> Result<bool, EvalFault> {
        match self.value(expr, values)? {
            Value::Truth(value) => Ok(value),
            _ => Err(EvalFault::new(&expr.span, "this is not a condition")),
        }
    }

    fn binary(
        &self,
        operator: Operator,
        a: &Expr,
        b: &Expr,
        span: &Range<usize>,
        values: &dyn Values,
    ) -> Result<Value, EvalFault> {
        match operator {
            Operator::And => {
                return Ok(Value::Truth(
                    self.truth(a, values)? && self.truth(b, values)?,
                ));
            }
            Operator::Or => {
                return Ok(Value::Truth(
                    self.truth(a, values)? || self.truth(b, values)?,
                ));
            }
            _ => {}
        }
        let (left, right) = (self.value(a, values)?, self.value(b, values)?);
        let (x, y) = match (left, right) {
            (Value::Number(x), Value::Number(y)) => (x, y),
            (Value::Choice(x), Value::Choice(y)) => {
                return Ok(Value::Truth((x == y) == (operator == Operator::Equal)));
            }
            _ => return Err(EvalFault::new(span, "these can't be compared")),
        };
        let near = (x - y).abs() <= NOISE * x.abs().max(y.abs());
        let truth = match operator {
            Operator::Add => return finite(x + y, span),
            Operator::Subtract => return finite(x - y, span),
            Operator::Multiply => return finite(x * y, span),
            Operator::Divide if y == 0.0 => {
                return Err(EvalFault::new(span, "this divides by zero"));
            }
            Operator::Divide => return finite(x / y, span),
            Operator::Power => return finite(power(x, y), span),
            Operator::Less => x < y && !near,
            Operator::AtMost => x <= y || near,
            Operator::Greater => x > y && !near,
            Operator::AtLeast => x >= y || near,
            Operator::Equal => near,
            _ => !near,
        };
        Ok(Value::Truth(truth))
    }

    fn sum(
        &self,
        name: &str,
        from: &Expr,
        to: &Expr,
        body: &Expr,
        values: &dyn Values,
    ) -> Result<Value, EvalFault> {
        let first = whole(self.number(from, values)?, &from.span)?;
        let last = whole(self.number(to, values)?, &to.span)?;
        let mut total = 0.0;
        let mut k = first;
        while k <= last {
            self.step(&body.span)?;
            total += self.number(
                body,
                &Bound {
                    name,
                    value: k,
                    outer: values,
                },
            )?;
            k += 1.0;
        }
        finite(total, &body.span)
    }

    fn lookup(
        &self,
        arguments: &[Expr],
        span: &Range<usize>,
        values: &dyn Values,
    ) -> Result<Value, EvalFault> {
        let word = |at: usize| match arguments.get(at).map(|argument| &argument.kind) {
            Some(ExprKind::Word(word)) => Ok(word.as_str()),
            _ => Err(EvalFault::new(
                span,
                "a table's or column's name is missing",
            )),
        };
        let mut keys = Vec::new();
        for pair in arguments.get(2..).unwrap_or_default().chunks_exact(2) {
            let ExprKind::Word(key) = &pair[0].kind else {
                return Err(EvalFault::new(&pair[0].span, "a column's name is missing"));
            };
            keys.push((key.as_str(), self.value(&pair[1], values)?));
        }
        values
            .lookup(word(0)?, word(1)?, &keys)
            .map_err(|message| EvalFault::new(span, message))
    }
}

fn finite(value: f64, span: &Range<usize>) -> Result<Value, EvalFault> {
    if value.is_finite() {
        Ok(Value::Number(value))
    } else {
        Err(EvalFault::new(span, "this has no value"))
    }
}

fn whole(value: f64, span: &Range<usize>) -> Result<f64, EvalFault> {
    let near = libm::round(value);
    if (value - near).abs() < 1e-9 && near.abs() < 1e9 {
        Ok(near)
    } else {
        Err(EvalFault::new(span, "a sum counts in whole numbers"))
    }
}

/// Small whole powers by multiplication: exact where the factors are.
fn power(base: f64, exponent: f64) -> f64 {
    if exponent == libm::floor(exponent) && exponent.abs() <= 8.0 {
        let product = (0..exponent.abs() as u32).fold(1.0, |product, _| product * base);
        return if exponent < 0.0 {
            1.0 / product
        } else {
            product
        };
    }
    libm::pow(base, exponent)
}
