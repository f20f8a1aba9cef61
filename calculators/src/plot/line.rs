//! One line of a plot, worked out: where it goes, and where its verdict changes.

use crate::calculator::{Answer, Calculator, Plot, Resolver, Verdict};

/// One line of a plot: the inputs that it is worked out for, and their name where
/// there are several.
pub struct PlotLine<'a> {
    pub name: &'a str,
    pub answer: &'a Answer,
}

/// Places along the input at which the output is worked out.
const STEPS: u32 = 60;
/// Halvings of one of these, where a verdict changes.
const HALVINGS: u32 = 12;

/// A line worked out.
pub(super) struct Traced<'a> {
    pub name: &'a str,
    /// Where the output exists, in SI.
    pub points: Vec<(f64, Option<f64>)>,
    /// The worst verdict from the last place to this one.
    pub stretches: Vec<(Verdict, f64)>,
}

pub(super) fn trace<'a>(
    calculator: &Calculator,
    plot: &Plot,
    line: &PlotLine<'a>,
    resolver: &dyn Resolver,
) -> Traced<'a> {
    let at = |x: f64| calculator.at(line.answer, &plot.over, x, &plot.output, resolver);
    let mut points = Vec::new();
    let mut stretches: Vec<(Verdict, f64)> = Vec::new();
    for step in 0..=STEPS {
        let x = plot.from + (plot.to - plot.from) * f64::from(step) / f64::from(STEPS);
        let (y, is) = at(x);
        if let (Some(is), Some((last, end))) = (is, stretches.last_mut()) {
            let (mut near, mut far) = (*end, x);
            if is != *last {
                for _ in 0..HALVINGS {
                    let middle = (near + far) / 2.0;
                    if at(middle).1 == Some(*last) {
                        near = middle;
                    } else {
                        far = middle;
                    }
                }
            }
            *end = far;
        }
        if let Some(is) = is
            && stretches.last().is_none_or(|(last, _)| *last != is)
        {
            stretches.push((is, x));
        }
        points.push((x, y));
    }
    Traced {
        name: line.name,
        points,
        stretches,
    }
}
