//! Encloses sums and roots: what runs over a range of its own name.

use std::ops::Range;

use super::ast::{Expr, Gather};
use super::enclose::{EnclosureRun, fault};
use super::evaluate::MOST_STEPS;
use super::simplify::folded;
use super::spreads::{BoundSpan, Spread, Spreads};
use super::values::BoxedFault;
use crate::span::Span;

impl EnclosureRun {
    /// The body of a sum or a root with all put in that has one value whatever its name.
    fn folded(&self, body: &Expr, name: &str, spreads: &dyn Spreads) -> Expr {
        folded(body, &[name], &|part| {
            self.spread(part, spreads).ok()?.only()
        })
    }

    fn step(&self, span: &Range<usize>) -> Result<(), BoxedFault> {
        self.steps.set(self.steps.get() + 1);
        if self.steps.get() > MOST_STEPS {
            fault(span)
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
            return fault(&body.span);
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
        // `None` where the body may have no value over so wide a piece.
        let excluded = |a: f64, b: f64| -> Result<Option<bool>, BoxedFault> {
            self.step(&body.span)?;
            let span = self.number(
                body,
                &BoundSpan {
                    name,
                    span: Span::new(a, b),
                    outer: spreads,
                },
            );
            Ok(span.ok().map(|span| !span.holds(0.0)))
        };
        let finest = (whole.high - whole.low) * 1e-12;
        // Both ends in turn: how near to go to a root hangs on how far apart they stay.
        let Span { mut low, mut high } = whole;
        let mut steps = [(high - low, true); 2];
        loop {
            let enough = ((high - low) / 8192.0).max(finest);
            let mut done = true;
            for (end, (step, valued)) in steps.iter_mut().enumerate() {
                if *step <= if *valued { enough } else { finest } {
                    continue;
                }
                done = false;
                let (a, b) = match end {
                    0 => (low, (low + *step).min(high)),
                    _ => ((high - *step).max(low), high),
                };
                let found = excluded(a, b)?;
                *valued = found.is_some();
                if found != Some(true) {
                    *step /= 2.0;
                    continue;
                }
                *step *= 2.0;
                if b - a >= high - low {
                    return fault(&body.span);
                }
                (low, high) = if end == 0 { (b, high) } else { (low, a) };
            }
            if done {
                break;
            }
        }
        Ok(Spread::Number(Span::new(low - finest, high + finest)))
    }
}

fn gather_spans(gather: Gather, a: Span, b: Span) -> Span {
    match gather {
        Gather::Sum => a.plus(b),
        Gather::Largest => a.max(b),
    }
}
