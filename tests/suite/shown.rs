//! What the demonstration's search shows, asked as its page asks.

use std::collections::BTreeMap;
use std::io::Read;
use std::sync::{Mutex, OnceLock};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::session::build;
use gaugeleaf_engine::Engine;
use serde_json::{Value, json};

/// The bytes that a published script carries.
fn carried(script: &[u8]) -> Vec<u8> {
    let text = std::str::from_utf8(script).expect("a script");
    let letters = text
        .split('"')
        .max_by_key(|part| part.len())
        .expect("carried letters");
    let packed = STANDARD.decode(letters).expect("base64");
    let mut bytes = Vec::new();
    flate2::read::GzDecoder::new(packed.as_slice())
        .read_to_end(&mut bytes)
        .expect("gzip");
    bytes
}

/// The demonstration, published.
pub fn site() -> &'static BTreeMap<String, Vec<u8>> {
    static SITE: OnceLock<BTreeMap<String, Vec<u8>>> = OnceLock::new();
    SITE.get_or_init(|| {
        let root = std::path::Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."));
        build(root, &FolderEdition).site
    })
}

/// The handbook's engine, with its own catalog and index.
fn engine() -> &'static Mutex<Engine> {
    static ENGINE: OnceLock<Mutex<Engine>> = OnceLock::new();
    ENGINE.get_or_init(|| {
        let site = site();
        let mut engine = Engine::default();
        let catalog = carried(&site["scripts/catalog.js"]);
        let index = carried(&site["scripts/search-index.js"]);
        assert_eq!(engine.take_catalog(&catalog), r#"{"ok":true}"#);
        engine.call(r#"{"do":"job","whose":"page","given":{}}"#);
        let texts = carried(&site["scripts/search-texts.js"]);
        assert_eq!(engine.take_index(&index), r#"{"ok":true}"#);
        assert_eq!(engine.take_texts(&texts), r#"{"ok":true}"#);
        Mutex::new(engine)
    })
}

pub fn call(request: &Value) -> Value {
    let mut engine = engine().lock().expect("no other test panicked");
    serde_json::from_str(&engine.call(&request.to_string())).expect("an answer is JSON")
}

/// What the page shows for a query, in order: answers, then hits.
pub fn shown(query: &str) -> Vec<Value> {
    let mut found = call(&json!({ "do": "search", "query": query, "limit": 12 }));
    let (mut shown, mut answers) = (Vec::new(), Vec::new());
    let number = query.contains(|c: char| c.is_ascii_digit() || "¼½¾".contains(c));
    if number || found["units"] == true {
        let asked = call(&json!({ "do": "ask", "query": query,
            "meanings": found["meanings"], "candidates": found["candidates"] }));
        let spellings = &asked["spellings"];
        if spellings != &json!([]) {
            found = call(
                &json!({ "do": "search", "query": query, "limit": 12, "spellings": spellings }),
            );
        }
        if !asked["conversion"].is_null() {
            answers.push(asked["conversion"].clone());
        }
        answers.extend(asked["readings"].as_array().cloned().unwrap_or_default());
        // several ways to understand it are one question back, which is no answer
        if asked["which"] != json!([]) {
            answers.push(json!({ "which": asked["which"] }));
        }
        for told in asked["told"].as_array().into_iter().flatten() {
            answers.push(json!({ "told": told }));
        }
    }
    shown.extend(found["hits"].as_array().cloned().unwrap_or_default());
    // a row that holds all that was typed stands above the answers, unless a calculator was named
    let sure = answers
        .first()
        .is_some_and(|answer| answer["sure"] == true || answer["to"].is_string());
    let is_row = match answers.first() {
        Some(back) if back["which"].is_array() || back["told"].is_object() => {
            shown[0]["kind"] == "row"
        }
        _ => found["row"] == true && !sure,
    };
    let at = if found["urgent"] == true || is_row {
        shown.len()
    } else {
        0
    };
    shown.splice(at..at, answers);
    shown
}

pub fn plain(text: &str) -> String {
    text.replace(['\u{202f}', '\u{a0}'], " ")
}
