//! Worked examples: run at every load, compared with what they expect.

use super::answer::{Answer, OutputReading, PrintedValue, Problem, ProblemKind};
use super::argument::Argument;
use super::definition::{Calculator, CrossCheck, Example};
use super::resolver::Resolver;
use crate::message::in_english;
use crate::span::Span;
use gaugeleaf_finding::settings::Binding;
use gaugeleaf_finding::{Code, Finding, Placed, nearest};

/// Runs every example of a calculator; each disagreement is a finding that
/// shows both values.
pub(crate) fn check_examples(calculator: &Calculator, resolver: &dyn Resolver) -> Vec<Finding> {
    calculator
        .examples
        .iter()
        .flat_map(|example| check(calculator, example, resolver))
        .collect()
}

fn check(calculator: &Calculator, example: &Example, resolver: &dyn Resolver) -> Vec<Finding> {
    let incomplete = left_out(calculator, example);
    if !incomplete.is_empty() {
        return incomplete;
    }
    let given: Vec<Argument> = example
        .given
        .iter()
        .map(|one| Argument {
            confirmed: true,
            ..Argument::new(&one.name.value, &one.text.value)
        })
        .collect();
    let answer = calculator.run(&given, resolver);
    if !answer.problems.is_empty() {
        let refused = answer.problems.iter();
        return refused
            .map(|problem| refusal(problem, calculator, example))
            .collect();
    }
    let expected = example.expect.iter();
    let mut findings: Vec<Finding> = expected
        .filter_map(|one| differs(one, calculator, &answer))
        .collect();
    findings.extend(verdict(calculator, example, &answer));
    findings.extend(allowances(calculator, &answer, resolver));
    findings
}

/// What a cross-check allows has to have a value wherever the calculator has one.
fn allowances(calculator: &Calculator, answer: &Answer, resolver: &dyn Resolver) -> Vec<Finding> {
    let crosses = calculator.cross_checks.iter();
    let fault = |cross: &CrossCheck| {
        let point = Span::point(0.0);
        let fault = cross.apart(None, point, &answer.values, resolver).err()?;
        let message = format!(
            "nothing can be compared on a worked example: {}",
            in_english(&fault)
        );
        let span = cross.within_at.span.clone();
        let finding = Finding::error(Code::Example, &calculator.file, span, message);
        Some(finding.help("write how far apart two readings of one thing may lie, 0 or more"))
    };
    crosses.filter_map(fault).collect()
}

/// What the job would have to supply: an example stands by itself.
fn left_out(calculator: &Calculator, example: &Example) -> Vec<Finding> {
    let given = |name: &String| example.given.iter().any(|one| one.name.value == *name);
    let inputs = calculator.inputs.iter();
    let resolved = inputs.filter(|input| input.from.is_some() && !given(&input.field.name));
    resolved
        .map(|input| {
            let name = &input.field.name;
            let message = format!("the example leaves out `{name}`, which the job supplies");
            let span = example.span.clone();
            Finding::error(Code::Example, &calculator.file, span, message).help(format!(
                "add {name} to `given`, so that the example stands by itself"
            ))
        })
        .collect()
}

/// A value of the example that its calculator doesn't take.
fn refusal(problem: &Problem, calculator: &Calculator, example: &Example) -> Finding {
    let mut given = example.given.iter();
    let place = given.find(|one| one.name.value == problem.input);
    let span = match place {
        Some(one) if problem.kind == ProblemKind::Unknown => one.name.span.clone(),
        Some(one) => one.text.span.clone(),
        None => example.span.clone(),
    };
    let message = in_english(&problem.message);
    Finding {
        help: problem.help.as_ref().map(in_english),
        ..Finding::error(Code::Example, &calculator.file, span, message)
    }
}

/// A result that isn't what the example expects.
fn differs(expected: &Binding, calculator: &Calculator, answer: &Answer) -> Option<Finding> {
    let Binding { name, text } = expected;
    let finding = |at: &Placed<String>, message: String| {
        Finding::error(Code::Example, &calculator.file, at.span.clone(), message)
    };
    let Some(output) = answer.output(&name.value) else {
        let outputs = calculator.results().map(|output| output.name.as_str());
        let near = nearest(&name.value, outputs);
        return Some(Finding {
            help: near.map(|near| format!("did you mean {near}?")),
            ..finding(name, format!("`{}` is not an output", name.value))
        });
    };
    if agrees(output, &text.value) {
        return None;
    }
    let message = format!(
        "the worked example expects {} `{}`, and the formula gives `{}`",
        name.value,
        text.value,
        in_english(&output.told())
    );
    let help = "mend the formula or the example; its source says which is right";
    Some(finding(text, message).help(help))
}

/// The text as printed, whatever spaces stand in it; a choice by its name.
fn agrees(output: &OutputReading, expected: &str) -> bool {
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let by_name =
        matches!(&output.reading, Some(PrintedValue::Choice { name, .. }) if name == expected);
    let told = plain(&in_english(&output.told()));
    by_name || told == plain(expected) || told == expected.replace('-', "−")
}

fn verdict(calculator: &Calculator, example: &Example, answer: &Answer) -> Option<Finding> {
    let expected = example.verdict.as_ref()?;
    let worst = answer.would().map_or("none", |is| is.word());
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

#[cfg(test)]
mod tests {
    use crate::{Catalog, builtin};

    #[test]
    fn an_input_that_there_is_none_of_is_found_where_it_is_named() {
        let mut files = builtin();
        let calculators = files.iter_mut();
        let mut named = calculators.filter(|file| file.path.ends_with("/air-line-drop.toml"));
        let file = named.next().expect("a calculator with an input of its own");
        file.text = file
            .text
            .replacen("given = { ", "given = { rufness = \"1 mm\", ", 1);
        let path = file.path.clone();
        let text = file.text.clone();
        let (_, findings) = Catalog::load(&files);
        let mut found = findings.iter().filter(|finding| finding.file == path);
        let finding = found.next().expect("a finding");
        assert_eq!(
            text.get(finding.span.clone()),
            Some("rufness"),
            "{finding:?}"
        );
    }
}
