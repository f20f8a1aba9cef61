//! The names that a question uses: its calculator, and the inputs that it gives, draws and says.

use std::ops::Range;

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::finding::settings::Placed;
use gaugeleaf_calc::finding::{Code, Finding, nearest};

use crate::blocks::calculator_fence::calculator;
use crate::blocks::question::say::missing;
use crate::blocks::question::settings::QuestionSettings;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::working::{WorkingPart, unknown};

/// The calculator that a question asks.
pub fn calculator_of<'c>(
    wanted: &QuestionSettings,
    word: &Range<usize>,
    context: &Context<'c>,
) -> Result<&'c Calculator, Finding> {
    let Some(name) = &wanted.calculator else {
        let message = "this question names no calculator";
        return Err(missing("calculator", message, word, context));
    };
    calculator(name, context)
}

/// The calculator of a question with a card, where it knows every name, and the card has these lines.
pub fn known<'c>(
    wanted: &QuestionSettings,
    ask: &Placed<String>,
    lines: &[&Placed<String>],
    word: &Range<usize>,
    context: &Context<'c>,
) -> Composed<Option<&'c Calculator>> {
    Composed::from(calculator_of(wanted, word, context)).then(|calculator| {
        let mut findings = unknown_names(calculator, wanted, ask, WhereSaid::OnCard, context);
        findings.extend(unlisted(wanted, lines, context));
        Composed {
            value: findings.is_empty().then_some(calculator),
            findings,
            ..Composed::default()
        }
    })
}

/// Names of lines that the card doesn't have.
fn unlisted(
    wanted: &QuestionSettings,
    lines: &[&Placed<String>],
    context: &Context,
) -> Vec<Finding> {
    let given = || wanted.given.iter().map(|one| one.name.value.as_str());
    let strange = lines
        .iter()
        .filter(|name| !given().any(|one| one == name.value));
    let told = strange.map(|name| {
        let message = format!("`{}` is no line of the card", name.value);
        let help = nearest(&name.value, given()).map_or_else(
            || "write it under given too".to_string(),
            |near| format!("write {near}"),
        );
        let finding = context.error(Code::UnknownPlace, name.span.clone(), message);
        finding.help(help)
    });
    told.collect()
}

/// Where a reader finds what is drawn.
#[derive(Clone, Copy)]
pub enum WhereSaid<'q> {
    /// In the question's words, but for the one that a dial shows.
    Said(Option<&'q str>),
    OnCard,
}

/// What is wrong with the names that the question gives, draws or asks with.
pub fn unknown_names(
    calculator: &Calculator,
    wanted: &QuestionSettings,
    ask: &Placed<String>,
    shown: WhereSaid,
    context: &Context,
) -> Vec<Finding> {
    let inputs = calculator.input_names();
    let given = wanted.given.iter().map(|one| &one.name);
    let drawn = wanted.draw.iter().map(|(name, _)| name);
    let strange = |name: &&Placed<String>| !inputs.contains(&name.value.as_str());
    let mut findings: Vec<Finding> = given
        .clone()
        .chain(drawn.clone())
        .filter(strange)
        .map(|name| unknown(WorkingPart::Input, name, &inputs, calculator, context.file))
        .collect();
    let held: Vec<&str> = drawn
        .clone()
        .chain(given)
        .map(|name| name.value.as_str())
        .collect();
    let places: Vec<&str> = ask
        .value
        .split('{')
        .skip(1)
        .filter_map(|part| Some(part.split_once('}')?.0))
        .collect();
    if matches!(shown, WhereSaid::OnCard)
        && let Some(place) = places.first()
    {
        let message = format!("the card shows `{place}`, and the question doesn't say it");
        let finding = context.error(Code::UnknownPlace, ask.span.clone(), message);
        findings.push(finding.help(format!("leave {{{place}}} out of the question")));
        return findings;
    }
    for place in places.iter().filter(|place| !held.contains(place)) {
        let message = format!("`{{{place}}}` is neither drawn nor given");
        let finding = context.error(Code::UnknownPlace, ask.span.clone(), message);
        findings.push(match nearest(place, held.iter().copied()) {
            Some(near) => finding.help(format!("write {{{near}}}")),
            None => finding.help(format!(
                "draw it: draw = {{ {place} = [\"…\", \"…\", \"…\"] }}"
            )),
        });
    }
    let WhereSaid::Said(dial) = shown else {
        return findings;
    };
    let unsaid = |name: &&Placed<String>| {
        let name = name.value.as_str();
        !places.contains(&name) && dial != Some(name)
    };
    for name in drawn.filter(unsaid) {
        let message = format!("`{}` is drawn, and the question doesn't say it", name.value);
        let help = format!("write {{{}}} where the question says it", name.value);
        let finding = context.error(Code::UnknownPlace, name.span.clone(), message);
        findings.push(finding.help(help));
    }
    findings
}
