//! Questions whose answer is a number: its variants are drawn and worked here, so that no page asks
//! what the engine can't answer.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Answer, OutputKind, ProblemKind};
use gaugeleaf_calc::finding::{Code, Finding, nearest};
use gaugeleaf_calc::quantity::{Want, in_unit, read};
use gaugeleaf_calc::unit::{Kind, Unit};
use serde_json::{Map, Value};

use crate::blocks::question::parts::{Asks, Line, Number, Question, missing, with_places};
use crate::blocks::question::seed::Draw;
use crate::blocks::question::variants::{Drawn, Variant, drawn, variants, worked};
use crate::blocks::question::wanted::Wanted;
use crate::page::desk::Desk;
use crate::page::inline;
use crate::page::working::{Part, unknown, used};
use crate::settings::Placed;
use crate::values::ledger::Use;

/// Fills in a numeric question.
pub fn fill(
    question: &mut Question,
    wanted: &Wanted,
    ask: &Placed<String>,
    word: &Range<usize>,
    draw: &mut Draw,
    desk: &mut Desk,
) -> Option<()> {
    let asks = asks(wanted, word, desk)?;
    names(&asks, wanted, ask, desk)?;
    let drawn = drawn(asks.calculator, &wanted.draw, word, desk)?;
    let variants = variants(&drawn, draw, word, desk)?;
    let mut first = None;
    for variant in &variants {
        let answer = worked(&asks, &wanted.given, &drawn, variant, desk);
        let graded = answer.and_then(|answer| graded(&asks, answer, word, desk.file));
        match graded {
            Ok(answer) => first.get_or_insert(answer),
            Err(finding) => {
                desk.findings.push(finding);
                return None;
            }
        };
    }
    let answer = first?;
    let text_of = |name: &str| {
        let input = answer.inputs.iter().find(|input| input.name == name)?;
        Some(input.reading.text().to_string())
    };
    question.kind = "number";
    question.ask = with_places(&inline::line(ask, desk).html, text_of);
    let key = used(asks.calculator, &answer, asks.output, word.start)?;
    question.answer = vec![key.text.replace(' ', "\u{A0}")];
    question.number = Some(number(&asks, wanted, &drawn, &variants, &answer, desk));
    desk.uses.push(Use { asked: true, ..key });
    Some(())
}

/// The calculator, the output and the tolerance.
fn asks<'a, 'h: 'a>(
    wanted: &'a Wanted,
    word: &Range<usize>,
    desk: &mut Desk<'h>,
) -> Option<Asks<'a>> {
    let Some(name) = &wanted.calculator else {
        missing(
            "calculator",
            "this question names no calculator",
            word,
            desk,
        );
        return None;
    };
    let known = &desk.graph.catalog.calculators;
    let Some(calculator) = known.get(&name.value) else {
        let near = nearest(&name.value, known.keys().map(String::as_str));
        let message = format!("there is no calculator `{}`", name.value);
        desk.findings.push(
            Finding::error(
                Code::UnknownCalculator,
                desk.file,
                name.span.clone(),
                message,
            )
            .follows([name.value.clone()])
            .help(near.map_or_else(
                || "name one of the catalog's calculators".to_string(),
                |near| format!("write {near}"),
            )),
        );
        return None;
    };
    let Some(output) = &wanted.output else {
        missing(
            "output",
            "this question doesn't say which result it asks for",
            word,
            desk,
        );
        return None;
    };
    let Some(definition) = calculator.results().find(|one| one.name == output.value) else {
        let names: Vec<&str> = calculator.results().map(|one| one.name.as_str()).collect();
        desk.findings
            .push(unknown(Part::Output, output, &names, calculator, desk.file));
        return None;
    };
    let OutputKind::Number(face) = &definition.kind else {
        let message = format!("`{}` is no number", output.value);
        desk.findings.push(
            Finding::error(Code::NotANumber, desk.file, output.span.clone(), message)
                .help("ask it as one right answer among wrong ones"),
        );
        return None;
    };
    let Some(tolerance) = &wanted.tolerance else {
        missing(
            "tolerance",
            "this question doesn't say how near is near enough",
            word,
            desk,
        );
        return None;
    };
    Some(Asks {
        calculator,
        output: &output.value,
        face,
        tolerance,
    })
}

