//! Is it go? Which answer is right follows from what the engine makes of every variant of the card.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Answer, Calculator, Verdict};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding, nearest};
use gaugeleaf_calc::message::in_english;
use serde_json::{Map, Value};

use crate::blocks::question::card::{CardCase, card, named};
use crate::blocks::question::dial::dial;
use crate::blocks::question::number::{WhereSaid, unknown_names};
use crate::blocks::question::parts::Filled;
use crate::blocks::question::say::spaced;
use crate::blocks::question::seed::Draw;
use crate::blocks::question::settings::QuestionSettings;
use crate::blocks::question::variants::{drawn, said, variants, worked};
use crate::language::tell;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::Node;

/// A verdict that comes up more seldom is nobody's answer.
const LEAST_OF_EACH: usize = 3;
/// Of so many variants, one lacks a reading that may be missing.
const ONE_LACKS: usize = 5;

/// The verdicts to choose from, in the order in which they are shown.
fn verdicts() -> [(Verdict, String); 4] {
    [
        (Verdict::Go, tell::decide_go()),
        (Verdict::Caution, tell::decide_caution()),
        (Verdict::Stop, tell::decide_stop()),
        (Verdict::Open, tell::decide_open()),
    ]
}

/// Fills in: is it go?
pub fn decide(
    wanted: &QuestionSettings,
    ask: &Placed<String>,
    word: &Range<usize>,
    draw: &mut Draw,
    context: &Context,
) -> Composed<Option<Filled>> {
    let calculator = match named(wanted, word, context) {
        Ok(calculator) => calculator,
        Err(finding) => return Composed::fault(finding),
    };
    let mut findings = unknown_names(calculator, wanted, ask, WhereSaid::OnCard, context);
    let given = wanted.given.iter().map(|one| &one.name.value);
    let lacking: Vec<&Placed<String>> = wanted.missing.iter().collect();
    for name in &lacking {
        if !given.clone().any(|one| *one == name.value) {
            let near = nearest(&name.value, given.clone().map(String::as_str));
            let message = format!(
                "`{}` may be missing, and is no line of the card",
                name.value
            );
            let help = near.map_or("write it under given too".into(), |near| {
                format!("write {near}")
            });
            let finding = context.error(Code::UnknownPlace, name.span.clone(), message);
            findings.push(finding.help(help));
        }
    }
    if !findings.is_empty() {
        return Composed {
            findings,
            ..Composed::of(None)
        };
    }
    let drawn = drawn(calculator, &wanted.draw, word, context);
    drawn.then(|drawn| {
        let cases = variants(&drawn, draw, word, context).and_then(|variants| {
            let mut cases = Vec::new();
            for (at, variant) in variants.iter().enumerate() {
                let turn = at / ONE_LACKS;
                let left_out = (at % ONE_LACKS == ONE_LACKS - 1 && !lacking.is_empty())
                    .then(|| lacking[turn % lacking.len()].value.as_str());
                let given: Vec<&Binding> = wanted
                    .given
                    .iter()
                    .filter(|one| Some(one.name.value.as_str()) != left_out)
                    .collect();
                let answer = worked(calculator, &given, &drawn, variant, context)?;
                let mut shown = said(&drawn, variant);
                shown.extend(lacking.iter().filter_map(|name| {
                    let one = wanted
                        .given
                        .iter()
                        .find(|one| one.name.value == name.value)?;
                    let text = match left_out == Some(name.value.as_str()) {
                        true => tell::not_measured(),
                        false => spaced(&one.text.value),
                    };
                    Some((name.value.clone(), Value::from(text)))
                }));
                cases.push(judged(calculator, &answer, shown, left_out, word, context)?);
            }
            both_ways(&cases, wanted, word, context)?;
            let dial = dial(wanted.dial.as_ref(), calculator, &drawn, &variants, context)?;
            Ok((cases, dial))
        });
        Composed::from(cases).then(|(cases, dial)| {
            let hidden = wanted.dial.as_ref().map(|dial| dial.shows.value.as_str());
            let mut card = card(calculator, &wanted.given, &cases[0].shown);
            card.retain(|line| Some(line.name.as_str()) != hidden);
            let options = verdicts().map(|(_, text)| vec![Node::Text(text)]);
            let right = cases[0].right;
            Composed::of(Some(Filled {
                kind: "choice",
                answer: vec![options[right].clone()],
                options: options.into_iter().enumerate().collect(),
                card,
                cases,
                dial,
                ..Filled::default()
            }))
        })
    })
}

/// What is right of one variant, and why.
fn judged(
    calculator: &Calculator,
    answer: &Answer,
    shown: Map<String, Value>,
    left_out: Option<&str>,
    word: &Range<usize>,
    context: &Context,
) -> Result<CardCase, Finding> {
    let fault = |message: String, help: String| {
        let finding = context.error(Code::BadVariant, word.clone(), message);
        Err(finding.help(help))
    };
    let Some(verdict) = answer.worst_of_job() else {
        let message = format!("`{}` gives no verdict", answer.calculator);
        return fault(message, "ask of a calculator with checks".into());
    };
    if (verdict == Verdict::Open) != left_out.is_some() {
        let unset: Vec<String> = answer.unset.iter().map(|one| one.name.clone()).collect();
        return match left_out {
            Some(name) => fault(
                format!(
                    "without `{name}` the verdict is {}, not open",
                    verdict.word()
                ),
                "leave out of missing what the verdict doesn't hang on".into(),
            ),
            None => fault(
                "the verdict is open for lack of a reading".into(),
                format!("give or draw every measurement: {}", unset.join(", ")),
            ),
        };
    }
    let worst = answer.checks.iter().filter(|check| !check.standing);
    let because = worst.filter(|check| check.is == verdict);
    let because: Vec<String> = match left_out {
        // the engine tells besides what another job's value would come to, which is no answer here
        Some(name) => {
            let input = calculator.input(name);
            vec![tell::line_not_measured(
                input.map_or(name, |input| &input.field.label),
            )]
        }
        None => because.map(|check| in_english(&check.because)).collect(),
    };
    let right = verdicts().iter().position(|(one, _)| *one == verdict);
    Ok(CardCase {
        shown: shown.into(),
        right: right.unwrap_or_default(),
        because: because.join(" "),
    })
}

/// A question that always has the same answer asks nothing.
fn both_ways(
    cases: &[CardCase],
    wanted: &QuestionSettings,
    word: &Range<usize>,
    context: &Context,
) -> Result<(), Finding> {
    let kinds = verdicts().into_iter().enumerate();
    let counts: Vec<(Verdict, usize)> = kinds
        .map(|(at, (verdict, _))| (verdict, cases.iter().filter(|one| one.right == at).count()))
        .filter(|(verdict, count)| *count > 0 && *verdict != Verdict::Open)
        .collect();
    if counts
        .iter()
        .filter(|(_, count)| *count >= LEAST_OF_EACH)
        .count()
        > 1
    {
        return Ok(());
    }
    let said: Vec<String> = counts
        .iter()
        .map(|(verdict, count)| format!("{count} of {} say {}", cases.len(), verdict.word()))
        .collect();
    let span = wanted.draw.first().map_or(word, |(name, _)| &name.span);
    let message = format!("this question can be answered unread: {}", said.join(", "));
    let finding = context.error(Code::OneSided, span.clone(), message);
    Err(finding.help("draw from a range that crosses the criterion"))
}
