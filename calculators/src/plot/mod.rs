//! Plots: an output over an input as SVG, to be read with a finger on a phone.
//!
//! The figures' classes give the colours; the verdicts stand in words and shapes.

mod axis;
mod draw;
mod line;

use crate::calculator::{Calculator, OutputKind, Resolver};
use crate::field::FieldKind;
use crate::formula::Value;
use crate::message::Language;
use axis::Axis;
use line::{Traced, trace};

pub use crate::calculator::Plot;
pub(crate) use axis::round_step;
pub use line::PlotLine;

/// Any plot of a calculator: one line for each answer, the first one marked if wanted.
pub(crate) fn svg(
    calculator: &Calculator,
    plot: &Plot,
    lines: &[PlotLine],
    mark: bool,
    resolver: &dyn Resolver,
    language: &Language,
) -> Option<String> {
    let over = calculator.input(&plot.over)?;
    let output = calculator.result(&plot.output)?;
    let (
        FieldKind::Number {
            format: over_face, ..
        },
        OutputKind::Number(format),
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
    let traced: Vec<Traced> = lines
        .iter()
        .map(|line| trace(calculator, &range, line, resolver))
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
    let sheet = draw::PlotSheet {
        x: Axis::over(over_face, &over.field.label, range.from, range.to),
        y: Axis::up(format, &output.label, low, high),
        lines: traced,
        mark: here.zip(there),
        language,
    };
    Some(sheet.draw())
}

#[cfg(test)]
mod tests;
