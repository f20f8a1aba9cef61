//! Evaluates a formula for inputs that may lie anywhere in their spans: the
//! result's span holds every value that the formula can take.

use std::ops::Range;

use super::ast::{Expr, ExprKind, Operator};
use super::evaluate::tolerance_of;
use super::functions::{CallRule, Function, Property};
use super::lattice::Lattice;
use super::spreads::{Spread, Spreads, compare};
use super::values::{BoxedFault, EvalFault, Value};
use crate::message::Message;
use crate::span::Span;

pub(super) fn enclose(expr: &Expr, spreads: &dyn Spreads) -> Result<Spread, EvalFault> {
    let run = EnclosureRun {
        steps: std::cell::Cell::new(0),
    };
    run.spread(expr, spreads).map_err(|fault| *fault)
}

pub(super) struct EnclosureRun {
    pub(super) steps: std::cell::Cell<u32>,
}

/// What can't be enclosed may be anything: nobody is told why.
pub(super) fn fault<T>(span: &Range<usize>) -> Result<T, BoxedFault> {
    Err(EvalFault::new(span, Message::default()).into())
}

impl EnclosureRun {
    pub(super) fn spread(&self, expr: &Expr, spreads: &dyn Spreads) -> Result<Spread, BoxedFault> {
        match &expr.kind {
            ExprKind::Number(value) => Ok(Spread::Number(Span::point(*value))),
            ExprKind::Quantity { si, .. } => Ok(Spread::Number(Span::point(*si))),
            ExprKind::Word(word) => Ok(Spread::Choice(vec![word.clone()])),
            ExprKind::Name(name) => match spreads.spread(name) {
                Some(spread) => Ok(spread),
                None if name == "pi" => Ok(Spread::Number(Span::point(std::f64::consts::PI))),
                None => fault(&expr.span),
            },
            ExprKind::Negate(inner) => Ok(Spread::Number(self.number(inner, spreads)?.negated())),
            ExprKind::Not(inner) => {
                let (may_hold, may_fail) = self.truth(inner, spreads)?;
                Ok(Spread::truth(may_fail, may_hold))
            }
            ExprKind::Binary(operator, ..) if operator.reckons() => {
                self.number(expr, spreads).map(Spread::Number)
            }
            ExprKind::Binary(operator, a, b) => self.holds(*operator, a, b, &expr.span, spreads),
            ExprKind::If(condition, yes, no) => match self.truth(condition, spreads)? {
                (true, true) => {
                    let both = self.spread(yes, spreads)?.hull(self.spread(no, spreads)?);
                    both.map_or_else(|| fault(&expr.span), Ok)
                }
                (true, false) => self.spread(yes, spreads),
                _ => self.spread(no, spreads),
            },
            ExprKind::Call(function, arguments) => {
                self.call(function, arguments, &expr.span, spreads)
            }
            ExprKind::Over {
                gather,
                name,
                from,
                to,
                body,
            } => {
                let bounds = (self.number(from, spreads)?, self.number(to, spreads)?);
                self.over(*gather, name, bounds, body, spreads)
            }
            ExprKind::Root {
                name,
                low,
                high,
                body,
            } => {
                let whole = self.number(low, spreads)?.hull(self.number(high, spreads)?);
                self.root(name, whole, body, spreads)
            }
        }
    }

    pub(super) fn number(&self, expr: &Expr, spreads: &dyn Spreads) -> Result<Span, BoxedFault> {
        match &expr.kind {
            ExprKind::Number(value) | ExprKind::Quantity { si: value, .. } => {
                Ok(Span::point(*value))
            }
            ExprKind::Binary(operator, a, b) if operator.reckons() => {
                let (x, y) = (self.number(a, spreads)?, self.number(b, spreads)?);
                match reckoned(*operator, x, y) {
                    Some(result) if result.is_finite() => Ok(result),
                    _ => fault(&expr.span),
                }
            }
            _ => match self.spread(expr, spreads)? {
                Spread::Number(span) if span.is_finite() => Ok(span),
                Spread::Number(_) => fault(&expr.span),
                _ => fault(&expr.span),
            },
        }
    }

    fn truth(&self, expr: &Expr, spreads: &dyn Spreads) -> Result<(bool, bool), BoxedFault> {
        match self.spread(expr, spreads)? {
            Spread::Truth { may_hold, may_fail } => Ok((may_hold, may_fail)),
            _ => fault(&expr.span),
        }
    }

