//! What the command line words as JSON, among values of the JSON crate: answers, limits and
//! setup sheets.

use gaugeleaf_calc::calculator::{Answer, Limit, Verdict};
use gaugeleaf_calc::catalog::{NamedReading, SetupSheet};
use gaugeleaf_calc::message::Language;
use serde_json::{Map, Value, json};

use crate::answer::{self, leaves_json, problem_json, reading_json};

/// The answer as machines read it, with the working if it is wanted.
pub fn answer_json(answer: &Answer, working: bool, language: &Language) -> Value {
    answer::answer_json(answer, working, language).into()
}

/// How far an input may go, check by check.
pub fn limits_json(limits: &[Limit], language: &Language) -> Value {
    answer::limits_json(limits, language).into()
}

/// The sheet as machines read it, without the working.
pub fn sheet_json(sheet: &SetupSheet, language: &Language) -> Value {
    let readings = |readings: &[NamedReading]| {
        let named = readings
            .iter()
            .map(|one| (one.name.clone(), named_json(one, language)));
        named.collect::<Value>()
    };
    let missing = sheet.missing().map(|one| &one.name);
    let unanswered = sheet.unanswered().map(|answer| &answer.calculator);
    let answers = sheet
        .answers
        .iter()
        .map(|answer| answer_json(answer, false, language));
    json!({
        "worst": sheet.worst().map(Verdict::word),
        "verdicts": {
            "go": sheet.count(Verdict::Go),
            "caution": sheet.count(Verdict::Caution),
            "open": sheet.count(Verdict::Open),
            "stop": sheet.count(Verdict::Stop),
        },
        "needs": Value::from(leaves_json(&mut sheet.needs().into_iter(), language)),
        "missing": missing.collect::<Vec<_>>(),
        "unanswered": unanswered.collect::<Vec<_>>(),
        "measurements": readings(&sheet.measurements),
        "ratings": readings(&sheet.ratings),
        "calculators": answers.collect::<Vec<_>>(),
    })
}

fn named_json(one: &NamedReading, language: &Language) -> Value {
    let mut json = Map::new();
    json.insert("label".into(), json!(one.label));
    match &one.reading {
        Ok(Some(reading)) => {
            let mut shown = Vec::new();
            reading_json(reading, &mut shown);
            json.extend(shown.into_iter().map(|(key, value)| (key, value.into())));
            json.insert("understood".into(), json!(one.understood));
        }
        Ok(None) => {}
        Err(problem) => {
            json.insert("problem".into(), problem_json(problem, language).into());
        }
    }
    json.insert("ground".into(), json!(one.ground.word()));
    json.insert("from".into(), json!(language.say(&one.from)));
    json.insert("used".into(), json!(one.used));
    if let Some(doubt) = &one.doubt {
        json.insert("doubt".into(), problem_json(doubt, language).into());
    }
    Value::Object(json)
}
