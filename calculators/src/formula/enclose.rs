//! Evaluates a formula for inputs that may lie anywhere in their spans: the
//! result's span holds every value that the formula can take.

use std::ops::Range;

use super::ast::{Expr, ExprKind, Gather, Operator};
use super::evaluate::{MOST_STEPS, NOISE, word};
use super::functions::{Function, Property, Rule};
use super::lattice::Lattice;
use super::spreads::{Bound, Spread, Spreads, compare};
use super::values::{EvalFault, Value};
use crate::span::Span;

pub(super) fn enclose(expr: &Expr, spreads: &dyn Spreads) -> Result<Spread, EvalFault> {
    Run {
        steps: std::cell::Cell::new(0),
    }
    .spread(expr, spreads)
}

struct Run {
    steps: std::cell::Cell<u32>,
}

fn fault<T>(span: &Range<usize>, message: &str) -> Result<T, EvalFault> {
    Err(EvalFault::new(span, message))
}

impl Run {
    fn spread(&self, expr: &Expr, spreads: &dyn Spreads) -> Result<Spread, EvalFault> {
        match &expr.kind {
            ExprKind::Number(value) => Ok(Spread::Number(Span::point(*value))),
            ExprKind::Quantity { si, .. } => Ok(Spread::Number(Span::point(*si))),
            ExprKind::Word(word) => Ok(Spread::Choice(vec![word.clone()])),
            ExprKind::Name(name) => match spreads.spread(name) {
                Some(spread) => Ok(spread),
                None if name == "pi" => Ok(Spread::Number(Span::point(std::f64::consts::PI))),
                None => fault(&expr.span, "a name has no value"),
            },
            ExprKind::Negate(inner) => Ok(Spread::Number(self.number(inner, spreads)?.negated())),
            ExprKind::Not(inner) => {
                let (may_hold, may_fail) = self.truth(inner, spreads)?;
                Ok(Spread::truth(may_fail, may_hold))
            }
            ExprKind::Binary(operator, a, b) => self.binary(*operator, a, b, &expr.span, spreads),
            ExprKind::If(condition, yes, no) => match self.truth(condition, spreads)? {
                (true, true) => {
                    let both = self.spread(yes, spreads)?.hull(self.spread(no, spreads)?);
                    both.map_or_else(|| fault(&expr.span, "the branches differ in kind"), Ok)
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

    fn step(&self, span: &Range<usize>) -> Result<(), EvalFault> {
        self.steps.set(self.steps.get() + 1);
        if self.steps.get() > MOST_STEPS {
            fault(span, "this takes too many steps")
        } else {
            Ok(())
        }
    }

    fn number(&self, expr: &Expr, spreads: &dyn Spreads) -> Result<Span, EvalFault> {
        match self.spread(expr, spreads)? {
            Spread::Number(span) if span.is_finite() => Ok(span),
            Spread::Number(_) => fault(&expr.span, "this has no bound"),
            _ => fault(&expr.span, "this is not a number"),
        }
    }

    fn truth(&self, expr: &Expr, spreads: &dyn Spreads) -> Result<(bool, bool), EvalFault> {
        match self.spread(expr, spreads)? {
            Spread::Truth { may_hold, may_fail } => Ok((may_hold, may_fail)),
            _ => fault(&expr.span, "this is not a condition"),
        }
    }

    fn binary(
        &self,
        operator: Operator,
        a: &Expr,
        b: &Expr,
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, EvalFault> {
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
            _ => return fault(span, "these can't be compared"),
        };
        let result = match operator {
            Operator::Add => Some(x.plus(y)),
            Operator::Subtract => Some(x.minus(y)),
            Operator::Multiply => Some(x.times(y)),
            Operator::Divide => x.over(y),
            Operator::Power => x.power(y),
            _ => return Ok(compare(operator, x, y)),
        };
        match result {
            Some(result) if result.is_finite() => Ok(Spread::Number(result)),
            _ => fault(span, "inside the tolerance this may have no value"),
        }
    }

    fn call(
        &self,
        function: &Function,
        arguments: &[Expr],
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, EvalFault> {
        match function.rule {
            Rule::Lookup => {
                let keys = self.keys(arguments.get(2..).unwrap_or_default(), spreads)?;
                let entry =
                    spreads.lookup(word(arguments, 0, span)?, word(arguments, 1, span)?, &keys);
                entry
                    .map(|value| Spread::of(&value))
                    .map_err(|message| EvalFault::new(span, message))
            }
            Rule::Found => {
                let keys = self.keys(arguments.get(1..).unwrap_or_default(), spreads)?;
                let found = spreads.found(word(arguments, 0, span)?, &keys);
                found
                    .map(|found| Spread::truth(found, !found))
                    .map_err(|message| EvalFault::new(span, message))
            }
            Rule::Lattice(lattice) => self.lattice(lattice, arguments, span, spreads),
            Rule::Water(property) => match self.numbers(arguments, spreads)?.as_slice() {
                [temperature, pressure] => water(property, *temperature, *pressure, span),
                _ => fault(span, "water's properties take a temperature and a pressure"),
            },
            Rule::Maths(maths) => {
                let result = maths.enclose(&self.numbers(arguments, spreads)?);
                match result.filter(|result| result.is_finite()) {
                    Some(result) => Ok(Spread::Number(result)),
                    None => fault(span, "inside the tolerance this may have no value"),
                }
            }
        }
    }

    fn numbers(&self, arguments: &[Expr], spreads: &dyn Spreads) -> Result<Vec<Span>, EvalFault> {
        arguments
            .iter()
            .map(|argument| self.number(argument, spreads))
            .collect()
    }

    /// A table's key has no tolerance: rows don't lie on a line.
    fn keys<'e>(
        &self,
        pairs: &'e [Expr],
        spreads: &dyn Spreads,
    ) -> Result<Vec<(&'e str, Value)>, EvalFault> {
        pairs
            .chunks_exact(2)
            .map(|pair| {
                let value = match self.spread(&pair[1], spreads)? {
                    Spread::Number(span) if span.high - span.low <= NOISE * span.high.abs() => {
                        Value::Number(span.high)
                    }
                    Spread::Choice(words) if words.len() == 1 => Value::Choice(words[0].clone()),
                    _ => return fault(&pair[1].span, "a table can't be read with a tolerance"),
                };
                Ok((word(pair, 0, &pair[0].span)?, value))
            })
            .collect()
    }

    /// Rows grow with the reach and shrink with the lane.
    fn lattice(
        &self,
        lattice: Lattice,
        arguments: &[Expr],
        span: &Range<usize>,
        spreads: &dyn Spreads,
    ) -> Result<Spread, EvalFault> {
        let choices = arguments
            .iter()
            .take(2)
            .map(|argument| self.spread(argument, spreads));
        let choices = choices.collect::<Result<Vec<_>, _>>()?;
        let [Spread::Choice(layouts), Spread::Choice(centres)] = choices.as_slice() else {
            return fault(span, "a layout and a centre are wanted");
        };
        let numbers = self.numbers(arguments.get(2..).unwrap_or_default(), spreads)?;
        let least: Vec<f64> = numbers
            .iter()
            .enumerate()
            .map(|(at, n)| if at == 1 { n.high } else { n.low })
            .collect();
        let most: Vec<f64> = numbers
            .iter()
            .enumerate()
            .map(|(at, n)| if at == 1 { n.low } else { n.high })
            .collect();
        let mut result: Option<Span> = None;
        for layout in layouts {
            for centre in centres {
                let least = lattice.count(layout, centre, &least);
                let most = lattice.count(layout, centre, &most);
                let (Some(least), Some(most)) = (least, most) else {
                    return fault(span, "there is no such lattice");
                };
                let found = Span::new(least, most);
                result = Some(result.map_or(found, |result| result.hull(found)));
            }
        }
        result.map_or_else(
            || fault(span, "there is no such lattice"),
            |result| Ok(Spread::Number(result)),
        )
    }

    /// Terms that are surely in the range, and at each end those that may be.
    fn over(
        &self,
        gather: Gather,
        name: &str,
        (from, to): (Span, Span),
        body: &Expr,
        spreads: &dyn Spreads,
    ) -> Result<Spread, EvalFault> {
        let round = libm::round;
        let (first, last) = (round(from.high), round(to.low));
        if first > last && (round(from.low) < first || round(to.high) > last) {
            return fault(&body.span, "inside the tolerance this range may be empty");
        }
        let term = |k: f64| -> Result<Span, EvalFault> {
            self.step(&body.span)?;
            self.number(
                body,
                &Bound {
                    name,
                    span: Span::point(k),
                    outer: spreads,
                },
            )
        };
        let mut sure = Span::point(gather.start());
        let mut k = first;
        while k <= last {
            sure = gather_spans(gather, sure, term(k)?);
            k += 1.0;
        }
        let mut result = sure;
        for (start, end, step) in [
            (first - 1.0, round(from.low), -1.0),
            (last + 1.0, round(to.high), 1.0),
        ] {
            let (mut running, mut reached) =
                (Span::point(gather.start()), Span::point(gather.start()));
            let mut k = start;
            while (end - k) * step >= 0.0 {
                running = gather_spans(gather, running, term(k)?);
                reached = reached.hull(running);
                k += step;
            }
            result = gather_spans(gather, result, reached);
        }
        Ok(Spread::Number(result))
    }

    /// Cuts away from both ends what surely holds no root.
    fn root(
        &self,
        name: &str,
        whole: Span,
        body: &Expr,
        spreads: &dyn Spreads,
    ) -> Result<Spread, EvalFault> {
        let excluded = |a: f64, b: f64| -> Result<bool, EvalFault> {
            self.step(&body.span)?;
            let span = self.number(
                body,
                &Bound {
                    name,
                    span: Span::new(a, b),
                    outer: spreads,
                },
            );
            // Where the body has no value over so wide a piece, nothing is excluded.
            Ok(span.is_ok_and(|span| !span.holds(0.0)))
        };
        let finest = (whole.high - whole.low) * 1e-12;
        let cut = |from: f64, towards: f64| -> Result<f64, EvalFault> {
            let sign = if towards > from { 1.0 } else { -1.0 };
            let (mut at, mut step) = (from, (towards - from).abs());
            while step > finest {
                let next = if sign > 0.0 {
                    (at + step).min(towards)
                } else {
                    (at - step).max(towards)
                };
                if excluded(at, next)? {
                    at = next;
                    step *= 2.0;
                    if at == towards {
                        break;
                    }
                } else {
                    step /= 2.0;
                }
            }
            Ok(at)
        };
        let low = cut(whole.low, whole.high)?;
        if low >= whole.high && whole.high > whole.low {
            return fault(&body.span, "inside the tolerance there may be no root");
        }
        let high = cut(whole.high, low)?;
        Ok(Spread::Number(Span::new(low - finest, high + finest)))
    }
}

fn gather_spans(gather: Gather, a: Span, b: Span) -> Span {
    match gather {
        Gather::Sum => a.plus(b),
        Gather::Largest => a.max(b),
    }
}

/// The value in the middle, give or take the steepest change to the edges.
fn water(
    property: Property,
    temperature: Span,
    pressure: Span,
    at: &Range<usize>,
) -> Result<Spread, EvalFault> {
    let middle = |span: Span| span.low + (span.high - span.low) / 2.0;
    let (t, p) = (middle(temperature), middle(pressure));
    for (t, p) in [
        (temperature.low, pressure.low),
        (temperature.high, pressure.high),
        (t, p),
    ] {
        property
            .at(t, p)
            .map_err(|message| EvalFault::new(at, message))?;
    }
    let value = property
        .at(t, p)
        .map_err(|message| EvalFault::new(at, message))?;
    let (per_kelvin, per_pascal) = property.steepest();
    let room = (temperature.high - temperature.low) / 2.0 * per_kelvin
        + (pressure.high - pressure.low) / 2.0 * per_pascal
        + value.abs() * 1e-12;
    Ok(Spread::Number(Span::new(value - room, value + room)))
}
