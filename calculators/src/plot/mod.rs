//! Plots: an output over an input as SVG, to be read with a finger on a phone.
//!
//! The figures' classes give the colours; the verdicts stand in words and shapes.

mod axis;
mod draw;
mod load;

use serde::{Deserialize, Serialize};

use crate::calculator::{Answer, Calculator, Is, OutputKind, Supply};
use crate::catalog::Catalog;
use crate::field::{Face, FieldKind};
use crate::formula::Value;
use axis::Axis;

pub(crate) use load::load;

/// What a calculator's plot shows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plot {
    pub output: String,
    pub over: String,
    /// In SI.
    pub from: f64,
    pub to: f64,
}

/// One line of a plot: the inputs that it is worked out for, and their name where
/// there are several.
pub struct Line<'a> {
    pub name: &'a str,
    pub answer: &'a Answer,
}

/// Places along the input at which the output is worked out.
const STEPS: u32 = 60;
/// Halvings of one of these, where a verdict changes.
const HALVINGS: u32 = 12;

/// A line worked out.
struct Traced<'a> {
    name: &'a str,
    /// Where the output exists, in SI.
    points: Vec<(f64, Option<f64>)>,
    /// The worst verdict from the last place to this one.
    stretches: Vec<(Is, f64)>,
}

impl Catalog {
    /// The plot of an answer's calculator, with the answer marked in it.
    pub fn plot(&self, answer: &Answer) -> Option<String> {
        let calculator = self.calculators.get(&answer.calculator)?;
        let plot = calculator.plot.as_ref()?;
        if !answer.problems.is_empty() {
            return None;
        }
        let line = Line { name: "", answer };
        self.plot_of(calculator, plot, &[line], true)
    }

    /// Any plot of a calculator: one line for each answer, the first one marked if wanted.
    pub fn plot_of(
        &self,
        calculator: &Calculator,
        plot: &Plot,
        lines: &[Line],
        mark: bool,
    ) -> Option<String> {
        let over = calculator.input(&plot.over)?;
        let output = calculator.result(&plot.output)?;
        let (
            FieldKind::Number {
                face: over_face, ..
            },
            OutputKind::Number(face),
        ) = (&over.field.kind, &output.kind)
        else {
            return None;
        };
        let first = lines.first()?.answer;
        let here = match first.values.get(&plot.over) {
            Some(Value::Number(here)) if mark && first.problems.is_empty() => Some(*here),
            _ => None,
        };
        let mut range = plot.clone();
        if let Some(here) = here {
            range.from = range.from.min(here);
            range.to = range.to.max(here);
        }
        let job = crate::Job::new();
        let supply = self.supply(&job);
        let traced: Vec<Traced> = lines
            .iter()
            .map(|line| trace(calculator, &range, line, &supply))
            .collect();
        let heights = || traced.iter().flat_map(|line| &line.points);
        let heights = || heights().filter_map(|(_, y)| *y);
        let (low, high) = heights().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| {
            (low.min(y), high.max(y))
        });
        if !(low <= high && range.from < range.to) {
            return None;
        }
        let there = match first.values.get(&plot.output) {
            Some(Value::Number(there)) => Some(*there),
            _ => None,
        };
        let sheet = draw::Sheet {
            x: Axis::over(over_face, &over.field.label, range.from, range.to),
            y: Axis::up(face, &output.label, low, high),
            lines: traced,
            mark: here.zip(there),
        };
        Some(sheet.draw())
    }
}

fn trace<'a>(
    calculator: &Calculator,
    plot: &Plot,
    line: &Line<'a>,
    supply: &dyn Supply,
) -> Traced<'a> {
    let at = |x: f64| calculator.at(line.answer, &plot.over, x, &plot.output, supply);
    let mut points = Vec::new();
    let mut stretches: Vec<(Is, f64)> = Vec::new();
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

/// A value in words, with its unit.
fn said(face: &Face, si: f64) -> String {
    face.main.print(si).text
}

#[cfg(test)]
mod tests;
