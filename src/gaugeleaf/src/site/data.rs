//! `scripts/handbook-data.js`: what the engine opens in the page.

use base64::Engine;
use base64::engine::general_purpose::STANDARD as BASE64;
use serde_json::{Map, Value, json};

use crate::book::Book;
use crate::graph::Graph;

/// The script that hands the catalog, the job and the index to the engine.
pub fn script(graph: &Graph, book: &Book, index: &[u8]) -> Vec<u8> {
    let files: Vec<Value> = graph
        .files
        .iter()
        .map(|file| json!({ "path": file.path, "text": file.text }))
        .collect();
    let given: Map<String, Value> = book
        .given
        .iter()
        .map(|one| (one.name.value.clone(), Value::from(one.text.value.as_str())))
        .collect();
    let data = json!({ "files": files, "given": given, "index": BASE64.encode(index) });
    format!("globalThis.gaugeleafHandbook={data};\n").into_bytes()
}
