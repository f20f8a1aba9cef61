//! Evaluates a checked formula in SI.

use std::borrow::Cow;
use std::cell::Cell;
use std::ops::Range;

use super::ast::{Expr, ExprKind, Gather, Operator};
use super::functions::{CallRule, Function};
use super::root;
use super::simplify::folded;
use super::values::{BoundValue, BoxedFault, EvalFault, Value, Values, tolerance_name};
use crate::message::Message;
use crate::message::tell::formula as tell;

/// Evaluations of sum terms and root tries that one formula may cost.
pub(super) const MOST_STEPS: u32 = 200_000;

pub(super) fn evaluate(expr: &Expr, values: &dyn Values) -> Result<Value, EvalFault> {
    let run = EvaluationRun {
        steps: Cell::new(0),
    };
    run.value(expr, values).map_err(|fault| *fault)
}

fn fault(span: &Range<usize>, message: Message) -> BoxedFault {
    Box::new(EvalFault::new(span, message))
}

struct EvaluationRun {
    steps: Cell<u32>,
}

/// Relative width below which two compared numbers count as equal, so that
/// conversion noise can't turn `14 in <= 14 in` false.
pub(super) const NOISE: f64 = 1e-12;

impl EvaluationRun {
    fn value(&self, expr: &Expr, values: &dyn Values) -> Result<Value, BoxedFault> {
        match &expr.kind {
            ExprKind::Number(value) => Ok(Value::Number(*value)),
            ExprKind::Quantity { si, .. } => Ok(Value::Number(*si)),
            ExprKind::Word(word) => Ok(Value::Choice(word.clone())),
            ExprKind::Name(name) => match values.value(name) {
                Some(value) => Ok(value),
                None if name == "pi" => Ok(Value::Number(std::f64::consts::PI)),
                None => Err(fault(&expr.span, tell::no_value_of(name))),
            },
            ExprKind::Negate(inner) => Ok(Value::Number(-self.number(inner, values)?)),
            ExprKind::Not(inner) => Ok(Value::Truth(!self.truth(inner, values)?)),
            ExprKind::Binary(operator, ..) if operator.reckons() => {
                self.number(expr, values).map(Value::Number)
            }
            ExprKind::Binary(operator, a, b) => self
                .holds(*operator, a, b, &expr.span, values)
                .map(Value::Truth),
            ExprKind::If(condition, yes, no) => self.value(
                if self.truth(condition, values)? {
                    yes
                } else {
                    no
                },
                values,
            ),
            ExprKind::Call(function, arguments) => {
                self.call(function, arguments, &expr.span, values)
            }
            ExprKind::Over {
                gather,
                name,
                from,
                to,
                body,
            } => self.over(*gather, name, (from, to), body, values),
            ExprKind::Root {
                name,
                low,
                high,
                body,
            } => {
                let (low, high) = (self.number(low, values)?, self.number(high, values)?);
                let body = self.folded(body, name, values);
                let found = root::find(low, high, |x| {
                    self.step(&expr.span)?;
                    self.number(
                        &body,
                        &BoundValue {
                            name,
                            value: x,
                            outer: values,
                        },
                    )
                })?;
                found
                    .map(Value::Number)
                    .ok_or_else(|| fault(&expr.span, tell::no_root()))
            }
        }
    }

    /// The body of a sum or a root with all put in that doesn't hang on its name.
    fn folded(&self, body: &Expr, name: &str, values: &dyn Values) -> Expr {
        folded(body, &[name], &|part| self.value(part, values).ok())
    }

    fn step(&self, span: &Range<usize>) -> Result<(), BoxedFault> {
        self.steps.set(self.steps.get() + 1);
        if self.steps.get() > MOST_STEPS {
            return Err(fault(span, tell::too_many_steps()));
        }
        Ok(())
    }

