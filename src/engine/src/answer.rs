//! Words a calculation's answer as JSON: the one place that does.

use gaugeleaf_calc::calculator::{
    Answer, CheckResult, Edge, InputReading, Leaf, Limit, OutputReading, PrintedValue, Problem,
    ProblemKind, UnsetInput, Verdict, WorkingLine,
};
use gaugeleaf_calc::quantity::bind;

use crate::json::{JsonEntries, JsonValue};
use crate::object::ObjectValue::{Json, Maybe, Number, Text, Truth};
use crate::object::{object, put};

/// The answer as machines read it, with the working if it is wanted.
pub(crate) fn answer_json(answer: &Answer, working: bool) -> JsonValue {
    let mut json = JsonEntries::new();
    let inputs = answer.inputs.iter();
    let outputs = answer.outputs.iter();
    let parts = &mut [
        ("calculator", Text(&answer.calculator)),
        (
            "inputs",
            Json(by_name(
                inputs.map(|input| (&input.name, input_json(input))),
            )),
        ),
        (
            "outputs",
            Json(by_name(
                outputs.map(|output| (&output.name, output_json(output, answer))),
            )),
        ),
        (
            "verdicts",
            Json(answer.checks.iter().map(verdict_json).collect()),
        ),
    ];
    put(&mut json, parts);
    if working {
        put(&mut json, &mut [("working", Json(working_json(answer)))]);
    }
    let problems = answer.problems.iter().map(problem_json).collect();
    let doubts = answer.doubts.iter().map(problem_json).collect();
    let unset = answer.unset.iter().map(unset_json).collect();
    put(
        &mut json,
        &mut [
            ("problems", Json(problems)),
            ("doubts", Json(doubts)),
            ("unset", Json(unset)),
        ],
    );
    JsonValue::Object(json)
}

fn verdict_json(verdict: &CheckResult) -> JsonValue {
    let may_be = verdict.may_be.iter().map(|is| JsonValue::from(is.word()));
    object(&mut [
        ("check", Text(&verdict.check)),
        ("is", Text(verdict.is.word())),
        ("would", Maybe(verdict.would.map(Verdict::word))),
        ("because", Text(&verdict.because)),
        ("may_be", Json(may_be.collect())),
        ("needs", Json(leaves_json(&mut verdict.needs.iter()))),
        ("standing", Truth(verdict.standing)),
        ("of", Maybe(verdict.of.as_deref())),
    ])
}

fn unset_json(unset: &UnsetInput) -> JsonValue {
    object(&mut [
        ("input", Text(&unset.name)),
        ("label", Text(&unset.label)),
        ("from", Text(&unset.from)),
        ("needs", Json(leaves_json(&mut unset.needs.iter()))),
    ])
}

pub(crate) fn leaves_json(leaves: &mut dyn Iterator<Item = &Leaf>) -> JsonValue {
    let leaf = |leaf: &Leaf| {
        object(&mut [
            ("name", Text(&leaf.name)),
            ("label", Text(&leaf.label)),
            ("what", Text(leaf.role.map_or("input", |role| role.word()))),
            ("ground", Text(leaf.ground.word())),
            ("from", Text(&leaf.from)),
        ])
    };
    leaves.map(leaf).collect()
}

pub(crate) fn working_json(answer: &Answer) -> JsonValue {
    answer.working.iter().map(line_json).collect()
}

fn line_json(line: &WorkingLine) -> JsonValue {
    object(&mut [
        ("name", Text(&line.name)),
        ("label", Text(&line.label)),
        ("formula", Text(&line.formula)),
        ("numbers", Text(&line.numbers)),
        ("result", Text(&line.result)),
        ("mathml", Text(&line.mathml)),
    ])
}

pub(crate) fn by_name<'a>(entries: impl Iterator<Item = (&'a String, JsonValue)>) -> JsonValue {
    JsonValue::Object(entries.map(|(name, value)| (name.clone(), value)).collect())
}

