//! How wide the spans are, against samples: a span that is sound and says nothing is no
//! use to a crew.

use super::edges::Dice;
use super::*;
use crate::calculator::{Calculator, OutputKind};
use crate::field::NumberFormat;
use crate::message::in_english;
use crate::span::Span;

/// One input and how far off it may be, in SI.
pub(super) struct Side<'c> {
    pub name: &'c str,
    pub format: &'c NumberFormat,
    pub span: Span,
}

impl Side<'_> {
    fn text(&self, part: f64) -> String {
        exact(
            self.format,
            self.span.low + (self.span.high - self.span.low) * part,
        )
    }

    /// As it is typed: the middle, give or take the half.
    fn tolerance(&self) -> String {
        let unit = &self.format.main.unit;
        let half = unit.difference_from_si((self.span.high - self.span.low) / 2.0);
        let digits = (12.0 - libm::floor(libm::log10(half))).min(14.0) as usize;
        let symbol = if unit.symbol == "1" {
            ""
        } else {
            unit.symbol.as_str()
        };
        format!("{} ± {half:.digits$} {symbol}", self.text(0.5))
    }
}

/// Nothing rounded off that a formula would notice.
pub(super) fn exact(format: &NumberFormat, si: f64) -> String {
    let unit = &format.main.unit;
    let value = unit.from_si_as(si, format.main.kind);
    if unit.symbol == "count" {
        return format!("{value:.0}");
    }
    let digits = (12.0 - libm::floor(libm::log10(value.abs().max(1e-9)))).min(14.0) as usize;
    let symbol = if unit.symbol == "1" {
        ""
    } else {
        unit.symbol.as_str()
    };
    format!("{value:.digits$} {symbol}")
}

/// The inputs of a calculator that may be measured a little off, around the values of a job.
pub(super) fn sides<'c>(calculator: &'c Calculator, job: &Job, share: f64) -> Vec<Side<'c>> {
    let answer = CATALOG.calculate(&calculator.name, &[], job).unwrap();
    let inputs = calculator.inputs.iter();
    inputs
        .filter_map(|input| {
            let FieldKind::Number {
                format,
                least,
                most,
                ..
            } = &input.field.kind
            else {
                return None;
            };
            let Some(Value::Number(si)) = answer.values.get(&input.field.name) else {
                return None;
            };
            let unit = format.main.unit.symbol.as_str();
            let half = match unit {
                "count" => return None,
                "degC" => 100.0 * share,
                _ if *si == 0.0 => return None,
                _ => si.abs() * share,
            };
            let half = half
                .min(least.map_or(half, |least| si - least))
                .min(most.map_or(half, |most| most - si));
            let span = Span::new(si - half, si + half);
            (half > 0.0).then_some(Side {
                name: &input.field.name,
                format,
                span,
            })
        })
        .collect()
}