    /// Most parts of most formulas: without the detour over a value of any kind.
    fn number(&self, expr: &Expr, values: &dyn Values) -> Result<f64, BoxedFault> {
        match &expr.kind {
            ExprKind::Number(value) | ExprKind::Quantity { si: value, .. } => Ok(*value),
            ExprKind::Binary(operator, a, b) if operator.reckons() => {
                let (x, y) = (self.number(a, values)?, self.number(b, values)?);
                finite(reckoned(*operator, x, y, &expr.span)?, &expr.span)
            }
            _ => match self.value(expr, values)? {
                Value::Number(value) => Ok(value),
                _ => Err(fault(&expr.span, tell::not_a_number())),
            },
        }
    }

    fn truth(&self, expr: &Expr, values: &dyn Values) -> Result<bool, BoxedFault> {
        match self.value(expr, values)? {
            Value::Truth(value) => Ok(value),
            _ => Err(fault(&expr.span, tell::not_a_condition())),
        }
    }

    fn holds(
        &self,
        operator: Operator,
        a: &Expr,
        b: &Expr,
        span: &Range<usize>,
        values: &dyn Values,
    ) -> Result<bool, BoxedFault> {
        match operator {
            Operator::And => return Ok(self.truth(a, values)? && self.truth(b, values)?),
            Operator::Or => return Ok(self.truth(a, values)? || self.truth(b, values)?),
            _ => {}
        }
        let (x, y) = match (self.value(a, values)?, self.value(b, values)?) {
            (Value::Number(x), Value::Number(y)) => (x, y),
            (Value::Choice(x), Value::Choice(y)) => {
                return Ok((x == y) == (operator == Operator::Equal));
            }
            _ => return Err(fault(span, tell::not_comparable())),
        };
        let near = (x - y).abs() <= NOISE * x.abs().max(y.abs());
        Ok(match operator {
            Operator::Less => x < y && !near,
            Operator::AtMost => x <= y || near,
            Operator::Greater => x > y && !near,
            Operator::AtLeast => x >= y || near,
            Operator::Equal => near,
            _ => !near,
        })
    }

    fn over(
        &self,
        gather: Gather,
        name: &str,
        (from, to): (&Expr, &Expr),
        body: &Expr,
        values: &dyn Values,
    ) -> Result<Value, BoxedFault> {
        let first = whole(self.number(from, values)?, &from.span)?;
        let last = whole(self.number(to, values)?, &to.span)?;
        let mut result = gather.start();
        let body = self.folded(body, name, values);
        let mut k = first;
        while k <= last {
            self.step(&body.span)?;
            let value = self.number(
                &body,
                &BoundValue {
                    name,
                    value: k,
                    outer: values,
                },
            )?;
            result = gather.with(result, value);
            k += 1.0;
        }
        finite(result, &body.span).map(Value::Number)
    }

    fn call(
        &self,
        function: &Function,
        arguments: &[Expr],
        span: &Range<usize>,
        values: &dyn Values,
    ) -> Result<Value, BoxedFault> {
        match function.rule {
            CallRule::Lookup => self.lookup(arguments, span, values),
            CallRule::Found => {
                let keys = self.keys(arguments.get(1..).unwrap_or_default(), values)?;
                let found = values.found(word(arguments, 0, span)?, &keys);
                found
                    .map(Value::Truth)
                    .map_err(|message| fault(span, message))
            }
            CallRule::Lattice(lattice) => {
                let layout = self.choice(arguments, 0, span, values)?;
                let centre = self.choice(arguments, 1, span, values)?;
                let numbers = self.numbers(arguments.get(2..).unwrap_or_default(), values)?;
                let count = lattice.count(&layout, &centre, &numbers);
                count
                    .map(Value::Number)
                    .ok_or_else(|| fault(span, tell::no_lattice()))
            }
            CallRule::Water(property) => {
                let (temperature, pressure) = self.first_two(arguments, values)?;
                let value = property.at(temperature, pressure);
                value
                    .map(Value::Number)
                    .map_err(|message| fault(span, message))
            }
            CallRule::Tolerance => {
                // without a value there is none of its tolerance either
                self.first_two(arguments, values)?;
                let told = values.value(&tolerance_of(arguments));
                Ok(told.unwrap_or(Value::Number(0.0)))
            }
            CallRule::Maths(maths) => {
                let (x, y) = self.first_two(arguments, values)?;
                let mut result = maths.of(x, y);
                for argument in arguments.get(2..).unwrap_or_default() {
                    result = maths.of(result, self.number(argument, values)?);
                }
                finite(result, span).map(Value::Number)
            }
        }
    }

