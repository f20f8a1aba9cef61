//! Questions whose answer is a number: its variants are drawn and worked here, so that no page asks
//! what the engine can't answer.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Answer, OutputKind, ProblemKind};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::message::in_english;
use gaugeleaf_calc::quantity::{Want, in_unit, read};
use gaugeleaf_calc::unit::{ScaleKind, Unit};
use serde_json::{Map, Value};

use crate::blocks::question::dial::dial;
use crate::blocks::question::names::{WhereSaid, calculator_of, unknown_names};
use crate::blocks::question::parts::{Filled, NumberView, WorkingView, with_places};
use crate::blocks::question::say::{missing, spaced};
use crate::blocks::question::seed::Draw;
use crate::blocks::question::settings::QuestionSettings;
use crate::blocks::question::variants::{Asks, Drawn, Variant, asked, drawn, variants, worked};
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::inline;
use crate::page::node::Node;
use crate::page::working::{WorkingPart, unknown, used};
use crate::values::ledger::Use;

/// Fills in a numeric question.
pub fn fill(
    wanted: &QuestionSettings,
    ask: &Placed<String>,
    word: &Range<usize>,
    draw: &mut Draw,
    context: &Context,
) -> Composed<Option<Filled>> {
    let asks = Composed::from(asks(wanted, word, context));
    asks.then(|asks| {
        let held = WhereSaid::Said(wanted.dial.as_ref().map(|dial| dial.shows.value.as_str()));
        let findings = unknown_names(asks.calculator, wanted, ask, held, context);
        if !findings.is_empty() {
            return Composed {
                findings,
                ..Composed::of(None)
            };
        }
        let drawn = drawn(asks.calculator, &wanted.draw, word, context);
        drawn.then(|drawn| {
            let worked = variants(&drawn, draw, word, context).and_then(|variants| {
                let first = first(&asks, wanted, &drawn, &variants, word, context)?;
                let dial = dial(
                    wanted.dial.as_ref(),
                    asks.calculator,
                    &drawn,
                    &variants,
                    context,
                )?;
                Ok((variants, first, dial))
            });
            Composed::from(worked).then(|(variants, answer, dial)| {
                let number = number(&asks, wanted, &drawn, &variants, &answer, context);
                let filled = filled(&asks, ask, answer, number, word.start, context);
                filled.map(|filled| filled.map(|filled| Filled { dial, ..filled }))
            })
        })
    })
}

/// The first variant's answer; every variant must have one that can be graded.
fn first(
    asks: &Asks,
    wanted: &QuestionSettings,
    drawn: &[Drawn],
    variants: &[Variant],
    word: &Range<usize>,
    context: &Context,
) -> Result<Answer, Finding> {
    let mut first = None;
    let given: Vec<&Binding> = wanted.given.iter().collect();
    for variant in variants {
        let answer = worked(asks.calculator, &given, drawn, variant, context)?;
        asked(asks, &answer, drawn, variant, context)?;
        let answer = graded(asks, answer, word, context)?;
        first.get_or_insert(answer);
    }
    let message = "this question has no variant";
    first.ok_or_else(|| context.error(Code::BadVariant, word.clone(), message))
}

fn filled(
    asks: &Asks,
    ask: &Placed<String>,
    answer: Answer,
    number: NumberView,
    start: usize,
    context: &Context,
) -> Composed<Option<Filled>> {
    let Some(key) = used(asks.calculator, &answer, asks.output, start, context) else {
        return Composed::default();
    };
    let text_of = |name: &str| {
        let input = answer.inputs.iter().find(|input| input.name == name)?;
        Some(input.reading.text().to_string())
    };
    let mut filled = inline::line(ask, context).map(|ask| {
        Some(Filled {
            kind: "number",
            ask: with_places(ask, &text_of),
            answer: vec![vec![Node::Text(spaced(&key.text))]],
            number: Some(number),
            ..Filled::default()
        })
    });
    filled.uses.push(Use { apart: true, ..key });
    filled
}

