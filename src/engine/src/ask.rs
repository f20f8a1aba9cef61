//! Words what a question came to as JSON.

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::ask::{Asked, Reading};
use gaugeleaf_calc::calculator::{Answer, InputReading, InputSource, PrintedValue as Shown};

use crate::answer::problem_json;
use crate::json::JsonValue;
use crate::object::ObjectValue::{Json, Text, Truth};
use crate::object::object;
use crate::request::lists_json;

/// Outputs beyond these are seen in the widget.
const MOST_OUTPUTS: usize = 3;

pub(crate) fn asked_json(asked: &Asked, catalog: &Catalog) -> JsonValue {
    let mut readings = Vec::new();
    for reading in &asked.readings {
        readings.push(reading_json(reading, catalog));
    }
    let mut told = Vec::new();
    for one in &asked.told {
        told.push(object(&mut [
            ("text", Text(&one.text)),
            ("message", Text(&one.message)),
            ("help", Text(one.help.as_deref().unwrap_or(""))),
        ]));
    }
    let conversion = match &asked.conversion {
        None => JsonValue::Null,
        Some(found) => object(&mut [
            ("from", Text(&found.from)),
            ("to", Text(&found.to)),
            (
                "rounded",
                Text(if found.exact {
                    "exact"
                } else {
                    "rounded to six figures"
                }),
            ),
        ]),
    };
    object(&mut [
        ("readings", Json(JsonValue::Array(readings))),
        ("conversion", Json(conversion)),
        ("told", Json(JsonValue::Array(told))),
        ("spellings", Json(lists_json(&asked.spellings))),
        ("training", Truth(catalog.own.demonstration)),
    ])
}

fn reading_json(reading: &Reading, catalog: &Catalog) -> JsonValue {
    let answer = &reading.answer;
    let (mut given, mut understood, mut assumed) = (Vec::new(), Vec::new(), Vec::new());
    let mut unset = Vec::new();
    for one in &reading.given {
        given.push(object(&mut [
            ("name", Text(&one.name)),
            ("text", Text(&one.text)),
        ]));
    }
    for input in &answer.inputs {
        match source(input, catalog) {
            None => understood.push(object(&mut [
                ("label", Text(&input.label)),
                ("text", Text(&input.understood)),
            ])),
            Some(from) => assumed.push(object(&mut [
                ("label", Text(&input.label)),
                ("text", Text(input.reading.text())),
                ("from", Text(&from)),
                ("ground", Text(input.footing.ground.word())),
            ])),
        }
    }
    for one in &answer.unset {
        unset.push(object(&mut [
            ("label", Text(&one.label)),
            ("from", Text(&one.from)),
        ]));
    }
    let mut outputs = Vec::new();
    for output in answer
        .outputs
        .iter()
        .filter(|output| output.reading.is_some() || output.is_open())
        .take(MOST_OUTPUTS)
    {
        let also = match &output.reading {
            Some(Shown::Number(printed)) => printed.also.as_deref(),
            _ => None,
        };
        outputs.push(object(&mut [
            ("label", Text(&output.label)),
            ("text", Text(output.text())),
            ("of", Text(&output.of)),
            ("also", Text(also.unwrap_or(""))),
            ("rounded", Text(&output.rounded)),
        ]));
    }
    let calculator = catalog.calculators.get(&answer.calculator);
    let hazard = calculator.and_then(|one| one.hazard.as_ref());
    let hazard = hazard.map_or(JsonValue::Null, |hazard| {
        object(&mut [("word", Text(&hazard.word)), ("text", Text(hazard.head()))])
    });
    object(&mut [
        ("calculator", Text(&answer.calculator)),
        ("title", Text(&reading.title)),
        ("given", Json(JsonValue::Array(given))),
        ("understood", Json(JsonValue::Array(understood))),
        ("assumed", Json(JsonValue::Array(assumed))),
        ("unset", Json(JsonValue::Array(unset))),
        ("outputs", Json(JsonValue::Array(outputs))),
        ("sure", Truth(reading.sure)),
        ("verdict", Json(verdict_json(answer))),
        ("hazard", Json(hazard)),
        (
            "problems",
            Json(answer.problems.iter().map(problem_json).collect()),
        ),
        (
            "doubts",
            Json(answer.doubts.iter().map(problem_json).collect()),
        ),
    ])
}

/// The worst of the job's own verdicts; null where there is none, or not yet.
fn verdict_json(answer: &Answer) -> JsonValue {
    // a reading in doubt gets no verdict until somebody stands by it
    let said = answer.problems.is_empty() && answer.doubts.is_empty();
    let own = || answer.checks.iter().filter(|verdict| !verdict.standing);
    let worst = answer.worst_of_job().filter(|_| said);
    let worst = worst.and_then(|worst| own().find(|verdict| verdict.is == worst));
    worst.map_or(JsonValue::Null, |verdict| {
        object(&mut [
            ("is", Text(verdict.is.word())),
            ("because", Text(&verdict.because)),
        ])
    })
}

/// Where a value that nobody typed comes from, in a word or two.
fn source(input: &InputReading, catalog: &Catalog) -> Option<String> {
    Some(match &input.source {
        InputSource::Typed => return None,
        InputSource::Default | InputSource::Named(_) => input.from.clone(),
        InputSource::Output(from) => {
            let name = from.split('.').next().unwrap_or("");
            let calculator = catalog.calculators.get(name);
            let title = calculator.map_or(name, |found| found.title.as_str());
            format!("{title}: {}", input.from)
        }
    })
}
