//! Words what a question came to as JSON.

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::ask::{Asked, Reading};
use gaugeleaf_calc::calculator::{InputReading, InputSource, Reading as Shown};
use serde_json::Value;

use crate::answer::problem_json;
use crate::request::{lists_json, object};

/// Outputs beyond these are seen in the widget.
const MOST_OUTPUTS: usize = 3;

pub(crate) fn asked_json(asked: &Asked, catalog: &Catalog) -> Value {
    let mut readings = Vec::new();
    for reading in &asked.readings {
        readings.push(reading_json(reading, catalog));
    }
    let mut told = Vec::new();
    for one in &asked.told {
        told.push(texts(&[
            ("text", &one.text),
            ("message", &one.message),
            ("help", one.help.as_deref().unwrap_or("")),
        ]));
    }
    let conversion = match &asked.conversion {
        None => Value::Null,
        Some(found) => texts(&[
            ("from", &found.from),
            ("to", &found.to),
            (
                "rounded",
                if found.exact {
                    "exact"
                } else {
                    "rounded to six figures"
                },
            ),
        ]),
    };
    object(vec![
        ("readings", Value::Array(readings)),
        ("conversion", conversion),
        ("told", Value::Array(told)),
        ("spellings", lists_json(&asked.spellings)),
    ])
}

fn texts(parts: &[(&'static str, &str)]) -> Value {
    let part = |&(key, text): &(&'static str, &str)| (key, Value::from(text));
    object(parts.iter().map(part).collect())
}

fn reading_json(reading: &Reading, catalog: &Catalog) -> Value {
    let answer = &reading.answer;
    let (mut given, mut understood, mut assumed) = (Vec::new(), Vec::new(), Vec::new());
    for one in &reading.given {
        given.push(texts(&[("name", &one.name), ("text", &one.text)]));
    }
    for input in &answer.inputs {
        match source(input, catalog) {
            None => understood.push(texts(&[
                ("label", &input.label),
                ("text", &input.understood),
            ])),
            Some(from) => assumed.push(texts(&[
                ("label", &input.label),
                ("text", input.reading.text()),
                ("from", from),
            ])),
        }
    }
    let mut outputs = Vec::new();
    for output in answer
        .outputs
        .iter()
        .filter(|output| output.reading.is_some())
        .take(MOST_OUTPUTS)
    {
        let also = match &output.reading {
            Some(Shown::Number(printed)) => printed.also.as_deref(),
            _ => None,
        };
        outputs.push(texts(&[
            ("label", &output.label),
            ("text", output.text()),
            ("also", also.unwrap_or("")),
            ("rounded", &output.rounded),
        ]));
    }
    let worst = answer
        .worst()
        .and_then(|worst| answer.verdicts.iter().find(|verdict| verdict.is == worst));
    let verdict = worst.map_or(Value::Null, |verdict| {
        texts(&[("is", verdict.is.word()), ("because", &verdict.because)])
    });
    object(vec![
        ("calculator", Value::from(answer.calculator.as_str())),
        ("title", Value::from(reading.title.as_str())),
        ("given", Value::Array(given)),
        ("understood", Value::Array(understood)),
        ("assumed", Value::Array(assumed)),
        ("outputs", Value::Array(outputs)),
        ("sure", Value::from(reading.sure)),
        ("verdict", verdict),
        (
            "problems",
            answer.problems.iter().map(problem_json).collect(),
        ),
        ("doubts", answer.doubts.iter().map(problem_json).collect()),
    ])
}

/// Where a value that nobody typed comes from, in a word or two.
fn source<'a>(input: &'a InputReading, catalog: &'a Catalog) -> Option<&'a str> {
    Some(match &input.source {
        InputSource::Typed => return None,
        InputSource::Default => "default",
        InputSource::Named(name) => catalog
            .named
            .get(name)
            .map_or("", |named| named.role.word()),
        InputSource::Output(from) => {
            let name = from.split('.').next().unwrap_or("");
            catalog
                .calculators
                .get(name)
                .map_or(name, |found| found.title.as_str())
        }
    })
}
