//! Requests and answers as the page exchanges them.

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::builtin;
use proptest::prelude::*;
use serde_json::{Value, json};

use super::*;

/// As the page opens it: from the packed catalog.
fn opened() -> Engine {
    let (catalog, findings) = Catalog::load(&builtin());
    assert_eq!(findings, []);
    let mut engine = Engine::default();
    assert_eq!(engine.take_catalog(&catalog.pack()), r#"{"ok":true}"#);
    let job = json!({ "do": "job", "given": { "channel_depth": "5 in" } });
    assert_eq!(engine.call(&job.to_string()), r#"{"ok":true}"#);
    engine
}

fn ask(engine: &mut Engine, request: &Value) -> Value {
    serde_json::from_str(&engine.call(&request.to_string())).unwrap()
}

#[test]
fn a_calculation_answers_with_outputs_verdicts_working_and_figure() {
    let mut engine = opened();
    let request = json!({
        "do": "calculate", "name": "guide-tube-length",
        "inputs": { "stock_length": { "text": "11 1/2", "unit": "in" }, "channel_depth": "14 in" },
        "want": ["figure", "working"],
    });
    let answer = ask(&mut engine, &request);
    assert_eq!(answer["outputs"]["length"]["text"], "25 1/2 in");
    assert_eq!(answer["outputs"]["length"]["value"], 25.5);
    assert_eq!(
        answer["inputs"]["stock_length"]["understood"],
        "11 1/2 in = 11.5 in = 292.1 mm"
    );
    assert_eq!(answer["verdicts"][0]["is"], "go");
    assert_eq!(answer["working"][0]["numbers"], "= 11 1/2 in + 14 in");
    assert!(answer["figure"].as_str().unwrap().starts_with("<svg"));
    assert_eq!(answer["problems"], json!([]));
}

#[test]
fn a_question_is_answered_with_what_was_understood_and_what_was_assumed() {
    let request = json!({ "do": "ask", "query": "guide tube 14 in chanel",
        "meanings": [["chanel", ["channel"]]], "candidates": ["guide-tube-length"] });
    let answer = ask(&mut opened(), &request);
    let reading = &answer["readings"][0];
    assert_eq!(reading["calculator"], "guide-tube-length");
    assert_eq!(
        reading["given"],
        json!([{ "name": "channel_depth", "text": "14 in" }])
    );
    assert_eq!(reading["understood"][0]["text"], "14 in = 355.6 mm");
    assert_eq!(reading["assumed"][0]["from"], "rating");
    assert_eq!(reading["outputs"][0]["text"], "26 3/4 in");
    assert_eq!(reading["verdict"]["is"], "go");
}

#[test]
fn a_size_is_searched_in_every_spelling() {
    let answer = ask(
        &mut opened(),
        &json!({ "do": "ask", "query": "wrench 14.2875 mm" }),
    );
    assert_eq!(
        answer["spellings"],
        json!([["14.2875 mm", ["14.2875", "9/16", "0.5625"]]])
    );
}

#[test]
fn the_jobs_values_stand_in_for_what_is_not_given() {
    let answer = ask(
        &mut opened(),
        &json!({ "do": "calculate", "name": "guide-tube-length" }),
    );
    assert_eq!(answer["inputs"]["channel_depth"]["text"], "5 in");
}

#[test]
fn a_refused_input_empties_the_result_and_keeps_the_rest() {
    let request = json!({ "do": "calculate", "name": "guide-tube-length", "want": ["figure", "working"],
        "inputs": { "stock_length": "14psi" } });
    let answer = ask(&mut opened(), &request);
    assert_eq!(answer["outputs"], json!({}));
    assert_eq!(answer["figure"], Value::Null);
    assert_eq!(
        answer["problems"][0]["message"],
        "`14psi` is a pressure, and a length is wanted"
    );
    assert_eq!(answer["inputs"]["channel_depth"]["text"], "5 in");
}

#[test]
fn a_unit_switch_there_and_back_gives_the_same_quantity() {
    let mut engine = opened();
    let mut switch = |text: &str, from: &str, to: &str| {
        let request = json!({ "do": "switch", "name": "guide-tube-length", "input": "channel_depth",
            "text": text, "from": from, "to": to });
        ask(&mut engine, &request)["text"]
            .as_str()
            .unwrap_or("refused")
            .to_string()
    };
    assert_eq!(switch("14", "in", "mm"), "355.6");
    assert_eq!(switch("355.6", "mm", "in"), "14");
    assert_eq!(switch("1 1/4", "in", "mm"), "31.75");
    assert_eq!(switch("14 psi", "in", "mm"), "refused");
}

#[test]
fn a_request_that_can_not_be_served_is_answered_with_the_reason() {
    let mut engine = opened();
    for (request, reason) in [
        ("{", "not JSON"),
        ("[]", "lacks the text `do`"),
        (r#"{"do":"dance"}"#, "no request `dance`"),
        (
            r#"{"do":"calculate","name":"pitch-spam"}"#,
            "did you mean pitch-span?",
        ),
        (r#"{"do":"search","query":"x"}"#, "no search index"),
        (
            r#"{"do":"limits","name":"pitch-span","input":"layout"}"#,
            "choice",
        ),
    ] {
        let answer = engine.call(request);
        assert!(
            !answer.contains("outputs") && answer.contains(reason),
            "{request}: {answer}"
        );
    }
}

#[test]
fn bytes_that_are_no_catalog_or_index_are_refused() {
    let mut engine = opened();
    assert!(engine.take_catalog(&[0, 1, 2]).contains("damaged"));
    assert!(engine.take_index(&[0, 1, 2]).contains("damaged"));
}

#[test]
fn limits_are_answered_in_words_and_numbers() {
    let request = json!({ "do": "limits", "name": "guide-tube-length", "input": "channel_depth",
        "inputs": { "stock_length": "10 in", "channel_depth": "9 in" } });
    let answer = ask(&mut opened(), &request);
    assert_eq!(answer["limits"][0]["words"], "go up to 38 in, then caution");
    assert_eq!(answer["limits"][0]["low"], Value::Null);
}

proptest! {
    #[test]
    fn any_request_is_answered_with_json(request in "\\PC{0,80}", input in "\\PC{0,20}") {
        let mut engine = opened();
        prop_assert!(serde_json::from_str::<Value>(&engine.call(&request)).is_ok());
        let asked = json!({ "do": "ask", "query": input });
        prop_assert!(serde_json::from_str::<Value>(&engine.call(&asked.to_string())).is_ok());
        let request = json!({ "do": "calculate", "name": "pitch-span", "inputs": { "tube_pitch": input } });
        prop_assert!(serde_json::from_str::<Value>(&engine.call(&request.to_string())).is_ok());
    }
}
