//! A lookup table: a calculator's main result over the usual band of one input.

use super::Catalog;
use super::job::Job;
use crate::calculator::{Answer, Calculator, Output, OutputKind, Verdict};
use crate::field::{Field, FieldKind, NumberFormat, Printed};
use crate::named::Role;
use crate::plot::round_step;
use crate::quantity::tidy;

/// Rows past this many are no help on a card.
const MOST_ROWS: f64 = 12.0;
/// A band as wide as this is gone through by tens.
const WIDE: f64 = 40.0;

#[derive(Debug)]
pub struct Lookup<'c> {
    pub over: &'c Field,
    pub output: &'c Output,
    pub rows: Vec<LookupRow>,
}

#[derive(Debug)]
pub struct LookupRow {
    pub over: Printed,
    /// None where there is no such result.
    pub result: Option<Printed>,
    /// What the numbers come to: the values of a table are nobody's.
    pub would: Option<Verdict>,
}

impl Catalog {
    /// The first result over the input that it hangs on; of such inputs one that the crew
    /// measures, else the first. None where a value is lacking, or nothing changes it.
    pub fn lookup(&self, answer: &Answer) -> Option<Lookup<'_>> {
        let calculator = self.calculators.get(&answer.calculator)?;
        let output = calculator.results().next()?;
        let OutputKind::Number(format) = &output.kind else {
            return None;
        };
        if !answer.problems.is_empty() || !answer.unset.is_empty() {
            return None;
        }
        let measured =
            |from: &str| self.named.get(from).map(|named| named.role) == Some(Role::Measurement);
        let (crew, others): (Vec<_>, Vec<_>) = calculator.inputs.iter().partition(|input| {
            input
                .from
                .as_ref()
                .is_some_and(|from| measured(&from.value))
        });
        let tables = crew.into_iter().chain(others).filter_map(|input| {
            let rows = self.rows(calculator, answer, &input.field, output, format)?;
            let over = &input.field;
            Some((told(&rows), Lookup { over, output, rows }))
        });
        // the first that tells much; else the one that tells most
        let mut best: Option<(usize, Lookup<'_>)> = None;
        for (told, lookup) in tables {
            if told >= lookup.rows.len() / 2 {
                return Some(lookup);
            }
            if told > best.as_ref().map_or(1, |(most, _)| *most) {
                best = Some((told, lookup));
            }
        }
        best.map(|(_, lookup)| lookup)
    }

    fn rows(
        &self,
        calculator: &Calculator,
        answer: &Answer,
        over: &Field,
        output: &Output,
        format: &NumberFormat,
    ) -> Option<Vec<LookupRow>> {
        let FieldKind::Number {
            format: shown,
            usual: Some(usual),
            ..
        } = &over.kind
        else {
            return None;
        };
        let job = Job::new();
        let resolver = self.resolver(&job);
        let row = |si: f64| {
            let (value, would) = calculator.at(answer, &over.name, si, &output.name, &resolver);
            LookupRow {
                over: shown.print(si),
                result: value.map(|value| format.print(value)),
                would,
            }
        };
        let mut rows: Vec<LookupRow> = places(shown, *usual).into_iter().map(row).collect();
        rows.dedup_by(|one, last| one.over.text == last.over.text);
        Some(rows)
    }
}

/// How many different results a table has.
fn told(rows: &[LookupRow]) -> usize {
    let mut texts: Vec<&str> = rows
        .iter()
        .filter_map(|row| row.result.as_ref())
        .map(|result| result.text.as_str())
        .collect();
    texts.sort_unstable();
    texts.dedup();
    texts.len()
}

/// Round values from one end of a band to the other, both ends included, in SI.
fn places(format: &NumberFormat, (low, high): (f64, f64)) -> Vec<f64> {
    let (unit, kind) = (&format.main.unit, format.main.kind);
    let [low, high] = [low, high].map(|si| tidy(unit.from_si_as(si, kind)));
    let mut values = vec![low];
    if low > 0.0 && high / low >= WIDE {
        values.extend(by_tens(low).take_while(|value| *value < high));
    } else {
        let step = round_step(&format.main, high - low, MOST_ROWS);
        let first = libm::floor(low / step + 1e-9) + 1.0;
        let steps = (0..).map(|n| tidy((first + f64::from(n)) * step));
        values.extend(steps.take_while(|value| *value < high - step * 1e-9));
    }
    values.push(high);
    values
        .into_iter()
        .map(|value| unit.to_si_as(value, kind))
        .collect()
}

/// 1, 2, 5, 10, 20, 50 and so on, past a value.
fn by_tens(low: f64) -> impl Iterator<Item = f64> {
    let tens = libm::floor(libm::log10(low));
    let all = (0..30).flat_map(move |n| {
        let ten = libm::exp10(tens + f64::from(n));
        [1.0, 2.0, 5.0].map(|one| tidy(one * ten))
    });
    all.skip_while(move |value| *value <= low)
}