    fn holds(
        &self,
        operator: Operator,
        a: &Expr,
        b: &Expr,
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, BoxedFault> {
        if matches!(operator, Operator::And | Operator::Or) {
            let (a_holds, a_fails) = self.truth(a, spreads)?;
            // What the first side settles, the second doesn't undo: it may have no value then.
            let settled = if operator == Operator::And {
                !a_holds
            } else {
                !a_fails
            };
            if settled {
                return Ok(Spread::truth(a_holds, a_fails));
            }
            let (b_holds, b_fails) = self.truth(b, spreads)?;
            return Ok(match operator {
                Operator::And => Spread::truth(a_holds && b_holds, a_fails || b_fails),
                _ => Spread::truth(a_holds || b_holds, a_fails && b_fails),
            });
        }
        let (x, y) = match (self.spread(a, spreads)?, self.spread(b, spreads)?) {
            (Spread::Number(x), Spread::Number(y)) => (x, y),
            (Spread::Choice(x), Spread::Choice(y)) => {
                let may_equal = x.iter().any(|word| y.contains(word));
                let may_differ = x.len() > 1 || y.len() > 1 || !may_equal;
                return Ok(match operator {
                    Operator::Equal => Spread::truth(may_equal, may_differ),
                    _ => Spread::truth(may_differ, may_equal),
                });
            }
            _ => return fault(span),
        };
        Ok(compare(operator, x, y))
    }

    fn call(
        &self,
        function: &Function,
        arguments: &[Expr],
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, BoxedFault> {
        match function.rule {
            CallRule::Lookup => self.lookup(arguments, span, spreads),
            CallRule::Found => self.found(arguments, span, spreads),
            CallRule::Lattice(lattice) => self.lattice(lattice, arguments, span, spreads),
            CallRule::Water(property) => match self.numbers(arguments, spreads)?.as_slice() {
                [temperature, pressure] => water(property, *temperature, *pressure, span),
                _ => fault(span),
            },
            CallRule::Tolerance => {
                self.numbers(arguments, spreads)?;
                let told = spreads.spread(&tolerance_of(arguments));
                Ok(told.unwrap_or(Spread::Number(Span::point(0.0))))
            }
            CallRule::Maths(maths) => {
                let result = maths.enclose(&self.numbers(arguments, spreads)?);
                match result.filter(|result| result.is_finite()) {
                    Some(result) => Ok(Spread::Number(result)),
                    None => fault(span),
                }
            }
        }
    }

    fn numbers(&self, arguments: &[Expr], spreads: &dyn Spreads) -> Result<Vec<Span>, BoxedFault> {
        arguments
            .iter()
            .map(|argument| self.number(argument, spreads))
            .collect()
    }

    /// Rows grow with the reach and shrink with the lane.
    fn lattice(
        &self,
        lattice: Lattice,
        arguments: &[Expr],
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, BoxedFault> {
        let [layout, centre, numbers @ ..] = arguments else {
            return fault(span);
        };
        let (layout, centre) = (self.spread(layout, spreads)?, self.spread(centre, spreads)?);
        let (Some(Value::Choice(layout)), Some(Value::Choice(centre))) =
            (layout.only(), centre.only())
        else {
            return fault(span);
        };
        let (mut least, mut most) = ([f64::NAN; 3], [f64::NAN; 3]);
        for (at, argument) in numbers.iter().enumerate().take(least.len()) {
            let Span { low, high } = self.number(argument, spreads)?;
            (least[at], most[at]) = if at == 1 { (high, low) } else { (low, high) };
        }
        let count = |ends: &[f64; 3]| lattice.count(&layout, &centre, ends.get(..numbers.len())?);
        match (count(&least), count(&most)) {
            (Some(least), Some(most)) => Ok(Spread::Number(Span::new(least, most))),
            _ => fault(span),
        }
    }
}

/// What a reckoning may give; `None` where it may have no value.
fn reckoned(operator: Operator, x: Span, y: Span) -> Option<Span> {
    match operator {
        Operator::Add => Some(x.plus(y)),
        Operator::Subtract => Some(x.minus(y)),
        Operator::Multiply => Some(x.times(y)),
        Operator::Divide => x.over(y),
        _ => x.power(y),
    }
}

/// Between the corners' values, give or take what a curve may bulge past a line.
fn water(
    property: Property,
    temperature: Span,
    pressure: Span,
    at: &Range<usize>,
) -> Result<Spread, BoxedFault> {
    let at = |t, p| {
        let value = property.at(t, p);
        value.map_err(|message| BoxedFault::from(EvalFault::new(at, message)))
    };
    let along = |p| -> Result<Span, BoxedFault> {
        Ok(Span::new(at(temperature.low, p)?, at(temperature.high, p)?))
    };
    let mut hull = along(pressure.low)?;
    if pressure.low < pressure.high {
        hull = hull.hull(along(pressure.high)?);
    }
    let (by_temperature, by_pressure) = property.bulge();
    let square = |span: Span| span.width() * span.width() / 8.0;
    let room = square(temperature) * by_temperature
        + square(pressure) * by_pressure
        + hull.high.abs() * 1e-12;
    Ok(Spread::Number(Span::new(hull.low - room, hull.high + room)))
}
