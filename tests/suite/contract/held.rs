//! Real answers and requests, held to their types.

use std::collections::BTreeMap;

use gaugeleaf_engine::Engine;
use gaugeleaf_lookup::{Document, DocumentKind, SearchWords, build};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use super::answers::{
    AnswerJson, GradedJson, JudgedJson, LimitsJson, MeasuredJson, SheetDrawnJson, SwitchedJson,
    TakenJson,
};
use super::asked::AskedJson;
use super::found::{CodeJson, FoundJson};
use super::requests::{
    EntryJson, EntryOrTextJson, PartJson, RequestJson, TakenEntryJson, TakenOrTextJson, WhoseJson,
};
use crate::demonstration;
use gaugeleaf_fuzz::requests::{Dice, ask, asked, calculate, seed, switch};

/// As a page opens it, with a document of each kind to be found.
fn opened() -> Engine {
    let mut engine = Engine::default();
    let catalog = demonstration::catalog();
    let taken = engine.take_catalog(&catalog.pack());
    held::<TakenJson>("the catalog", &taken);
    let taken = engine.take_drawings(&catalog.pack_drawings());
    held::<TakenJson>("the drawings", &taken);
    let kinds = [
        DocumentKind::Page,
        DocumentKind::Heading,
        DocumentKind::Step,
        DocumentKind::Calculator,
        DocumentKind::Input,
        DocumentKind::Row,
        DocumentKind::Value,
        DocumentKind::Term,
    ];
    let document = |kind| Document {
        title: "Guide tubes".into(),
        place: "Fit".into(),
        url: "fit/guide-tubes.html#guide-tube-length".into(),
        kind,
        text: "cut each guide tube, 9/16 in a wrench, to the depth of the channel".into(),
        leads: (kind == DocumentKind::Term)
            .then(|| "fit/guide-tubes.html#guide-tube-length".into()),
        ..Document::default()
    };
    let synonyms = [("ferrule".to_string(), vec!["guide tube".to_string()])];
    let built = build(
        &kinds.map(document),
        &SearchWords {
            synonyms: &synonyms,
            ..SearchWords::default()
        },
    );
    held::<TakenJson>("the index", &engine.take_index(&built.index));
    held::<TakenJson>("the texts", &engine.take_texts(&built.texts));
    engine
}

/// An answer of its type: no part of it is unknown, none lacks, and none is null that may not be.
fn held<T: DeserializeOwned + Serialize>(request: &str, answer: &str) {
    let typed: T = serde_json::from_str(answer)
        .unwrap_or_else(|fault| panic!("asked {request}\n{fault} in\n{answer}"));
    let again = serde_json::to_value(typed).expect("a value");
    let answer: Value = serde_json::from_str(answer).expect("a value");
    assert_eq!(again, answer, "asked {request}");
}

fn text(request: &RequestJson) -> String {
    serde_json::to_string(request).expect("a text")
}

fn asked_of<T: DeserializeOwned + Serialize>(engine: &mut Engine, request: &RequestJson) {
    let request = text(request);
    held::<T>(&request, &engine.call(&request));
}

fn entry(text: &str) -> EntryOrTextJson {
    EntryOrTextJson::Text(text.to_string())
}

/// Three jobs: a page's, one in hand with an entry that was refused, and a prepared one.
fn jobs() -> [RequestJson; 3] {
    let refused = TakenEntryJson {
        text: "1 1/4 in".into(),
        when: "2026-11-26".into(),
        refused: Some("125 in".into()),
    };
    let given = [
        ("tube_pitch", TakenOrTextJson::Taken(refused)),
        ("channel_depth", TakenOrTextJson::Text("9 in".into())),
    ];
    let job = |whose, name: Option<&str>, given| RequestJson::Job {
        whose: Some(whose),
        name: name.map(str::to_string),
        kit: None,
        given,
    };
    let given = given.map(|(name, taken)| (name.to_string(), taken));
    [
        job(WhoseJson::Page, None, None),
        job(WhoseJson::Hand, Some("E-204"), Some(given.into())),
        job(WhoseJson::Prepared, Some("T2"), None),
    ]
}

