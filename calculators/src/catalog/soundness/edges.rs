//! Limits against answers: an edge lies on its own side of the value, and an answer at the
//! printed edge has the verdict that the limit says.

use super::widths::exact;
use super::*;
use crate::calculator::Calculator;
use crate::message::in_english;

/// A number between 0 and 1 after another, the same on every machine.
pub(super) struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// Values for all inputs, in their usual bands.
pub(super) fn usual(calculator: &Calculator, dice: &mut Dice) -> Vec<Argument> {
    let inputs = calculator.inputs.iter();
    inputs
        .map(|input| {
            let part = dice.roll();
            let text = match &input.field.kind {
                FieldKind::Number {
                    format,
                    usual,
                    least,
                    most,
                    ..
                } => {
                    let (low, high) = usual.or(least.zip(*most)).unwrap_or((1.0, 100.0));
                    // Now and then a value that people write.
                    let si = low + (high - low) * part;
                    if dice.roll() < 0.5 {
                        format.main.print(si).text
                    } else {
                        exact(
                            format,
                            if format.main.unit.symbol == "count" {
                                libm::round(si)
                            } else {
                                si
                            },
                        )
                    }
                }
                FieldKind::Choice(choices) => {
                    choices[(part * choices.len() as f64) as usize].name.clone()
                }
            };
            Argument {
                confirmed: true,
                ..Argument::new(&input.field.name, &text)
            }
        })
        .collect()
}

#[derive(Default, Debug)]
pub(super) struct Tally {
    limits: usize,
    edges: usize,
    gave_up: Vec<String>,
}

/// Every limit of one job of one calculator.
fn tried(calculator: &Calculator, given: &[Argument], tally: &mut Tally) {
    let job = demonstration();
    let answer = CATALOG.calculate(&calculator.name, given, &job).unwrap();
    if !answer.problems.is_empty() {
        return;
    }
    for input in &calculator.inputs {
        let name = &input.field.name;
        let (FieldKind::Number { format, .. }, Some(Value::Number(here))) =
            (&input.field.kind, answer.values.get(name))
        else {
            continue;
        };
        let Ok(limits) = CATALOG.limits(&calculator.name, name, given, &job) else {
            continue;
        };
        for (at, limit) in limits.iter().enumerate() {
            tally.limits += 1;
            for (edge, outward) in [(&limit.low, -1.0), (&limit.high, 1.0)] {
                let Some(edge) = edge else {
                    continue;
                };
                tally.edges += 1;
                let told = || {
                    let given: Vec<String> = given
                        .iter()
                        .map(|given| format!("{}='{}'", given.name, given.text))
                        .collect();
                    format!(
                        "{} {} --limit {name}: {}: {}",
                        calculator.name,
                        given.join(" "),
                        limit.check,
                        in_english(&limit.words())
                    )
                };
                if edge.at_least {
                    tally.gave_up.push(told());
                }
                assert!((edge.si - here) * outward >= 0.0, "{}", told());
                let mut there: Vec<Argument> = given.to_vec();
                there.retain(|given| given.name != *name);
                there.push(Argument {
                    confirmed: true,
                    ..Argument::new(name, &edge.text)
                });
                let at_edge = CATALOG.calculate(&calculator.name, &there, &job).unwrap();
                assert!(
                    at_edge.problems.is_empty(),
                    "{}: {:?}",
                    told(),
                    at_edge.problems
                );
                let Some(Value::Number(printed)) = at_edge.values.get(name) else {
                    unreachable!()
                };
                let noise = 1e-9 * here.abs().max(format.main.one_step());
                assert!((printed - here) * outward >= -noise, "{}", told());
                assert_eq!(at_edge.checks[at].would, Some(limit.is), "{}", told());
            }
        }
    }
}

fn jobs(each: usize) -> Tally {
    let mut tally = Tally::default();
    for calculator in CATALOG.calculators.values() {
        let mut dice = Dice(calculator.name.bytes().map(u64::from).sum());
        tried(calculator, &[], &mut tally);
        for _ in 0..each {
            tried(calculator, &usual(calculator, &mut dice), &mut tally);
        }
    }
    tally
}

#[test]
fn a_limit_lies_on_its_own_side_and_its_verdict_holds_there() {
    let tally = jobs(6);
    println!(
        "{} limits, {} edges, gave up: {:#?}",
        tally.limits, tally.edges, tally.gave_up
    );
}

#[test]
#[ignore = "minutes"]
fn a_limit_lies_on_its_own_side_in_a_thousand_jobs_each() {
    let tally = jobs(1000);
    println!(
        "{} limits, {} edges, gave up {}: {:#?}",
        tally.limits,
        tally.edges,
        tally.gave_up.len(),
        &tally.gave_up[..tally.gave_up.len().min(60)]
    );
}

fn words(name: &str, input: &str, pairs: &[(&str, &str)]) -> Vec<String> {
    let limits = CATALOG
        .limits(name, input, &given(pairs), &demonstration())
        .unwrap();
    limits
        .iter()
        .map(|limit| in_english(&limit.words()))
        .collect()
}

#[test]
fn a_limit_on_a_count_is_at_the_count_itself_where_the_next_one_differs() {
    assert_eq!(
        words("bolt-clamp-position", "bolt_count", &[])[1],
        "go from 28 to 28, below it caution, above it caution"
    );
    assert_eq!(
        words("bolt-clamp-position", "bolt_count", &[("bolt_count", "95")])[1],
        "caution from 93 to 95, below it go, above it go"
    );
}

#[test]
fn a_limit_between_two_rows_of_a_table_is_told_in_a_finer_step() {
    let pairs = [
        ("hose_bore", "4.294 mm"),
        ("hose_layers", "4"),
        ("hose_od", "9.6 mm"),
    ];
    assert_eq!(
        words("roller-choice", "hose_bore", &pairs),
        ["stop from 4.1 mm to 4.9 mm, below it go, above it caution"]
    );
}

#[test]
fn an_input_that_changes_nothing_has_no_limit() {
    let pairs = [("orifice_diameter", "0.5 mm ± 0.1 mm")];
    assert_eq!(
        words("nozzle-wear", "orifice_diameter", &pairs),
        ["go over the whole range"]
    );
}