fn input_json(input: &InputReading) -> JsonValue {
    let mut json = JsonEntries::new();
    put(&mut json, &mut [("label", Text(&input.label))]);
    reading_json(&input.reading, &mut json);
    put(
        &mut json,
        &mut [
            ("understood", Text(&input.understood)),
            ("ground", Text(input.footing.ground.word())),
            ("from", Text(&input.from)),
        ],
    );
    if let Some(span) = input.span {
        let span = object(&mut [("low", Number(span.low)), ("high", Number(span.high))]);
        put(&mut json, &mut [("span", Json(span))]);
    }
    JsonValue::Object(json)
}

fn output_json(output: &OutputReading, answer: &Answer) -> JsonValue {
    let mut json = JsonEntries::new();
    let ground = output.footing.ground.word();
    put(
        &mut json,
        &mut [("label", Text(&output.label)), ("ground", Text(ground))],
    );
    if output.is_open() {
        put(&mut json, &mut [("why", Text(&answer.why_open(output)))]);
    }
    match &output.reading {
        Some(reading) => reading_json(reading, &mut json),
        None => put(
            &mut json,
            &mut [
                ("si", Maybe(None)),
                ("unit", Maybe(None)),
                ("value", Maybe(None)),
                ("text", Text(output.text())),
                ("also", Maybe(None)),
            ],
        ),
    }
    put(
        &mut json,
        &mut [("of", Text(&output.of)), ("rounded", Text(&output.rounded))],
    );
    if let Some(span) = &output.span {
        let span = object(&mut [
            ("low", Number(span.low)),
            ("high", Number(span.high)),
            ("text", Text(&span.text)),
        ]);
        put(&mut json, &mut [("span", Json(span))]);
    }
    JsonValue::Object(json)
}

pub(crate) fn reading_json(reading: &PrintedValue, json: &mut JsonEntries) {
    match reading {
        PrintedValue::Number(printed) => put(
            json,
            &mut [
                ("si", Number(printed.si)),
                ("unit", Text(&printed.unit)),
                ("value", Number(printed.value)),
                ("text", Text(&printed.text)),
                ("also", Maybe(printed.also.as_deref())),
            ],
        ),
        PrintedValue::Choice { name, label } => {
            put(json, &mut [("choice", Text(name)), ("text", Text(label))]);
        }
    }
}

/// How far an input may go, check by check.
pub(crate) fn limits_json(limits: &[Limit]) -> JsonValue {
    let edge = |edge: &Option<Edge>| {
        edge.as_ref().map_or(JsonValue::Null, |edge| {
            object(&mut [
                ("si", Number(edge.si)),
                ("text", Text(&edge.text)),
                ("then", Maybe(edge.then.map(Verdict::word))),
                ("at_least", Truth(edge.at_least)),
            ])
        })
    };
    let named = limits.len() > 1;
    let limits = limits.iter().map(|limit| {
        object(&mut [
            ("check", Text(&limit.check)),
            ("line", Text(&limit.line(named))),
            ("is", Text(limit.is.word())),
            ("words", Text(&limit.words())),
            ("low", Json(edge(&limit.low))),
            ("high", Json(edge(&limit.high))),
        ])
    });
    limits.collect()
}

pub(crate) fn problem_json(problem: &Problem) -> JsonValue {
    object(&mut [
        ("input", Text(&problem.input)),
        ("message", Text(&problem.message)),
        ("help", Maybe(problem.help.as_deref())),
        ("doubtful", Truth(problem.kind == ProblemKind::Doubtful)),
    ])
}

/// Parts that nobody reads as a text: a no-break space would spoil them.
const DRAWN: [&str; 5] = ["figure", "plot", "mathml", "given", "spellings"];

/// Binds numbers to their units in every text, for a page's lines.
pub(crate) fn bound(json: &mut JsonValue) {
    match json {
        JsonValue::String(text) => *text = bind(text),
        JsonValue::Array(items) => items.iter_mut().for_each(bound),
        JsonValue::Object(entries) => {
            for (name, value) in entries {
                if !DRAWN.contains(&name.as_str()) {
                    bound(value);
                }
            }
        }
        _ => {}
    }
}
