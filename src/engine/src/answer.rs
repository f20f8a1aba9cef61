//! Words a calculation's answer as JSON: the one place that does.

use gaugeleaf_calc::calculator::{
    Answer, Edge, InputReading, Limit, OutputReading, Problem, Reading,
};
use gaugeleaf_calc::field::Printed;
use serde_json::{Map, Value, json};

/// The answer as machines read it, with the working if it is wanted.
pub fn answer_json(answer: &Answer, working: bool) -> Value {
    let mut json = Map::new();
    json.insert("calculator".into(), json!(answer.calculator));
    json.insert(
        "inputs".into(),
        by_name(
            answer
                .inputs
                .iter()
                .map(|input| (&input.name, input_json(input))),
        ),
    );
    json.insert(
        "outputs".into(),
        by_name(
            answer
                .outputs
                .iter()
                .map(|output| (&output.name, output_json(output))),
        ),
    );
    let verdicts = answer.verdicts.iter().map(|verdict| {
        json!({
            "check": verdict.check,
            "is": verdict.is.word(),
            "because": verdict.because,
            "may_be": verdict.may_be.iter().map(|is| is.word()).collect::<Vec<_>>(),
        })
    });
    json.insert("verdicts".into(), verdicts.collect());
    if working {
        let lines = answer.working.iter().map(|line| {
            json!({
                "name": line.name,
                "label": line.label,
                "formula": line.formula,
                "numbers": line.numbers,
                "result": line.result,
                "mathml": line.mathml,
            })
        });
        json.insert("working".into(), lines.collect());
    }
    json.insert(
        "problems".into(),
        answer.problems.iter().map(problem_json).collect(),
    );
    json.insert(
        "doubts".into(),
        answer.doubts.iter().map(problem_json).collect(),
    );
    Value::Object(json)
}

fn by_name<'a>(entries: impl Iterator<Item = (&'a String, Value)>) -> Value {
    Value::Object(entries.map(|(name, value)| (name.clone(), value)).collect())
}

fn input_json(input: &InputReading) -> Value {
    let mut json = Map::new();
    json.insert("label".into(), json!(input.label));
    reading_json(&input.reading, &mut json);
    json.insert("understood".into(), json!(input.understood));
    if let Some(span) = input.span {
        json.insert("span".into(), json!({ "low": span.low, "high": span.high }));
    }
    Value::Object(json)
}

fn output_json(output: &OutputReading) -> Value {
    let mut json = Map::new();
    json.insert("label".into(), json!(output.label));
    match &output.reading {
        Some(reading) => reading_json(reading, &mut json),
        None => {
            for key in ["si", "unit", "value"] {
                json.insert(key.into(), Value::Null);
            }
            json.insert("text".into(), json!(output.text()));
            json.insert("also".into(), Value::Null);
        }
    }
    json.insert("rounded".into(), json!(output.rounded));
    if let Some(span) = &output.span {
        // A bound that isn't known is null: JSON has no infinity.
        json.insert(
            "span".into(),
            json!({ "low": span.low, "high": span.high, "text": span.text }),
        );
    }
    Value::Object(json)
}

fn reading_json(reading: &Reading, json: &mut Map<String, Value>) {
    match reading {
        Reading::Number(Printed {
            si,
            unit,
            value,
            text,
            also,
        }) => {
            json.insert("si".into(), json!(si));
            json.insert("unit".into(), json!(unit));
            json.insert("value".into(), json!(value));
            json.insert("text".into(), json!(text));
            json.insert("also".into(), json!(also));
        }
        Reading::Choice { name, label } => {
            json.insert("choice".into(), json!(name));
            json.insert("text".into(), json!(label));
        }
    }
}

/// How far an input may go, check by check.
pub fn limits_json(limits: &[Limit]) -> Value {
    let edge = |edge: &Option<Edge>| match edge {
        Some(edge) => {
            json!({ "si": edge.si, "text": edge.text, "then": edge.then.map(|is| is.word()) })
        }
        None => Value::Null,
    };
    let limits = limits.iter().map(|limit| {
        json!({
            "check": limit.check,
            "is": limit.is.word(),
            "words": limit.words(),
            "low": edge(&limit.low),
            "high": edge(&limit.high),
        })
    });
    limits.collect()
}

pub(crate) fn problem_json(problem: &Problem) -> Value {
    json!({
        "input": problem.input,
        "message": problem.message,
        "help": problem.help,
        "doubtful": problem.doubtful,
    })
}
