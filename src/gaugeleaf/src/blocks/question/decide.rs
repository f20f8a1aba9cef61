//! Is it go? Which answer is right follows from what the engine makes of every variant of the card.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Answer, Calculator, Verdict};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::message::in_english;
use serde_json::{Map, Value};

use crate::blocks::question::card::{CardCase, card};
use crate::blocks::question::dial::dial;
use crate::blocks::question::names::known;
use crate::blocks::question::parts::Filled;
use crate::blocks::question::seed::Draw;
use crate::blocks::question::settings::QuestionSettings;
use crate::blocks::question::variants::{Drawn, Variant, drawn, said, variants, worked};
use crate::language::tell;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::Node;

/// A verdict that comes up more seldom is nobody's answer.
const LEAST_OF_EACH: usize = 3;
/// A card is longer than a number, and its page has to stay light.
const HELD: usize = 12;
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
    let lines: Vec<&Placed<String>> = wanted.missing.iter().collect();
    known(wanted, ask, &lines, word, context)
        .then(|calculator| dealt_cards(wanted, calculator, word, draw, context))
}

/// The card's variants, with the first as the page shows it.
fn dealt_cards(
    wanted: &QuestionSettings,
    calculator: &Calculator,
    word: &Range<usize>,
    draw: &mut Draw,
    context: &Context,
) -> Composed<Option<Filled>> {
    let drawn = drawn(calculator, &wanted.draw, word, context);
    drawn.then(|drawn| {
        let cases = variants(&drawn, draw, word, context).and_then(|variants| {
            let dealt: Result<Vec<_>, Finding> = variants
                .into_iter()
                .enumerate()
                .map(|(at, variant)| {
                    let left_out = left_out(at, &wanted.missing);
                    let case = dealt(
                        wanted, calculator, &drawn, &variant, left_out, word, context,
                    );
                    case.map(|case| (variant, case))
                })
                .collect();
            let mut dealt = balanced(dealt?);
            // one answer after the other in turn would be learnt by heart
            draw.shuffle(&mut dealt);
            let (variants, cases): (Vec<Variant>, Vec<CardCase>) = dealt.into_iter().unzip();
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

/// The line that this variant lacks, if it lacks one.
fn left_out(at: usize, missing: &[Placed<String>]) -> Option<&str> {
    if missing.is_empty() || at % ONE_LACKS != ONE_LACKS - 1 {
        return None;
    }
    Some(missing[at / ONE_LACKS % missing.len()].value.as_str())
}

/// One variant of the card, judged.
fn dealt(
    wanted: &QuestionSettings,
    calculator: &Calculator,
    drawn: &[Drawn],
    variant: &Variant,
    left_out: Option<&str>,
    word: &Range<usize>,
    context: &Context,
) -> Result<CardCase, Finding> {
    let is_left_out = |name: &String| left_out == Some(name.as_str());
    let given: Vec<&Binding> = wanted
        .given
        .iter()
        .filter(|one| !is_left_out(&one.name.value))
        .collect();
    let answer = worked(calculator, &given, drawn, variant, context)?;
    let mut shown = said(drawn, variant);
    for name in &wanted.missing {
        let one = wanted.given.iter().find(|one| one.name.value == name.value);
        let text = match one {
            Some(one) if !is_left_out(&name.value) => one.text.value.clone(),
            _ => tell::not_measured(),
        };
        shown.insert(name.value.clone(), text.into());
    }
    judged(calculator, &answer, shown, left_out, word, context)
}

/// As many as a page holds, of each answer in turn: none is rare enough to be forgotten.
fn balanced(mut dealt: Vec<(Variant, CardCase)>) -> Vec<(Variant, CardCase)> {
    let mut held = Vec::new();
    while held.len() < HELD && !dealt.is_empty() {
        for right in 0..verdicts().len() {
            let next = dealt.iter().position(|(_, case)| case.right == right);
            held.extend(next.map(|at| dealt.remove(at)));
        }
    }
    held.truncate(HELD);
    held
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
        shown,
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
