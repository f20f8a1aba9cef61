//! Verdicts over whole usual bands of inputs that nobody measured.

use super::edges::Dice;
use super::*;
use crate::calculator::{Calculator, Possibilities, Possible, Verdict};
use crate::formula::Spread;
use crate::span::Span;

/// A calculator's inputs for a job, with some of them anywhere in their usual bands.
fn box_of(calculator: &Calculator, given: &[Argument], free: &[&str]) -> Possibilities {
    let answer = CATALOG
        .calculate(&calculator.name, given, &demonstration())
        .unwrap();
    assert!(answer.problems.is_empty(), "{:?}", answer.problems);
    let inputs = calculator.inputs.iter();
    inputs
        .map(|input| {
            let name = input.field.name.as_str();
            let spread = match &input.field.kind {
                FieldKind::Number {
                    usual: Some((low, high)),
                    ..
                } if free.contains(&name) => Spread::Number(Span::new(*low, *high)),
                _ => Spread::of(answer.values.get(name).unwrap()),
            };
            (
                name.to_string(),
                Possible::Known {
                    spread,
                    may_be_absent: false,
                },
            )
        })
        .collect()
}

/// Verdicts that samples of the box reach, check by check.
fn reached(
    calculator: &Calculator,
    given: &[Argument],
    free: &[&str],
    dice: &mut Dice,
) -> Vec<Vec<Verdict>> {
    let mut found = vec![Vec::new(); calculator.checks.len()];
    for sample in 0..40 {
        let mut there = given.to_vec();
        for (at, name) in free.iter().enumerate() {
            let FieldKind::Number {
                format,
                usual: Some((low, high)),
                ..
            } = &calculator.input(name).unwrap().field.kind
            else {
                unreachable!()
            };
            let part = if sample < 8 {
                (sample >> at & 1) as f64
            } else {
                dice.roll()
            };
            let text = widths::exact(format, low + (high - low) * part);
            there.push(Argument {
                confirmed: true,
                ..Argument::new(name, &text)
            });
        }
        let answer = CATALOG
            .calculate(&calculator.name, &there, &demonstration())
            .unwrap();
        for (found, check) in found.iter_mut().zip(&answer.checks) {
            if !found.contains(&check.is) {
                found.push(check.is);
            }
        }
    }
    found
}

#[test]
fn a_verdict_over_wide_bands_is_as_sure_as_samples_show() {
    let (mut asked, mut vague) = (0, Vec::new());
    for (name, free) in [
        ("hose-pressure-loss", vec!["roughness", "water_temperature"]),
        (
            "pump-operating-point",
            vec!["roughness", "water_temperature", "discharge_coefficient"],
        ),
        (
            "flow-at-pressure",
            vec!["roughness", "water_temperature", "discharge_coefficient"],
        ),
        (
            "nozzle-flow",
            vec!["water_temperature", "discharge_coefficient"],
        ),
        ("water-heating", vec!["water_temperature"]),
        ("air-line-drop", vec!["roughness", "air_temperature"]),
    ] {
        let calculator = &CATALOG.calculators[name];
        let mut dice = Dice(3);
        let mut jobs = vec![Vec::new()];
        for _ in 0..4 {
            let mut given = edges::usual(calculator, &mut dice);
            given.retain(|given| !free.contains(&given.name.as_str()));
            jobs.push(given);
        }
        for given in jobs {
            let inputs = box_of(calculator, &given, &free);
            let (job, dice) = (demonstration(), &mut dice);
            let resolver = CATALOG.resolver(&job);
            let reached = reached(calculator, &given, &free, dice);
            let values = calculator.run(&given, &resolver).values;
            for (check, reached) in calculator.checks.iter().zip(reached) {
                let settled = calculator.settled(inputs.clone(), &values, check, &resolver);
                asked += 1;
                let told = || format!("{name} {}: {reached:?} in {settled:?}", check.name);
                assert!(reached.iter().all(|is| settled.contains(is)), "{}", told());
                if settled.len() > reached.len() {
                    vague.push(told());
                }
            }
        }
    }
    assert!(vague.len() * 10 <= asked, "of {asked}: {vague:#?}");
    println!("of {asked}: {vague:#?}");
}
