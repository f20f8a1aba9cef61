//! Encloses sums and roots: what runs over a range of its own name.

use std::ops::Range;

use super::ast::{Expr, Gather};
use super::enclose::{EnclosureRun, fault};
use super::evaluate::MOST_STEPS;
use super::simplify::folded;
use super::spreads::{BoundSpan, Spread, Spreads};
use super::values::{BoxedFault, Value};
use crate::span::Span;

impl EnclosureRun {
    /// The body of a sum or a root with all put in that has one value whatever its name.
    fn folded(&self, body: &Expr, name: &str, spreads: &dyn Spreads) -> Expr {
        folded(
            body,
            &[name],
            &|part| match self.spread(part, spreads).ok()? {
                Spread::Number(span) => (span.low == span.high).then_some(Value::Number(span.low)),
                Spread::Truth { may_hold, may_fail } => {
                    (may_hold != may_fail).then_some(Value::Truth(may_hold))
                }
                Spread::Choice(mut words) => {
                    let word = words.pop();
                    word.filter(|_| words.is_empty()).map(Value::Choice)
                }
            },
        )
    }

    fn step(&self, span: &Range<usize>) -> Result<(), BoxedFault> {
        self.steps.set(self.steps.get() + 1);
        if self.steps.get() > MOST_STEPS {
            fault(span, "this takes too many steps")
        } else {
            Ok(())
        }
    }

    /// Terms that are surely in the range, and at each end those that may be.
    pub(super) fn over(
        &self,
        gather: Gather,
        name: &str,
        (from, to): (Span, Span),
        body: &Expr,
        spreads: &dyn Spreads,
    ) -> Result<Spread, BoxedFault> {
        let round = libm::round;
        let (first, last) = (round(from.high), round(to.low));
        if first > last && (round(from.low) < first || round(to.high) > last) {
            return fault(&body.span, "inside the tolerance this range may be empty");
        }
        let body = &self.folded(body, name, spreads);
        let term = |k: f64| -> Result<Span, BoxedFault> {
            self.step(&body.span)?;
            self.number(
                body,
                &BoundSpan {
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
    pub(super) fn root(
        &self,
        name: &str,
        whole: Span,
        body: &Expr,
        spreads: &dyn Spreads,
    ) -> Result<Spread, BoxedFault> {
        let body = &self.folded(body, name, spreads);
        let excluded = |a: f64, b: f64| -> Result<bool, BoxedFault> {
            self.step(&body.span)?;
            let span = self.number(
                body,
                &BoundSpan {
                    name,
                    span: Span::new(a, b),
                    outer: spreads,
                },
            );
            // Where the body has no value over so wide a piece, nothing is excluded.
            Ok(span.is_ok_and(|span| !span.holds(0.0)))
        };
        let finest = (whole.high - whole.low) * 1e-12;
        let cut = |from: f64, towards: f64| -> Result<f64, BoxedFault> {
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