#[test]
fn every_answer_about_calculators_is_of_its_type() {
    let mut engine = opened();
    let catalog = demonstration::catalog();
    for job in jobs() {
        asked_of::<TakenJson>(&mut engine, &job);
        asked_of::<JudgedJson>(&mut engine, &RequestJson::Judge);
        asked_of::<SheetDrawnJson>(&mut engine, &RequestJson::Draw);
        for name in catalog.named.keys() {
            let inputs = |given: Option<&str>| RequestJson::Measure {
                inputs: BTreeMap::from([(name.clone(), given.map(entry))]),
            };
            for given in [None, Some("1"), Some("9 in"), Some("much")] {
                asked_of::<MeasuredJson>(&mut engine, &inputs(given));
            }
            let held = engine.call(&text(&inputs(None)));
            assert!(
                !held.contains(r#""keep""#),
                "nothing was typed to keep: {held}"
            );
        }
        for calculator in catalog.calculators.values() {
            let inputs = asked(calculator);
            let mut dice = Dice::new(seed(&calculator.name));
            for _ in 0..20 {
                let mut request = calculate(&calculator.name, &inputs, &mut dice);
                if dice.chance(20) {
                    request["want"] = json!(["map", "working"]);
                }
                let request = request.to_string();
                held::<AnswerJson>(&request, &engine.call(&request));
                let request = switch(&calculator.name, &inputs, &mut dice).to_string();
                held::<SwitchedJson>(&request, &engine.call(&request));
            }
            for input in &inputs {
                let limits = RequestJson::Limits {
                    name: calculator.name.clone(),
                    inputs: BTreeMap::new(),
                    input: input.name.clone(),
                    want: vec![PartJson::Bound],
                };
                asked_of::<LimitsJson>(&mut engine, &limits);
            }
        }
    }
}

#[test]
fn every_answer_to_people_is_of_its_type() {
    let mut engine = opened();
    let catalog = demonstration::catalog();
    for typed in ["21 1/2", "30", "much"] {
        asked_of::<GradedJson>(&mut engine, &graded(typed));
    }
    for query in [
        "guide tube",
        "guid tub",
        "ferrule",
        "9/16",
        "",
        "nothing such",
    ] {
        let search = RequestJson::Search {
            query: query.into(),
            limit: 12,
            spellings: Some(vec![("9/16".into(), vec!["9/16".into(), "0.5625".into()])]),
        };
        asked_of::<FoundJson>(&mut engine, &search);
    }
    for length in [10, 100, 5000] {
        let text = "a".repeat(length);
        asked_of::<CodeJson>(&mut engine, &RequestJson::Qr { text });
    }
    for calculator in catalog.calculators.values() {
        let inputs = asked(calculator);
        let mut dice = Dice::new(seed(&calculator.name));
        for _ in 0..20 {
            let request = ask(&calculator.name, &inputs, &mut dice).to_string();
            held::<AskedJson>(&request, &engine.call(&request));
        }
    }
}

fn graded(typed: &str) -> RequestJson {
    RequestJson::Grade {
        name: "guide-tube-length".into(),
        output: "length".into(),
        tolerance: "1 in".into(),
        inputs: BTreeMap::from([("stock_length".into(), "12 1/2 in".into())]),
        given: BTreeMap::from([("channel_depth".into(), "9 in".into())]),
        typed: typed.into(),
    }
}

/// One request of each kind with all its parts, each of which tells in the answer.
fn whole_requests() -> Vec<RequestJson> {
    let typed = EntryJson {
        text: "100".into(),
        unit: Some("cm".into()),
        confirmed: true,
        example: None,
    };
    let entry = EntryOrTextJson::Entry(EntryJson {
        example: Some(true),
        ..typed.clone()
    });
    let inputs = BTreeMap::from([("channel_depth".to_string(), entry)]);
    let taken = TakenEntryJson {
        text: "9 in".into(),
        when: String::new(),
        refused: Some("125 in".into()),
    };
    vec![
        RequestJson::Calculate {
            name: "guide-tube-length".into(),
            inputs: inputs.clone(),
            want: vec![
                PartJson::Working,
                PartJson::Figure,
                PartJson::Plot,
                PartJson::Map,
            ],
        },
        RequestJson::Limits {
            name: "guide-tube-length".into(),
            inputs,
            input: "stock_length".into(),
            want: vec![PartJson::Bound],
        },
        graded("21 1/2"),
        RequestJson::Measure {
            inputs: BTreeMap::from([("channel_depth".into(), Some(EntryOrTextJson::Entry(typed)))]),
        },
        RequestJson::Job {
            whose: Some(WhoseJson::Hand),
            name: Some("E-204".into()),
            kit: Some("none such".into()),
            given: Some(BTreeMap::from([
                (
                    "tube_pitch".into(),
                    TakenOrTextJson::Taken(TakenEntryJson {
                        text: "1 1/4 in".into(),
                        when: "on E-204".into(),
                        refused: None,
                    }),
                ),
                ("channel_depth".into(), TakenOrTextJson::Taken(taken)),
            ])),
        },
        RequestJson::Qr { text: "a".into() },
        RequestJson::Switch {
            name: "guide-tube-length".into(),
            input: Some("channel_depth".into()),
            text: "9".into(),
            from: "in".into(),
            to: "mm".into(),
        },
        RequestJson::Search {
            query: "wrench guide 14.2875".into(),
            limit: 3,
            spellings: Some(vec![("14.2875".into(), vec!["9/16".into()])]),
        },
        RequestJson::Ask {
            query: "flow 15000 psi 1 mm oriface".into(),
            meanings: vec![("oriface".into(), vec!["orifice".into()])],
            candidates: vec!["flow-at-pressure".into()],
            want: vec![PartJson::Bound],
        },
    ]
}

/// Ways to a request's parts: its own, and those of what it holds by name.
fn ways(request: &Value, to: &str) -> Vec<String> {
    let parts = request.as_object().into_iter().flatten();
    // an empty text is as good as none
    let parts = parts.filter(|(name, part)| *name != "do" && **part != "");
    let ways = parts.map(|(name, part)| {
        let way = format!("{to}/{name}");
        let mut ways = ways(part, &way);
        ways.push(way);
        ways
    });
    ways.flatten().collect()
}

fn without(request: &Value, way: &str) -> Value {
    let mut less = request.clone();
    let (holder, part) = way.rsplit_once('/').expect("a way");
    let holder = less.pointer_mut(holder).and_then(Value::as_object_mut);
    holder.expect("a holder").remove(part);
    less
}

/// What a request is answered, and how the job in hand stands after it.
fn told(engine: &mut Engine, request: &Value) -> Vec<String> {
    engine.call(demonstration::PAGE);
    let after = [
        json!({ "do": "measure", "inputs": { "channel_depth": null, "tube_pitch": null, "working_pressure": null } }),
        json!({ "do": "judge" }),
        json!({ "do": "calculate", "name": "guide-tube-length" }),
    ];
    let asked = [request].into_iter().chain(&after);
    asked.map(|one| engine.call(&one.to_string())).collect()
}

#[test]
fn every_part_of_a_request_tells_in_the_answer() {
    let mut engine = opened();
    for request in whole_requests() {
        let request: Value = serde_json::to_value(request).expect("a value");
        let whole = told(&mut engine, &request);
        assert!(!whole[0].starts_with(r#"{"error""#), "{request}: {whole:?}");
        for way in ways(&request, "") {
            let less = told(&mut engine, &without(&request, &way));
            assert!(less != whole, "nobody reads `{way}` of {request}");
        }
    }
}