/// How many times as wide each span is as what samples reach; absent results are skipped.
pub(super) fn ratios(
    calculator: &Calculator,
    sides: &[&Side<'_>],
    job: &Job,
    steps: usize,
) -> Vec<(String, f64, String)> {
    let ask = |texts: Vec<String>| {
        let given: Vec<Argument> = std::iter::zip(sides, &texts)
            .map(|(side, text)| Argument {
                confirmed: true,
                ..Argument::new(side.name, text)
            })
            .collect();
        CATALOG.calculate(&calculator.name, &given, job).unwrap()
    };
    let shown = ask(sides.iter().map(|side| side.tolerance()).collect());
    if !shown.problems.is_empty() {
        println!("refused {} {:?}", calculator.name, shown.problems);
        return Vec::new();
    }
    let mut reached: Vec<Option<Span>> = vec![None; shown.outputs.len()];
    for number in 0..(steps + 1).pow(sides.len() as u32) {
        let mut left = number;
        let texts = sides
            .iter()
            .map(|side| {
                let part = (left % (steps + 1)) as f64 / steps as f64;
                left /= steps + 1;
                side.text(part)
            })
            .collect();
        let inside = ask(texts);
        for (reached, reading) in reached.iter_mut().zip(&inside.outputs) {
            if let (Some(_), Some(Value::Number(si))) =
                (&reading.reading, inside.values.get(&reading.name))
            {
                let point = Span::point(*si);
                *reached = Some(reached.map_or(point, |reached| reached.hull(point)));
            }
        }
    }
    let mut found = Vec::new();
    for (reading, reached) in shown.outputs.iter().zip(reached) {
        let Some(OutputKind::Number(_)) =
            calculator.result(&reading.name).map(|output| &output.kind)
        else {
            continue;
        };
        let (Some(reached), Some(span)) = (reached, &reading.span) else {
            continue;
        };
        let (wide, sampled) = (span.high - span.low, reached.high - reached.low);
        // What conversion leaves in the last digits is no width.
        let noise = 1e-9 * reached.low.abs().max(reached.high.abs()) + f64::MIN_POSITIVE;
        let ratio = if wide <= noise {
            1.0
        } else {
            wide / sampled.max(noise)
        };
        found.push((reading.name.clone(), ratio, in_english(&span.text)));
    }
    found
}

#[test]
#[ignore = "prints what tolerances cost, for whoever works on them"]
fn times_as_they_are() {
    let job = demonstration();
    for calculator in CATALOG.calculators.values() {
        let sides = sides(calculator, &job, 0.01);
        let plain = std::time::Instant::now();
        for _ in 0..100 {
            CATALOG.calculate(&calculator.name, &[], &job);
        }
        let plain = plain.elapsed().as_micros() / 100;
        let cost = |group: &[&Side<'_>]| {
            let given: Vec<Argument> = group
                .iter()
                .map(|side| Argument {
                    confirmed: true,
                    ..Argument::new(side.name, &side.tolerance())
                })
                .collect();
            let start = std::time::Instant::now();
            CATALOG.calculate(&calculator.name, &given, &job);
            start.elapsed().as_micros()
        };
        let one = sides.iter().map(|side| cost(&[side])).max();
        let all = cost(&sides.iter().collect::<Vec<_>>());
        println!(
            "{:>8} {:>8} {:>8} us {}",
            plain,
            one.unwrap_or(0),
            all,
            calculator.name
        );
    }
}

/// Spans that stay wider than twice what samples reach, and why.
const WIDE: &[(&str, &str, &str)] = &[
    (
        "flow-at-pressure",
        "pressure_one_plugged",
        "a longer hose takes less flow at the pump's pressure, and more pressure for that flow",
    ),
    (
        "flow-at-pressure",
        "pressure_one_shut",
        "a larger hole takes more flow at the pump's pressure, and less pressure for that flow",
    ),
    (
        "index-plan",
        "short_strokes",
        "rows gain two tubes at once: a span that holds such a place holds the count between, too",
    ),
    (
        "index-plan",
        "odd_tubes",
        "as the short strokes that they are cleaned in",
    ),
    (
        "stored-energy",
        "released_volume",
        "a little water more than fits: a difference of two large volumes",
    ),
    (
        "hose-pressure-loss",
        "friction_factor",
        "a wider bore is smoother and has fewer eddies, which cancel to a last printed digit",
    ),
];

#[test]
fn spans_are_no_wider_than_twice_what_samples_reach() {
    let job = demonstration();
    let mut dice = Dice(7);
    for calculator in CATALOG.calculators.values() {
        for share in [0.002, 0.02] {
            let sides = sides(calculator, &job, share);
            let mut groups: Vec<(Vec<&Side<'_>>, usize)> =
                sides.iter().map(|side| (vec![side], 8)).collect();
            if sides.len() > 1 {
                let at = (dice.roll() * sides.len() as f64) as usize;
                let next = (at + 1) % sides.len();
                groups.push((vec![&sides[at], &sides[next]], 4));
            }
            for (group, steps) in groups {
                for (name, ratio, text) in ratios(calculator, &group, &job, steps) {
                    let told = WIDE
                        .iter()
                        .any(|wide| (wide.0, wide.1) == (&calculator.name, &name));
                    let names: Vec<&str> = group.iter().map(|side| side.name).collect();
                    let told_of = format!("{} {name} over {names:?}: {text}", calculator.name);
                    assert!(told || ratio < 2.0, "{ratio} times too wide: {told_of}");
                    let count = calculator.result(&name).is_some_and(|output| {
                        matches!(&output.kind, OutputKind::Number(format) if format.main.unit.symbol == "count")
                    });
                    assert!(!count || !text.starts_with('−'), "{told_of}");
                }
            }
        }
    }
}

fn span(name: &str, pairs: &[(&str, &str)], output: &str) -> String {
    let answer = run(name, pairs);
    in_english(&answer.output(output).unwrap().span.as_ref().unwrap().text)
}

#[test]
fn a_result_that_an_input_cancels_out_of_has_no_span_from_it() {
    let pairs = [("guide_tube_length", "21 3/8 in ± 1/2 in")];
    assert_eq!(
        span("stroke-stops", &pairs, "stroke"),
        "172 1/2 in to 172 1/2 in"
    );
    let pairs = [
        ("stock_length", "12 in ± 1/4 in"),
        ("channel_depth", "9 in"),
    ];
    assert_eq!(span("guide-tube-length", &pairs, "extra"), "9 in to 9 in");
}

#[test]
fn no_plan_has_fewer_strokes_than_none() {
    let pairs = [("bundle_diameter", "24 in ± 1/4 in")];
    for output in ["setups", "strokes", "short_strokes", "moves"] {
        let text = span("index-plan", &pairs, output);
        assert!(!text.contains('−'), "{output}: {text}");
    }
    let reading = run("index-plan", &pairs);
    let span = reading
        .output("short_strokes")
        .unwrap()
        .span
        .as_ref()
        .unwrap();
    assert!(span.high - span.low < 9.0, "{span:?}");
}

#[test]
fn the_greatest_flow_of_an_air_line_has_a_span() {
    for pairs in [
        [("length", "150 ft ± 5 ft")],
        [("bore", "3/4 in ± 1/32 in")],
        [("supply_pressure", "100 psi ± 2 psi")],
        [("air_temperature", "20 degC ± 3 degC")],
    ] {
        let text = span("air-line-drop", &pairs, "greatest_flow");
        assert!(text.contains(" to "), "{text}");
    }
}

#[test]
#[ignore = "prints how wide every span is, for whoever works on them"]
fn widths_as_they_are() {
    let job = demonstration();
    for calculator in CATALOG.calculators.values() {
        for share in [0.002, 0.01, 0.03] {
            let sides = sides(calculator, &job, share);
            for (at, side) in sides.iter().enumerate() {
                let mut groups = vec![vec![side]];
                groups.extend(sides.iter().skip(at + 1).map(|other| vec![side, other]));
                for group in groups {
                    let names: Vec<&str> = group.iter().map(|side| side.name).collect();
                    let start = std::time::Instant::now();
                    for (name, ratio, text) in ratios(
                        calculator,
                        &group,
                        &job,
                        if group.len() == 1 { 32 } else { 8 },
                    ) {
                        if ratio > 1.9 {
                            println!(
                                "{ratio:9.2} {} {name} over {names:?} at {share}: {text}",
                                calculator.name
                            );
                        }
                    }
                    if start.elapsed().as_millis() > 400 {
                        println!("slow {} {names:?} {:?}", calculator.name, start.elapsed());
                    }
                }
            }
        }
    }
}
