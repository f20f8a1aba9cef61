//! Words a calculation's answer as JSON: the one place that does.

use gaugeleaf_calc::calculator::{Answer, InputReading, OutputReading, Problem, Reading};
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
        json!({ "check": verdict.check, "is": verdict.is.word(), "because": verdict.because })
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

fn problem_json(problem: &Problem) -> Value {
    json!({
        "input": problem.input,
        "message": problem.message,
        "help": problem.help,
        "doubtful": problem.doubtful,
    })
}
