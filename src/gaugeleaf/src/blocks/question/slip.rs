//! Which line of this card is wrong? Each slip is one that the engine refuses, doubts or stops.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Argument, Calculator, Verdict};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::message::in_english;
use serde_json::{Map, Value};

use crate::blocks::question::card::{CardCase, card};
use crate::blocks::question::names::known;
use crate::blocks::question::parts::Filled;
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
    let lines: Vec<&Placed<String>> = wanted.slips.iter().map(|slip| &slip.name).collect();
    known(wanted, ask, &lines, word, context).then(|calculator| {
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
    let shown = |slip: Option<&Binding>| -> Map<String, Value> {
        let of = |name: &Placed<String>| {
            let slip = slip.filter(|slip| slip.name.value == name.value);
            let own = || {
                given
                    .iter()
                    .find(|one| one.name.value == name.value)
                    .copied()
            };
            slip.or_else(own).map(|one| one.text.value.as_str())
        };
        let names = wanted.slips.iter().map(|slip| &slip.name);
        names
            .map(|name| (name.value.clone(), of(name).into()))
            .collect()
    };
    let lines = card(calculator, &wanted.given, &Map::new());
    let mut cases = vec![CardCase {
        shown: shown(None),
        right: lines.len(),
        because: String::new(),
    }];
    for slip in &wanted.slips {
        let because = shows(wanted, calculator, slip, context)?;
        let right = lines.iter().position(|line| line.name == slip.name.value);
        cases.extend(right.map(|right| CardCase {
            shown: shown(Some(slip)),
            right,
            because,
        }));
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