    /// The first argument and the second; one that isn't there is no number.
    fn first_two(&self, arguments: &[Expr], values: &dyn Values) -> Result<(f64, f64), BoxedFault> {
        let number = |at: usize| match arguments.get(at) {
            Some(argument) => self.number(argument, values),
            None => Ok(f64::NAN),
        };
        Ok((number(0)?, number(1)?))
    }

    fn numbers(&self, arguments: &[Expr], values: &dyn Values) -> Result<Vec<f64>, BoxedFault> {
        arguments
            .iter()
            .map(|argument| self.number(argument, values))
            .collect()
    }

    fn choice<'e>(
        &self,
        arguments: &'e [Expr],
        at: usize,
        span: &Range<usize>,
        values: &dyn Values,
    ) -> Result<Cow<'e, str>, BoxedFault> {
        let argument = arguments.get(at);
        if let Some(ExprKind::Word(word)) = argument.map(|argument| &argument.kind) {
            return Ok(word.into());
        }
        match argument.map(|argument| self.value(argument, values)) {
            Some(Ok(Value::Choice(choice))) => Ok(choice.into()),
            Some(Err(fault)) => Err(fault),
            _ => Err(fault(span, tell::no_choice())),
        }
    }

    fn lookup(
        &self,
        arguments: &[Expr],
        span: &Range<usize>,
        values: &dyn Values,
    ) -> Result<Value, BoxedFault> {
        let keys = self.keys(arguments.get(2..).unwrap_or_default(), values)?;
        let entry = values.lookup(word(arguments, 0, span)?, word(arguments, 1, span)?, &keys);
        entry.map_err(|message| fault(span, message))
    }

    fn keys<'e>(
        &self,
        pairs: &'e [Expr],
        values: &dyn Values,
    ) -> Result<Vec<(&'e str, Value)>, BoxedFault> {
        pairs
            .chunks_exact(2)
            .map(|pair| Ok((word(pair, 0, &pair[0].span)?, self.value(&pair[1], values)?)))
            .collect()
    }
}

/// The name of what its argument's tolerance is told by.
pub(super) fn tolerance_of(arguments: &[Expr]) -> String {
    match arguments.first().map(|argument| &argument.kind) {
        Some(ExprKind::Name(name)) => tolerance_name(name),
        _ => String::new(),
    }
}

/// A quoted table's or column's name among the arguments.
pub(super) fn word<'e>(
    arguments: &'e [Expr],
    at: usize,
    span: &Range<usize>,
) -> Result<&'e str, EvalFault> {
    match arguments.get(at).map(|argument| &argument.kind) {
        Some(ExprKind::Word(word)) => Ok(word),
        _ => Err(EvalFault::new(span, tell::no_name())),
    }
}

fn reckoned(operator: Operator, x: f64, y: f64, span: &Range<usize>) -> Result<f64, BoxedFault> {
    Ok(match operator {
        Operator::Add => x + y,
        Operator::Subtract => x - y,
        Operator::Multiply => x * y,
        Operator::Divide if y == 0.0 => return Err(fault(span, tell::by_zero())),
        Operator::Divide => x / y,
        _ => power(x, y),
    })
}

fn finite(value: f64, span: &Range<usize>) -> Result<f64, BoxedFault> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(fault(span, tell::no_value()))
    }
}

pub(super) fn whole(value: f64, span: &Range<usize>) -> Result<f64, EvalFault> {
    let near = libm::round(value);
    if (value - near).abs() < 1e-9 && near.abs() < 1e9 {
        Ok(near)
    } else {
        Err(EvalFault::new(span, tell::not_whole()))
    }
}

/// Small whole powers by multiplication: exact where the factors are.
pub(super) fn power(base: f64, exponent: f64) -> f64 {
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
