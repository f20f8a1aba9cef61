//! Tolerances and limits of the built-in calculators against samples.

use crate::message::in_english;
use proptest::prelude::*;

use super::*;
use crate::calculator::{Answer, Argument, Verdict};
use crate::field::{Entry, FieldKind};
use crate::formula::Value;
use crate::quantity::{Want, read};
use crate::testing::{CATALOG, demonstration};

mod bands;
mod edges;
mod marks;
mod widths;

fn given(pairs: &[(&str, &str)]) -> Vec<Argument> {
    pairs
        .iter()
        .map(|(name, text)| Argument {
            confirmed: true,
            ..Argument::new(name, text)
        })
        .collect()
}

fn run(name: &str, pairs: &[(&str, &str)]) -> Answer {
    CATALOG
        .calculate(name, &given(pairs), &demonstration())
        .unwrap()
}

#[test]
fn a_tolerance_shows_the_span_of_the_result() {
    let pairs = [
        ("stock_length", "10 in"),
        ("channel_depth", "14 in +- 1/8 in"),
    ];
    let answer = run("guide-tube-length", &pairs);
    let length = answer.output("length").unwrap();
    assert_eq!(in_english(&length.told()), "24 in");
    let span = length.span.as_ref().unwrap();
    assert_eq!(in_english(&span.text), "23 7/8 in to 24 1/8 in");
    assert_eq!(
        answer.inputs[1].understood,
        "14 in = 355.6 mm, from 13 7/8 in to 14 1/8 in"
    );
    let plain = run("guide-tube-length", &[("stock_length", "10 in")]);
    assert_eq!(plain.output("length").unwrap().span, None);
}

#[test]
fn a_verdict_that_would_change_inside_the_tolerance_says_so() {
    let pairs = [
        ("stock_length", "10 in"),
        ("channel_depth", "37 7/8 in ± 1/4"),
    ];
    let answer = run("guide-tube-length", &pairs);
    // a sign holds over the whole tolerance, or it isn't given
    assert_eq!(answer.checks[0].is.word(), "caution");
    assert_eq!(answer.checks[0].would.map(Verdict::word), Some("go"));
    assert_eq!(
        answer.checks[0]
            .may_be
            .iter()
            .map(|is| is.word())
            .collect::<Vec<_>>(),
        ["caution"]
    );
    // the words before tell of the values as told, which here are a go
    let because = &answer.checks[0].because;
    assert!(
        in_english(because)
            .contains(" This is go as told, and may turn to caution inside the tolerance")
    );
    let answer = run("clamp-jaw", &[("flange_thickness", "3 in ± 1")]);
    assert_eq!(answer.checks[0].is.word(), "open");
    assert!(in_english(&answer.checks[0].because).contains("turn to stop"));
}

#[test]
fn a_tolerance_stays_inside_the_limits() {
    let answer = run("clamp-jaw", &[("flange_thickness", "1 1/2 in ± 8")]);
    let [problem] = &answer.problems[..] else {
        panic!("{:?}", answer.problems);
    };
    let said = "`-6 1/2 in` is below the least that is taken, 1/8 in";
    let message = CATALOG.language.say(&problem.message);
    assert_eq!(message.replace('−', "-"), said);
}

#[test]
fn what_lies_past_a_hard_limit_is_told_what_to_write() {
    for text in ["-3 in", "5000 in"] {
        let answer = run("guide-tube-length", &[("channel_depth", text)]);
        let help = answer.problems[0].help.as_ref().expect("what to do");
        let help = CATALOG.language.say(help);
        assert!(
            help.starts_with("check the sign, the digits and the unit"),
            "{help}"
        );
        assert!(help.contains("what is taken is 0 in to "), "{help}");
    }
}

#[test]
fn tolerances_that_mean_nothing_are_refused() {
    for text in [
        "14 in ± -1/8",
        "14 in ± 2 psi",
        "14 in ±",
        "± 1/8 in",
        "14 ± 1 ± 1",
    ] {
        assert!(
            !run("guide-tube-length", &[("channel_depth", text)])
                .problems
                .is_empty(),
            "{text}"
        );
    }
}

#[test]
fn limits_lie_where_the_verdict_changes() {
    let pairs = given(&[("stock_length", "10 in"), ("channel_depth", "9 in")]);
    let limits = CATALOG
        .limits(
            "guide-tube-length",
            "channel_depth",
            &pairs,
            &demonstration(),
        )
        .unwrap();
    let high = limits[0].high.as_ref().unwrap();
    assert!(
        (high.si - 38.0 * 0.0254).abs() < 1e-6,
        "{}",
        high.si / 0.0254
    );
    assert_eq!(
        in_english(&limits[0].words()),
        "go up to 38 in, then caution"
    );
    let pairs = given(&[
        ("hose_od", "9.6 mm"),
        ("ferrule_od", "12 mm"),
        ("opening", "10.4 mm"),
    ]);
    let limits = CATALOG
        .limits("hose-stop-range", "opening", &pairs, &demonstration())
        .unwrap();
    let words: Vec<String> = limits
        .iter()
        .map(|limit| in_english(&limit.words()))
        .collect();
    assert_eq!(words[0], "go over the whole range");
    assert_eq!(words[1], "go down to 9.7 mm, below it stop");
    assert_eq!(words[2], "go up to 10.4 mm, then caution");
}