/// Every name that the question gives, draws or asks with, against the calculator's inputs.
fn names(asks: &Asks, wanted: &Wanted, ask: &Placed<String>, desk: &mut Desk) -> Option<()> {
    let inputs = asks.calculator.input_names();
    let before = desk.findings.len();
    let given = wanted.given.iter().map(|one| &one.name);
    let drawn = wanted.draw.iter().map(|(name, _)| name);
    for name in given.clone().chain(drawn.clone()) {
        if !inputs.contains(&name.value.as_str()) {
            desk.findings.push(unknown(
                Part::Input,
                name,
                &inputs,
                asks.calculator,
                desk.file,
            ));
        }
    }
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
    for place in &places {
        if held.contains(place) {
            continue;
        }
        let message = format!("`{{{place}}}` is neither drawn nor given");
        let finding = Finding::error(Code::UnknownPlace, desk.file, ask.span.clone(), message);
        desk.findings
            .push(match nearest(place, held.iter().copied()) {
                Some(near) => finding.help(format!("write {{{near}}}")),
                None => finding.help(format!(
                    "draw it: draw = {{ {place} = [\"…\", \"…\", \"…\"] }}"
                )),
            });
    }
    for name in drawn.filter(|name| !places.contains(&name.value.as_str())) {
        let message = format!("`{}` is drawn, and the question doesn't say it", name.value);
        desk.findings.push(
            Finding::error(Code::UnknownPlace, desk.file, name.span.clone(), message).help(
                format!("write {{{}}} where the question says it", name.value),
            ),
        );
    }
    (desk.findings.len() == before).then_some(())
}

/// The answer, once its own printed result has been graded as a trainee's would be.
fn graded(asks: &Asks, answer: Answer, word: &Range<usize>, file: &str) -> Result<Answer, Finding> {
    let key = answer.output(asks.output).map_or("none", |one| one.text());
    match asks
        .calculator
        .grade(&answer, asks.output, key, &asks.tolerance.value)
    {
        Ok(_) => Ok(answer),
        Err(problem) if problem.kind == ProblemKind::Tolerance => {
            let span = asks.tolerance.span.clone();
            let finding = Finding::error(problem.kind.code(), file, span, problem.message);
            let usual = "write tolerance = \"1/8 in\" or tolerance = \"2 %\"".to_string();
            Err(finding.help(problem.help.unwrap_or(usual)))
        }
        Err(problem) => Err(
            Finding::error(Code::BadVariant, file, word.clone(), problem.message)
                .help("draw from a range in which there is always such a result"),
        ),
    }
}

fn number(
    asks: &Asks,
    wanted: &Wanted,
    drawn: &[Drawn],
    variants: &[Variant],
    answer: &Answer,
    desk: &Desk,
) -> Number {
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
    Number {
        calculator: asks.calculator.name.clone(),
        output: asks.output.to_string(),
        unit: asks.face.main.unit.shown.clone(),
        tolerance: asks.tolerance.value.clone(),
        tolerance_said: said(asks).replace(' ', "\u{A0}"),
        variants: variants.to_string(),
        given: table(&mut given.map(|one| (&one.name.value, &one.text.value))).to_string(),
        job: table(&mut desk.scope.job().iter()).to_string(),
        working: answer.working.iter().map(Line::of).collect(),
    }
}

/// The tolerance as the engine prints it.
fn said(asks: &Asks) -> String {
    let text = asks.tolerance.value.trim();
    let main = &asks.face.main;
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
            in_unit(far, &typed.unit, Kind::Plain)
        },
    )
}
