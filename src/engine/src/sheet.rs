//! Words a setup sheet as JSON.

use gaugeleaf_calc::calculator::Verdict;
use gaugeleaf_calc::catalog::{NamedReading, SetupSheet};
use serde_json::{Map, Value, json};

use crate::answer::{answer_json, by_name, problem_json, reading_json};

/// The sheet as machines read it, without the working.
pub fn sheet_json(sheet: &SetupSheet) -> Value {
    let readings = |readings: &[NamedReading]| {
        by_name(readings.iter().map(|one| (&one.name, named_json(one))))
    };
    let missing = sheet.missing().map(|one| &one.name);
    let unanswered = sheet.unanswered().map(|answer| &answer.calculator);
    let answers = sheet
        .answers
        .iter()
        .map(|answer| answer_json(answer, false));
    json!({
        "worst": sheet.worst().map(Verdict::word),
        "verdicts": {
            "go": sheet.count(Verdict::Go),
            "caution": sheet.count(Verdict::Caution),
            "stop": sheet.count(Verdict::Stop),
        },
        "missing": missing.collect::<Vec<_>>(),
        "unanswered": unanswered.collect::<Vec<_>>(),
        "measurements": readings(&sheet.measurements),
        "ratings": readings(&sheet.ratings),
        "calculators": answers.collect::<Vec<_>>(),
    })
}

fn named_json(one: &NamedReading) -> Value {
    let mut json = Map::new();
    json.insert("label".into(), json!(one.label));
    match &one.reading {
        Ok(reading) => {
            reading_json(reading, &mut json);
            json.insert("understood".into(), json!(one.understood));
        }
        Err(problem) => {
            json.insert("problem".into(), problem_json(problem));
        }
    }
    json.insert("given".into(), json!(one.given));
    json.insert("used".into(), json!(one.used));
    json.insert("source".into(), json!(one.source));
    Value::Object(json)
}
