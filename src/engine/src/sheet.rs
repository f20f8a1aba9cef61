//! Words a setup sheet as JSON.

use gaugeleaf_calc::calculator::Verdict;
use gaugeleaf_calc::catalog::{NamedReading, SetupSheet};
use serde_json::{Map, Value, json};

use crate::answer::{answer_json, by_name, leaves_json, problem_json, reading_json};

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
            "open": sheet.count(Verdict::Open),
            "stop": sheet.count(Verdict::Stop),
        },
        "needs": leaves_json(sheet.needs()),
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
        Ok(Some(reading)) => {
            reading_json(reading, &mut json);
            json.insert("understood".into(), json!(one.understood));
        }
        Ok(None) => {}
        Err(problem) => {
            json.insert("problem".into(), problem_json(problem));
        }
    }
    json.insert("ground".into(), json!(one.ground.word()));
    json.insert("from".into(), json!(one.from));
    json.insert("used".into(), json!(one.used));
    if let Some(doubt) = &one.doubt {
        json.insert("doubt".into(), problem_json(doubt));
    }
    Value::Object(json)
}
