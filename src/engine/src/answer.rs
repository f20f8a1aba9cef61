//! Words a calculation's answer as JSON: the one place that does.

use gaugeleaf_calc::calculator::{
    Answer, CheckResult, Edge, InputReading, Leaf, Limit, OutputReading, PrintedValue, Problem,
    ProblemKind, UnsetInput, Verdict, WorkingLine,
};
use gaugeleaf_calc::message::Language;
use gaugeleaf_calc::quantity::bind;

use crate::json::{JsonEntries, JsonValue};
use crate::object::ObjectValue::{Json, Maybe, Number, Text, Told, Truth};
use crate::object::{object, put};

/// The answer as machines read it, with the working if it is wanted.
pub(crate) fn answer_json(answer: &Answer, working: bool, language: &Language) -> JsonValue {
    let mut json = JsonEntries::new();
    let inputs = answer.inputs.iter();
    let outputs = answer.outputs.iter();
    let verdicts = answer.checks.iter();
    let parts = &mut [
        ("calculator", Text(&answer.calculator)),
        (
            "inputs",
            Json(by_name(
                inputs.map(|input| (&input.name, input_json(input, language))),
            )),
        ),
        (
            "outputs",
            Json(by_name(outputs.map(|output| {
                (&output.name, output_json(output, answer, language))
            }))),
        ),
        (
            "verdicts",
            Json(
                verdicts
                    .map(|verdict| verdict_json(verdict, language))
                    .collect(),
            ),
        ),
    ];
    put(&mut json, parts);
    if working {
        put(&mut json, &mut [("working", Json(working_json(answer)))]);
    }
    let problems = problems_json(&answer.problems, language);
    let doubts = problems_json(&answer.doubts, language);
    let unset = answer.unset.iter().map(|unset| unset_json(unset, language));
    put(
        &mut json,
        &mut [
            ("problems", Json(problems)),
            ("doubts", Json(doubts)),
            ("unset", Json(unset.collect())),
        ],
    );
    JsonValue::Object(json)
}

fn verdict_json(verdict: &CheckResult, language: &Language) -> JsonValue {
    let may_be = verdict.may_be.iter().map(|is| JsonValue::from(is.word()));
    object(&mut [
        ("check", Text(&verdict.check)),
        ("is", Text(verdict.is.word())),
        ("would", Maybe(verdict.would.map(Verdict::word))),
        ("because", Told(language, Some(&verdict.because))),
        ("may_be", Json(may_be.collect())),
        (
            "needs",
            Json(leaves_json(&mut verdict.needs.iter(), language)),
        ),
        ("standing", Truth(verdict.standing)),
        ("of", Maybe(verdict.of.as_deref())),
    ])
}

fn unset_json(unset: &UnsetInput, language: &Language) -> JsonValue {
    object(&mut [
        ("input", Text(&unset.name)),
        ("label", Text(&unset.label)),
        ("from", Told(language, Some(&unset.from))),
        (
            "needs",
            Json(leaves_json(&mut unset.needs.iter(), language)),
        ),
    ])
}

pub(crate) fn leaves_json(
    leaves: &mut dyn Iterator<Item = &Leaf>,
    language: &Language,
) -> JsonValue {
    let leaf = |leaf: &Leaf| {
        object(&mut [
            ("name", Text(&leaf.name)),
            ("label", Text(&leaf.label)),
            ("what", Text(leaf.role.map_or("input", |role| role.word()))),
            ("ground", Text(leaf.ground.word())),
            ("from", Told(language, Some(&leaf.from))),
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

fn input_json(input: &InputReading, language: &Language) -> JsonValue {
    let mut json = JsonEntries::new();
    put(&mut json, &mut [("label", Text(&input.label))]);
    reading_json(&input.reading, &mut json);
    put(
        &mut json,
        &mut [
            ("understood", Text(&input.understood)),
            ("ground", Text(input.footing.ground.word())),
            ("from", Told(language, Some(&input.from))),
        ],
    );
    if let Some(span) = input.span {
        let span = object(&mut [("low", Number(span.low)), ("high", Number(span.high))]);
        put(&mut json, &mut [("span", Json(span))]);
    }
    JsonValue::Object(json)
}

fn output_json(output: &OutputReading, answer: &Answer, language: &Language) -> JsonValue {
    let mut json = JsonEntries::new();
    let ground = output.footing.ground.word();
    put(
        &mut json,
        &mut [("label", Text(&output.label)), ("ground", Text(ground))],
    );
    if output.is_open() {
        let why = answer.why_open(output);
        put(&mut json, &mut [("why", Told(language, Some(&why)))]);
    }
    match &output.reading {
        Some(reading) => reading_json(reading, &mut json),
        None => put(
            &mut json,
            &mut [
                ("si", Maybe(None)),
                ("unit", Maybe(None)),
                ("value", Maybe(None)),
                ("text", Told(language, Some(&output.told()))),
                ("also", Maybe(None)),
            ],
        ),
    }
    put(
        &mut json,
        &mut [
            ("of", Told(language, Some(&output.of))),
            ("rounded", Told(language, Some(&output.rounded))),
        ],
    );
    if let Some(span) = &output.span {
        let span = object(&mut [
            ("low", Number(span.low)),
            ("high", Number(span.high)),
            ("text", Told(language, Some(&span.text))),
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
pub(crate) fn limits_json(limits: &[Limit], language: &Language) -> JsonValue {
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
            ("line", Told(language, Some(&limit.line(named)))),
            ("is", Text(limit.is.word())),
            ("words", Told(language, Some(&limit.words()))),
            ("low", Json(edge(&limit.low))),
            ("high", Json(edge(&limit.high))),
        ])
    });
    limits.collect()
}

pub(crate) fn problems_json(problems: &[Problem], language: &Language) -> JsonValue {
    let problems = problems.iter();
    problems.map(|one| problem_json(one, language)).collect()
}

pub(crate) fn problem_json(problem: &Problem, language: &Language) -> JsonValue {
    object(&mut [
        ("input", Text(&problem.input)),
        ("message", Told(language, Some(&problem.message))),
        ("help", Told(language, problem.help.as_ref())),
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
