//! Which line of this card is wrong? Each slip is one that the engine refuses, doubts or stops.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Argument, Calculator, Verdict};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding, nearest};
use gaugeleaf_calc::message::in_english;
use serde_json::{Map, Value};

use crate::blocks::question::card::{CardCase, card, inputs, named};
use crate::blocks::question::number::{WhereSaid, unknown_names};
use crate::blocks::question::parts::Filled;
use crate::blocks::question::say::spaced;
use crate::blocks::question::seed::Draw;
use crate::blocks::question::settings::QuestionSettings;
use crate::blocks::question::variants::worked;
use crate::language::tell;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::Node;

/// A card with fewer lines is no card to check.
const LEAST_LINES: usize = 4;
/// With fewer, the wrong line is known after two tries.
const LEAST_SLIPS: usize = 3;

/// Fills in: which line of this card is wrong?
pub fn slip(
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
    let findings = unknown_names(calculator, wanted, ask, WhereSaid::OnCard, context);
    if !findings.is_empty() {
        return Composed {
            findings,
            ..Composed::of(None)
        };
    }
    Composed::from(slips(wanted, calculator, word, context)).then(|mut cases| {
        draw.shuffle(&mut cases);
        let card = card(calculator, &wanted.given, &cases[0].shown);
        let options: Vec<Vec<Node>> = card
            .iter()
            .map(|line| line.label.clone())
            .chain([tell::card_right()])
            .map(|text| vec![Node::Text(text)])
            .collect();
        Composed::of(Some(Filled {
            kind: "choice",
            answer: vec![options[cases[0].right].clone()],
            options: options.into_iter().enumerate().collect(),
            card,
            cases,
            ..Filled::default()
        }))
    })
}

/// A case for each slip, and one for the card as it should be.
fn slips(
    wanted: &QuestionSettings,
    calculator: &Calculator,
    word: &Range<usize>,
    context: &Context,
) -> Result<Vec<CardCase>, Finding> {
    let few = |span: Range<usize>, message: String, help: &str| {
        Err(context.error(Code::AnswerCount, span, message).help(help))
    };
    if wanted.given.len() < LEAST_LINES {
        let message = format!("a card to check has {LEAST_LINES} lines or more");
        return few(
            word.clone(),
            message,
            "give more of the calculator's inputs",
        );
    }
    if wanted.slips.len() < LEAST_SLIPS {
        let message = format!("a card to check has {LEAST_SLIPS} slips or more");
        return few(
            word.clone(),
            message,
            "write slips = { INPUT = \"…\" }, each a real one",
        );
    }
    let given: Vec<&Binding> = wanted.given.iter().collect();
    let right = worked(calculator, &given, &[], &Vec::new(), context)?;
    let verdict = right.worst_of_job();
    if !matches!(verdict, Some(Verdict::Go | Verdict::Caution)) {
        let message = "the card without a slip isn't go";
        let finding = context.error(Code::BadVariant, word.clone(), message);
        let unset: Vec<String> = right.unset.iter().map(|one| one.name.clone()).collect();
        return Err(finding.help(match unset.as_slice() {
            [] => "give lines that go together".into(),
            unset => format!("give every measurement: {}", unset.join(", ")),
        }));
    }
    let place = |name: &str| {
        let mut lines = inputs(calculator, &wanted.given);
        lines.position(|one| one == name)
    };
    let written = |slip: Option<&Binding>| {
        let of = |name: &String| {
            let slip = slip.filter(|slip| slip.name.value == *name);
            let one = slip.or_else(|| wanted.given.iter().find(|one| one.name.value == *name));
            one.map_or(Value::Null, |one| spaced(&one.text.value).into())
        };
        let names = wanted.slips.iter().map(|slip| &slip.name.value);
        names
            .map(|name| (name.clone(), of(name)))
            .collect::<Map<_, _>>()
    };
    let mut cases = vec![CardCase {
        shown: written(None).into(),
        right: wanted.given.len(),
        because: String::new(),
    }];
    for slip in &wanted.slips {
        let Some(right) = place(&slip.name.value) else {
            let message = format!("`{}` is no line of the card", slip.name.value);
            let near = nearest(
                &slip.name.value,
                given.iter().map(|one| one.name.value.as_str()),
            );
            let finding = context.error(Code::UnknownPlace, slip.name.span.clone(), message);
            return Err(
                finding.help(near.map_or("write it under given too".into(), |near| {
                    format!("write {near}")
                })),
            );
        };
        let because = shows(wanted, calculator, slip, context)?;
        cases.push(CardCase {
            shown: written(Some(slip)).into(),
            right,
            because,
        });
    }
    Ok(cases)
}

/// What the engine says of the card with this slip: one that passes can be seen by nobody.
fn shows(
    wanted: &QuestionSettings,
    calculator: &Calculator,
    slip: &Binding,
    context: &Context,
) -> Result<String, Finding> {
    let others = wanted
        .given
        .iter()
        .filter(|one| one.name.value != slip.name.value);
    let inputs: Vec<Argument> = others
        .chain([slip])
        .map(|one| Argument::new(&one.name.value, &one.text.value))
        .collect();
    let answer = context.calculate(&calculator.name, &inputs);
    let told = answer.as_ref().and_then(|answer| {
        let problem = answer.problems.iter().chain(&answer.doubts).next();
        if let Some(problem) = problem {
            return Some(in_english(&problem.message));
        }
        let mut checks = answer.checks.iter().filter(|check| !check.standing);
        let stop = checks.find(|check| check.is == Verdict::Stop)?;
        Some(in_english(&stop.because))
    });
    told.ok_or_else(|| {
        let message = "with this slip the card is still go, so nobody can see it";
        let finding = context.error(Code::HiddenSlip, slip.text.span.clone(), message);
        finding.help("write a slip that is refused, doubted or stopped")
    })
}
