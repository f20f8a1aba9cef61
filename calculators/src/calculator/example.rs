//! Worked examples: run at every load, compared with what they expect.

use super::answer::{Answer, OutputReading, Reading};
use super::definition::{Calculator, Example};
use super::given::Given;
use super::supply::Supply;
use gaugeleaf_finding::settings::Assigned;
use gaugeleaf_finding::{Code, Finding, Placed, nearest};

/// Runs every example of a calculator; each disagreement is a finding that
/// shows both values.
pub(crate) fn check_examples(calculator: &Calculator, supply: &dyn Supply) -> Vec<Finding> {
    calculator
        .examples
        .iter()
        .flat_map(|example| check(calculator, example, supply))
        .collect()
}

fn check(calculator: &Calculator, example: &Example, supply: &dyn Supply) -> Vec<Finding> {
    let finding = |code, at: &Placed<String>, message: String| {
        Finding::error(code, &calculator.file, at.span.clone(), message)
    };
    let mut findings = Vec::new();
    for input in &calculator.inputs {
        let name = &input.field.name;
        if input.from.is_some() && !example.given.iter().any(|one| one.name.value == *name) {
            let message = format!("the example leaves out `{name}`, which the job supplies");
            findings.push(
                Finding::error(
                    Code::Example,
                    &calculator.file,
                    example.span.clone(),
                    message,
                )
                .help(format!(
                    "add {name} to `given`, so that the example stands by itself"
                )),
            );
        }
    }
    if !findings.is_empty() {
        return findings;
    }
    let given: Vec<Given> = example
        .given
        .iter()
        .map(|one| Given {
            confirmed: true,
            ..Given::new(&one.name.value, &one.text.value)
        })
        .collect();
    let answer = calculator.run(&given, supply);
    for problem in &answer.problems {
        let place = example
            .given
            .iter()
            .find(|one| one.name.value == problem.input);
        let span = place.map_or(example.span.clone(), |one| one.text.span.clone());
        let mut refused = Finding::error(
            Code::Example,
            &calculator.file,
            span,
            problem.message.clone(),
        );
        refused.help.clone_from(&problem.help);
        findings.push(refused);
    }
    if !findings.is_empty() {
        return findings;
    }
    for Assigned { name, text } in &example.expect {
        match answer.output(&name.value) {
            None => {
                let near = nearest(
                    &name.value,
                    calculator.results().map(|output| output.name.as_str()),
                );
                let mut unknown = finding(
                    Code::Example,
                    name,
                    format!("`{}` is not an output", name.value),
                );
                unknown.help = near.map(|near| format!("did you mean {near}?"));
                findings.push(unknown);
            }
            Some(output) if !agrees(output, &text.value) => findings.push(
                finding(
                    Code::Example,
                    text,
                    format!(
                        "the worked example expects {} `{}`, and the formula gives `{}`",
                        name.value,
                        text.value,
                        output.text()
                    ),
                )
                .help("mend the formula or the example; its source says which is right"),
            ),
            Some(_) => {}
        }
    }
    findings.extend(verdict(calculator, example, &answer));
    findings
}

/// The text as printed, whatever spaces stand in it; a choice by its name.
fn agrees(output: &OutputReading, expected: &str) -> bool {
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let by_name = matches!(&output.reading, Some(Reading::Choice { name, .. }) if name == expected);
    by_name
        || plain(output.text()) == plain(expected)
        || plain(output.text()) == expected.replace('-', "−")
}

fn verdict(calculator: &Calculator, example: &Example, answer: &Answer) -> Option<Finding> {
    let expected = example.verdict.as_ref()?;
    let worst = answer.worst().map_or("none", |is| is.word());
    (worst != expected.value).then(|| {
        Finding::error(
            Code::Example,
            &calculator.file,
            expected.span.clone(),
            format!(
                "the worked example expects the verdict `{}`, and the checks give `{worst}`",
                expected.value
            ),
        )
        .help("mend the check or the example; its source says which is right")
    })
}
