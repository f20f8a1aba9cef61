//! Requests and answers as the page exchanges them.

use proptest::prelude::*;
use serde_json::{Value, json};

use super::*;
use crate::testing::demonstration;

/// As the page opens it: from the packed catalog.
fn opened() -> Engine {
    let mut engine = Engine::default();
    assert_eq!(
        engine.take_catalog(&demonstration().pack()),
        r#"{"ok":true}"#
    );
    let job = json!({ "do": "job", "whose": "page", "given": { "channel_depth": "5 in" } });
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
    assert_eq!(
        reading["assumed"][0]["from"],
        "Wrenfold yard drive, parts sheet line 14"
    );
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
fn a_typed_answer_is_graded_on_the_questions_own_job_with_the_working_to_show() {
    let mut engine = opened();
    let mut grade = |typed: &str| {
        let request = json!({ "do": "grade", "name": "guide-tube-length", "output": "length",
            "inputs": { "stock_length": "12 in" }, "given": { "channel_depth": "9 in" },
            "typed": typed, "tolerance": "1/8 in" });
        ask(&mut engine, &request)
    };
    let right = grade("21 1/16");
    assert_eq!(
        (&right["right"], &right["expected"]),
        (&json!(true), &json!("21 in"))
    );
    assert_eq!(right["working"][0]["numbers"], "= 12 in + 9 in");
    assert_eq!(grade("17 in")["right"], false);
    assert_eq!(grade("")["problem"]["message"], "nothing is written here");
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

#[test]
fn a_measurement_is_read_like_an_input_and_kept_with_its_unit() {
    let inputs = json!({
        "channel_depth": { "text": "9 1/2", "unit": "in" },
        "tube_length": { "text": "4.2", "unit": "m" },
        "stock_guide_tube": "1’ 2”",
        "layout": "45",
        "tube_od": { "text": "7.5", "unit": "in" },
        "bolt_circle": "2 psi",
        "no_such": "1",
    });
    let answer = ask(&mut opened(), &json!({ "do": "measure", "inputs": inputs }));
    let read = &answer["inputs"];
    assert_eq!(read["channel_depth"]["keep"], "9 1/2 in");
    assert_eq!(
        read["channel_depth"]["understood"],
        "9 1/2 in = 9.5 in = 241.3 mm"
    );
    assert_eq!(read["tube_length"]["keep"], "4.2 m");
    assert_eq!(read["stock_guide_tube"]["keep"], "1’ 2”");
    assert_eq!(read["layout"]["text"], "45° rotated square");
    let said: Vec<(&str, bool)> = answer["problems"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one["message"].as_str().unwrap(), one["doubtful"] == true))
        .collect();
    assert_eq!(
        said,
        [
            ("`7 1/2 in` is outside the usual 1/4 in to 3 in", true),
            ("`2 psi` is a pressure, and a length is wanted", false),
            ("there is no measurement or rating `no_such`", false),
        ]
    );
    let confirmed = json!({ "tube_od": { "text": "7.5", "unit": "in", "confirmed": true } });
    let answer = ask(
        &mut opened(),
        &json!({ "do": "measure", "inputs": confirmed }),
    );
    assert_eq!(answer["inputs"]["tube_od"]["keep"], "7.5 in");
}

#[test]
fn what_is_kept_of_a_measurement_is_the_same_quantity() {
    let mut engine = opened();
    let mut read = |entry: Value| {
        let request = json!({ "do": "measure", "inputs": { "channel_depth": entry } });
        ask(&mut engine, &request)["inputs"]["channel_depth"].clone()
    };
    for text in [
        "9 3/64 in",
        "0.333",
        "9 1/2",
        "1' 2 1/8\"",
        "9 ± 1/8",
        "9 in ± 1/8 in",
    ] {
        let typed = read(json!({ "text": text, "unit": "mm", "confirmed": true }));
        let again = read(json!(typed["keep"]));
        assert!(typed["si"].is_number(), "{text}");
        assert_eq!(typed["si"], again["si"], "{text}");
        assert_eq!(typed["understood"], again["understood"], "{text}");
    }
}

#[test]
fn a_measurement_asked_for_is_the_jobs_as_printed() {
    let asked = json!({ "do": "measure", "inputs": { "channel_depth": null, "tube_od": null } });
    let answer = ask(&mut opened(), &asked);
    assert_eq!(answer["inputs"]["channel_depth"]["text"], "5 in");
    assert_eq!(answer["inputs"]["channel_depth"]["also"], "127.0 mm");
    assert_eq!(answer["inputs"]["tube_od"]["text"], "3/4 in");
}

#[test]
fn a_measurement_switches_its_unit_like_an_input() {
    let request =
        json!({ "do": "switch", "name": "tube_length", "text": "14", "from": "ft", "to": "m" });
    assert_eq!(ask(&mut opened(), &request)["text"], "4.2672");
}

#[test]
fn a_tube_map_is_drawn_on_demand() {
    let request = json!({ "do": "calculate", "name": "index-plan", "want": ["map"] });
    let answer = ask(&mut opened(), &request);
    assert!(answer["map"].as_str().unwrap().contains("data-tube=\"1\""));
    assert_eq!(answer["figure"], Value::Null);
}

#[test]
fn a_qr_code_has_a_quiet_zone_and_gives_way_only_when_it_must() {
    let code = |length: usize| {
        let text = "x".repeat(length);
        ask(&mut Engine::default(), &json!({ "do": "qr", "text": text }))
    };
    let small = code(20);
    assert_eq!(small["level"], "quartile");
    // version 2, 25 modules, and 4 on every side
    assert!(
        small["svg"]
            .as_str()
            .unwrap()
            .contains("viewBox=\"0 0 33 33\"")
    );
    assert!(small["svg"].as_str().unwrap().contains("d=\"M4 4h7v1h-7z"));
    assert_eq!(code(900)["level"], "medium");
    assert_eq!(code(5000)["problem"], "the text is too long for a QR code");
}

#[test]
fn an_answer_to_a_question_is_bound_where_it_is_read_and_plain_where_it_is_passed_on() {
    let request = json!({ "do": "ask", "query": "guide tube 14 in channel", "meanings": [],
        "candidates": ["guide-tube-length"], "want": ["bound"] });
    let answer = ask(&mut opened(), &request);
    let reading = &answer["readings"][0];
    assert_eq!(reading["outputs"][0]["text"], "26\u{a0}3/4\u{a0}in");
    let because = reading["verdict"]["because"].as_str().unwrap();
    assert!(because.contains("26\u{a0}3/4\u{a0}in"), "{because}");
    assert_eq!(reading["given"][0]["text"], "14 in");
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

#[test]
fn a_page_gets_the_plot_and_texts_that_do_not_break_inside_a_number() {
    let mut engine = opened();
    let mut request = json!({
        "do": "calculate", "name": "hose-pressure-loss", "want": ["plot", "figure", "working"],
        "inputs": { "flow": "4 gal/min" },
    });
    let plain = ask(&mut engine, &request);
    request["want"] = json!(["plot", "figure", "working", "bound"]);
    let bound = ask(&mut engine, &request);
    assert!(bound["plot"].as_str().unwrap().starts_with("<svg"));
    assert_eq!(plain["plot"], bound["plot"]);
    assert_eq!(plain["working"][0]["mathml"], bound["working"][0]["mathml"]);
    assert_eq!(plain["inputs"]["flow"]["text"], "4 gal/min");
    assert_eq!(bound["inputs"]["flow"]["text"], "4\u{a0}gal/min");
    let limits = json!({
        "do": "limits", "name": "hose-pressure-loss", "input": "flow", "want": ["bound"],
    });
    let limits = ask(&mut engine, &limits);
    let words = limits["limits"][0]["words"].as_str().unwrap();
    assert!(words.contains("\u{a0}gal/min"), "{words}");
}

#[test]
fn a_job_in_hand_is_judged_by_what_was_taken_on_it_alone() {
    let mut engine = opened();
    let given = json!({
        "channel_depth": { "text": "14 in", "when": "2026-11-26", "refused": "140 in" },
        "tube_od": { "text": "3/4 in", "when": "date not known" },
    });
    let job = json!({ "do": "job", "whose": "hand", "kit": "", "given": given });
    ask(&mut engine, &job);
    let judged = ask(&mut engine, &json!({ "do": "judge" }));
    assert_eq!(judged["worst"], "open");
    // what was refused since isn't measured
    assert_eq!(judged["measured"]["taken"].as_f64(), Some(1.0));
    assert!(judged["measured"]["of"].as_f64() > Some(10.0));
    assert_eq!(judged["stuck"], json!([]));
    let inputs = json!({ "channel_depth": null, "tube_od": null, "tube_length": null });
    let read = ask(&mut engine, &json!({ "do": "measure", "inputs": inputs }));
    assert_eq!(
        read["inputs"]["channel_depth"]["from"],
        "140 in was not taken; keep 14 in?"
    );
    assert_eq!(
        read["inputs"]["tube_od"]["from"],
        "measured, date not known"
    );
    assert_eq!(read["problems"][0]["message"], "not measured");
    assert_eq!(read["problems"][0]["label"], "Tube length");
}
