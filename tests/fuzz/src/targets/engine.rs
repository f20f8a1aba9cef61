//! The engine as a page asks it: any request, a question, a job that arrives by link.

use std::cell::RefCell;

use gaugeleaf_engine::Engine;
use percent_encoding::percent_decode_str;
use serde_json::{Map, Value, json};

use super::text;
use crate::demonstration::{self, carried};

thread_local! {
    static ENGINE: RefCell<Engine> = RefCell::new({
        let mut engine = Engine::default();
        engine.take_catalog(carried("catalog"));
        engine.take_index(carried("search-index"));
        engine.take_texts(carried("search-texts"));
        engine
    });
}

/// The answers to requests, each JSON, from an engine that holds the page's own values.
fn answered(requests: impl FnOnce(&mut dyn FnMut(&str) -> Value)) {
    ENGINE.with_borrow_mut(|engine| {
        engine.call(r#"{"do":"job","whose":"page","given":{}}"#);
        requests(&mut |request| {
            let answer = engine.call(request);
            let read = serde_json::from_str(&answer);
            read.unwrap_or_else(|fault| panic!("{fault} in {answer}"))
        });
    });
}

/// Requests, one a line: each answer is JSON, an object.
pub fn call(bytes: &[u8]) {
    let Some(text) = text(bytes) else {
        return;
    };
    answered(|ask| {
        for request in text.split('\n').take(8) {
            assert!(ask(request).is_object(), "{request}");
        }
    });
}

pub fn calls() -> Vec<Vec<u8>> {
    let mut seeds = vec![
        json!({ "do": "judge" }),
        json!({ "do": "qr", "text": "#job=E-204&v=2" }),
        json!({ "do": "search", "query": "hose stop", "limit": 5, "spellings": [["1/2", ["0.5"]]] }),
        json!({ "do": "switch", "name": "tube_length", "text": "14", "from": "ft", "to": "m" }),
        json!({ "do": "measure", "inputs": { "channel_depth": null, "tube_od": { "text": "3/4 in" } } }),
        json!({ "do": "limits", "name": "hose-pressure-loss", "input": "flow", "want": ["bound"] }),
        json!({ "do": "ask", "query": "guide tube 14 in channel", "meanings": [], "candidates": ["guide-tube-length"] }),
        json!({ "do": "grade", "name": "pitch-span", "output": "span", "text": "9 in", "inputs": {}, "given": {} }),
        json!({ "do": "job", "whose": "hand", "name": "E", "kit": "", "given": { "tube_od": { "text": "3/4 in", "when": "2026-11-26", "refused": "9 in" } } }),
        json!({ "do": "job", "whose": "prepared", "name": "T1", "kit": "", "given": { "tube_od": "3/4 in" } }),
    ];
    for name in demonstration::GRAPH.catalog.calculators.keys() {
        seeds.push(json!({ "do": "calculate", "name": name, "inputs": {}, "want": ["working", "figure", "plot", "map", "bound"] }));
    }
    seeds
        .into_iter()
        .map(|seed| seed.to_string().into_bytes())
        .collect()
}

/// A question as the search page asks it: searched for, then put to what was found.
pub fn question(bytes: &[u8]) {
    let Some(text) = text(bytes) else {
        return;
    };
    answered(|ask| {
        let found = ask(&json!({ "do": "search", "query": text }).to_string());
        assert!(found["hits"].is_array(), "{found}");
        let request = json!({ "do": "ask", "query": text, "meanings": found["meanings"],
            "candidates": found["candidates"], "want": ["bound"] });
        let asked = ask(&request.to_string());
        let readings = asked["readings"].as_array().expect("readings");
        assert!(readings.len() <= 3, "{asked}");
        // a verdict is given only where every number that was typed has its place
        if let Some(spellings) = asked.get("spellings") {
            let again = json!({ "do": "search", "query": text, "spellings": spellings });
            assert!(ask(&again.to_string())["hits"].is_array());
        }
    });
}

pub fn questions() -> Vec<Vec<u8>> {
    let mut seeds: Vec<Vec<u8>> = [
        "guide tube 14 in channel",
        "1000 bar in psi",
        "how far can the hose stop be 9 in channel 3/4 tube",
        "15 gal/min through 1/8 orifice",
        "is 20000 psi too much",
        "9 ± 1/8 in",
        "20 C in F",
        "5 ft 6 in mm",
    ]
    .map(|text| text.as_bytes().to_vec())
    .into();
    seeds.extend(
        super::search::queries()
            .into_iter()
            .filter(|seed| seed.iter().any(u8::is_ascii_digit))
            .take(300),
    );
    seeds
}

/// What a job's line says besides values.
const HEAD: [&str; 8] = ["job", "v", "of", "rev", "kit", "day", "note", "raw"];

/// A job's line as it arrives, put to the engine as the page does before it asks whether to keep it:
/// each value is taken or refused with a reason, and what is kept is taken again, to the same.
pub fn link(bytes: &[u8]) {
    let Some(line) = text(bytes) else {
        return;
    };
    let parts = line
        .split('&')
        .map(|part| part.split_once('=').unwrap_or((part, "")));
    let read = |text: &str| {
        percent_decode_str(&text.replace('+', " "))
            .decode_utf8_lossy()
            .into_owned()
    };
    let parts: Vec<(String, String)> = parts
        .map(|(name, value)| (read(name), read(value)))
        .collect();
    let part = |name: &str| {
        parts
            .iter()
            .find(|part| part.0 == name)
            .map_or("", |part| &part.1)
    };
    let mut given: Vec<(String, String)> = Vec::new();
    for (name, text) in parts.iter().filter(|part| !HEAD.contains(&part.0.as_str())) {
        let (name, which) = name.split_once('.').unwrap_or((name, "0"));
        if which != "no" && which != "unit" && given.iter().all(|known| known.0 != name) {
            given.push((name.to_string(), text.clone()));
        }
    }
    let inputs = |entry: &dyn Fn(&str) -> Value| -> Map<String, Value> {
        given
            .iter()
            .map(|(name, text)| (name.clone(), entry(text)))
            .collect()
    };
    let measured =
        |inputs: Map<String, Value>| json!({ "do": "measure", "inputs": inputs }).to_string();
    answered(|ask| {
        let first = ask(&measured(inputs(
            &|text| json!({ "text": text, "confirmed": false }),
        )));
        let second = ask(&measured(inputs(
            &|text| json!({ "text": text, "confirmed": true }),
        )));
        let taken = inputs(&|text| json!({ "text": text, "when": part("day") }));
        ask(&json!({ "do": "job", "whose": "hand", "name": part("job"), "kit": part("kit"), "given": taken }).to_string());
        ask(&measured(inputs(&|_| Value::Null)));
        for (name, _) in &given {
            let reading = &second["inputs"][name];
            if reading.is_null() {
                let problems = first["problems"].as_array().expect("problems");
                assert!(
                    problems.iter().any(|one| one["input"] == name.as_str()),
                    "{name}: no reason"
                );
                continue;
            }
            let mut kept = Map::new();
            kept.insert(
                name.clone(),
                json!({ "text": reading["keep"], "confirmed": true }),
            );
            let again = ask(&measured(kept));
            assert_eq!(
                again["inputs"][name]["si"], reading["si"],
                "{name}, kept as {}",
                reading["keep"]
            );
        }
    });
}

pub fn links() -> Vec<Vec<u8>> {
    [
        "job=E-204&v=2&of=yard&rev=1&kit=yard-drive&note=north+head&day=2026-11-25&channel_depth=9+in&tube_od=3/4+in",
        "job=T1&tube_length=14+ft&tube_pitch=15/16",
        "job=a&v=2&day=2026-11-25&day=on+T2&tube_od.1=19.05+mm&channel_depth.no=140&channel_depth.unit=in",
        "job=x&v=3&raw=%7B%22version%22%3A3%7D",
        "job=%C2%BD&v=2&day=&tube_count=400&layout=square&flange_thickness=2+1/8+%C2%B1+1/16",
    ]
    .map(|line| line.as_bytes().to_vec())
    .into()
}
