//! Words what a question came to as JSON.

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::ask::{Asked, Reading};
use gaugeleaf_calc::calculator::{InputReading, InputSource, PrintedValue as Shown};
use gaugeleaf_calc::message::{Language, Message};

use crate::answer::problems_json;
use crate::json::JsonValue;
use crate::object::ObjectValue::{Json, Text, Told, Truth};
use crate::object::object;
use crate::request::lists_json;

/// Outputs beyond these are seen in the widget.
const MOST_OUTPUTS: usize = 3;

pub(crate) fn asked_json(asked: &Asked, catalog: &Catalog) -> JsonValue {
    let (language, none) = (&catalog.language, Message::default());
    let (mut readings, mut which) = (Vec::new(), Vec::new());
    match asked.readings.as_slice() {
        [only] if !only.unsure => readings.push(reading_json(only, catalog)),
        several => which.extend(several.iter().map(way_json)),
    }
    let mut told = Vec::new();
    for one in &asked.told {
        told.push(object(&mut [
            ("text", Text(&one.text)),
            ("message", Told(language, Some(&one.message))),
            (
                "help",
                Told(language, Some(one.help.as_ref().unwrap_or(&none))),
            ),
        ]));
    }
    let conversion = match &asked.conversion {
        None => JsonValue::Null,
        Some(found) => object(&mut [
            ("from", Text(&found.from)),
            ("to", Text(&found.to)),
            ("rounded", Told(language, Some(&found.rounded()))),
        ]),
    };
    object(&mut [
        ("readings", Json(JsonValue::Array(readings))),
        ("which", Json(JsonValue::Array(which))),
        ("conversion", Json(conversion)),
        ("told", Json(JsonValue::Array(told))),
        ("spellings", Json(lists_json(&asked.spellings))),
        ("training", Truth(catalog.own.demonstration)),
    ])
}

/// One of several ways to understand a question: what it would be taken for, and no result.
fn way_json(reading: &Reading) -> JsonValue {
    let mut given = Vec::new();
    for one in &reading.given {
        let mut inputs = reading.answer.inputs.iter();
        let label = inputs.find(|input| input.name == one.name);
        given.push(object(&mut [
            ("name", Text(&one.name)),
            ("text", Text(&one.text)),
            ("label", Text(label.map_or(&one.name, |input| &input.label))),
        ]));
    }
    object(&mut [
        ("calculator", Text(&reading.answer.calculator)),
        ("title", Text(&reading.title)),
        ("given", Json(JsonValue::Array(given))),
    ])
}

fn reading_json(reading: &Reading, catalog: &Catalog) -> JsonValue {
    let (answer, language) = (&reading.answer, &catalog.language);
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
            ("from", Told(language, Some(&one.from))),
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
            ("text", Told(language, Some(&output.told()))),
            ("of", Told(language, Some(&output.of))),
            ("also", Text(also.unwrap_or(""))),
            ("rounded", Told(language, Some(&output.rounded))),
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
        ("left", Text(&reading.left.join(", "))),
        ("guessed", Truth(reading.guessed)),
        ("verdict", Json(verdict_json(reading, language))),
        ("hazard", Json(hazard)),
        ("problems", Json(problems_json(&answer.problems, language))),
        ("doubts", Json(problems_json(&answer.doubts, language))),
    ])
}

/// The worst of the job's own verdicts; null where there is none, or not yet.
fn verdict_json(reading: &Reading, language: &Language) -> JsonValue {
    let answer = &reading.answer;
    // a reading in doubt gets no verdict until somebody stands by it
    let said = answer.problems.is_empty() && answer.doubts.is_empty() && reading.is_plain();
    let own = || answer.checks.iter().filter(|verdict| !verdict.standing);
    let worst = answer.worst_of_job().filter(|_| said);
    let worst = worst.and_then(|worst| own().find(|verdict| verdict.is == worst));
    worst.map_or(JsonValue::Null, |verdict| {
        object(&mut [
            ("is", Text(verdict.is.word())),
            ("because", Told(language, Some(&verdict.because))),
        ])
    })
}

/// Where a value that nobody typed comes from, in a word or two.
fn source(input: &InputReading, catalog: &Catalog) -> Option<String> {
    let from = catalog.language.say(&input.from);
    Some(match &input.source {
        InputSource::Typed => return None,
        InputSource::Default | InputSource::Named(_) => from,
        InputSource::Output(from) => {
            let name = from.split('.').next().unwrap_or("");
            let calculator = catalog.calculators.get(name);
            let title = calculator.map_or(name, |found| found.title.as_str());
            format!("{title}: {from}")
        }
    })
}