/// The calculator, the output and the tolerance.
fn asks<'a, 'c: 'a>(
    wanted: &'a QuestionSettings,
    word: &Range<usize>,
    context: &Context<'c>,
) -> Result<Asks<'a>, Finding> {
    let missing = |key, message| missing(key, message, word, context);
    let calculator = calculator_of(wanted, word, context)?;
    let Some(output) = &wanted.output else {
        let message = "this question doesn't say which result it asks for";
        return Err(missing("output", message));
    };
    let Some(definition) = calculator.results().find(|one| one.name == output.value) else {
        let names: Vec<&str> = calculator.results().map(|one| one.name.as_str()).collect();
        let part = WorkingPart::Output;
        return Err(unknown(part, output, &names, calculator, context.file));
    };
    let OutputKind::Number(format) = &definition.kind else {
        let message = format!("`{}` is no number", output.value);
        let finding = context.error(Code::NotANumber, output.span.clone(), message);
        return Err(finding.help("ask it as one right answer among wrong ones"));
    };
    let Some(tolerance) = &wanted.tolerance else {
        let message = "this question doesn't say how near is near enough";
        return Err(missing("tolerance", message));
    };
    Ok(Asks {
        calculator,
        output: &output.value,
        format,
        tolerance,
    })
}

/// The answer, once its own printed result has been graded as a trainee's would be.
fn graded(
    asks: &Asks,
    answer: Answer,
    word: &Range<usize>,
    context: &Context,
) -> Result<Answer, Finding> {
    let key = answer.output(asks.output).map(|output| output.told());
    let key = in_english(&key.unwrap_or_default());
    match asks
        .calculator
        .grade(&answer, asks.output, &key, &asks.tolerance.value)
    {
        Ok(_) => Ok(answer),
        Err(problem) if problem.kind == ProblemKind::Tolerance => {
            let span = asks.tolerance.span.clone();
            let finding = context.error(problem.kind.code(), span, in_english(&problem.message));
            let usual = "write tolerance = \"1/8 in\" or tolerance = \"2 %\"".to_string();
            Err(finding.help(problem.help.as_ref().map_or(usual, in_english)))
        }
        Err(problem) => Err(context
            .error(Code::BadVariant, word.clone(), in_english(&problem.message))
            .help("draw from a range in which there is always such a result")),
    }
}

fn number(
    asks: &Asks,
    wanted: &QuestionSettings,
    drawn: &[Drawn],
    variants: &[Variant],
    answer: &Answer,
    context: &Context,
) -> NumberView {
    let table = |pairs: &mut dyn Iterator<Item = (&String, &String)>| -> Value {
        let pairs = pairs.map(|(name, text)| (name.clone(), Value::from(text.as_str())));
        pairs.collect::<Map<_, _>>().into()
    };
    let names = || drawn.iter().map(|one| &one.name.value);
    let variants: Value = variants
        .iter()
        .map(|variant| table(&mut names().zip(variant)))
        .collect();
    let given = wanted.given.iter();
    NumberView {
        calculator: asks.calculator.name.clone(),
        output: asks.output.to_string(),
        unit: asks.format.main.unit.shown.clone(),
        tolerance: asks.tolerance.value.clone(),
        tolerance_said: spaced(&said(asks)),
        variants: variants.to_string(),
        given: table(&mut given.map(|one| (&one.name.value, &one.text.value))).to_string(),
        job: table(&mut context.given().iter()).to_string(),
        working: answer.working.iter().map(WorkingView::of).collect(),
    }
}

/// The tolerance as the engine prints it.
fn said(asks: &Asks) -> String {
    let text = asks.tolerance.value.trim();
    let main = &asks.format.main;
    let want = match Unit::parse("%") {
        Ok(percent) if text.ends_with('%') => Want::of(percent),
        _ => Want {
            unit: main.unit.clone(),
            kind: main.kind,
            count: main.unit.symbol == "count",
        },
    };
    read(text, &want).map_or_else(
        |_| text.to_string(),
        |typed| {
            let far = typed.unit.difference_to_si(typed.value);
            in_unit(far, &typed.unit, ScaleKind::Plain)
        },
    )
}