#[test]
fn a_limit_that_can_not_be_had_says_why() {
    let limits = |name, input| {
        let problem = CATALOG
            .limits(name, input, &[], &demonstration())
            .unwrap_err();
        CATALOG.language.say(&problem.message)
    };
    assert!(limits("pitch-span", "layout").contains("choice"));
    assert!(limits("pitch-span", "tube_pich").contains("not an input"));
}

/// A typed text for an input, somewhere between its usual limits.
fn typed(
    catalog: &Catalog,
    calculator: &Calculator,
    at: usize,
    part: f64,
    room: f64,
) -> Option<(String, String, f64)> {
    let field = &calculator.inputs[at].field;
    let FieldKind::Number {
        format,
        usual,
        least,
        most,
        ..
    } = &field.kind
    else {
        return None;
    };
    if format.main.unit.symbol == "count" {
        return None;
    }
    let job = demonstration();
    let answer = catalog.calculate(&calculator.name, &[], &job)?;
    let Some(Value::Number(here)) = answer.values.get(&field.name) else {
        return None;
    };
    let (low, high) = usual
        .or(least.zip(*most))
        .unwrap_or((here * 0.5, here * 2.0));
    let si = low + (high - low) * part;
    let unit = &format.main.unit;
    let width = unit.difference_from_si((high - low) * room);
    let text = format!(
        "{:.6} {u} ± {width:.6} {u}",
        unit.from_si_as(si, format.main.kind),
        u = unit.symbol
    );
    // A temperature's tolerance is a difference, written in the same unit.
    Some((field.name.clone(), text, width))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_measurement_inside_its_tolerance_leads_outside_the_shown_span(
        which in 0usize..1000, input in 0usize..1000, part in 0.0f64..1.0,
        room in prop_oneof![0.0f64..0.001, 0.0f64..0.1], sample in 0.0f64..=1.0,
    ) {
        let names: Vec<&String> = CATALOG.calculators.keys().collect();
        let calculator = &CATALOG.calculators[names[which % names.len()]];
        let at = input % calculator.inputs.len();
        let Some((name, text, width)) = typed(&CATALOG, calculator, at, part, room) else {
            return Ok(());
        };
        let answer = run(&calculator.name, &[(&name, &text)]);
        if !answer.problems.is_empty() {
            return Ok(());
        }
        let span = answer.inputs[at].span.unwrap();
        let si = span.low + (span.high - span.low) * sample;
        let FieldKind::Number { format, .. } = &calculator.inputs[at].field.kind else { unreachable!() };
        let value = format.main.unit.from_si_as(si, format.main.kind);
        let exact = format!("{value:.9}");
        let taken = calculator.inputs[at].field.take(&exact, None, true);
        let Ok(Entry::Number(taken)) = taken else { return Ok(()); };
        prop_assume!(span.holds(taken.si));
        // a mark set for what was told stays where it is, wherever the truth lies
        let reads_it = calculator.outputs.iter().any(|output| output.formula.text.contains(&format!("tolerance({name})")));
        let unit = &format.main.unit.symbol;
        let inside = match reads_it {
            true => run(&calculator.name, &[(&name, &format!("{value:.9} {unit} ± {width:.6} {unit}"))]),
            false => run(&calculator.name, &[(&name, &exact)]),
        };
        if !inside.problems.is_empty() {
            return Ok(());
        }
        for (shown, verdict) in answer.checks.iter().zip(&inside.checks) {
            // whatever it stands on, what the numbers say
            let open = shown.is == Verdict::Open;
            let told = shown.would == verdict.would || verdict.would.is_some_and(|is| shown.may_be.contains(&is));
            let is = if reads_it { verdict.would } else { Some(verdict.is) };
            prop_assert!(open || (told && Some(shown.is) >= is), "{text}, {exact}: {shown:?}, {verdict:?}");
        }
        for (shown, reading) in answer.outputs.iter().zip(&inside.outputs) {
            let Some(Value::Number(si)) = inside.values.get(&reading.name) else { continue; };
            let Some(span) = &shown.span else { continue; };
            let noise = if reads_it { 1e-12 } else { 0.0 };
            prop_assert!(span.low - noise <= *si && *si <= span.high + noise, "{} {}: {text}, {exact}: {si} outside {span:?}", calculator.name, reading.name);
            let text = in_english(&span.text);
            let Some((low, high)) = text.split_once(" to ") else { continue; };
            let format = match calculator.result(&reading.name).map(|output| &output.kind) {
                Some(crate::calculator::OutputKind::Number(format)) => format.clone(),
                _ => continue,
            };
            let want = Want { kind: format.main.kind, ..Want::of(format.main.unit.clone()) };
            let bound = |text: &str| read(text.trim_end_matches(", or none"), &want).unwrap().si;
            let slack = 1e-8 * si.abs().max(1e-12);
            prop_assert!(bound(low) <= si + slack && bound(high) >= si - slack, "{} {}", reading.name, text);
        }
    }
}
