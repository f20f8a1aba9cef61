//! The scripts that carry what the engine opens in the page.

use serde_json::{Map, Value};

use crate::book::Book;
use crate::carry;
use crate::graph::Graph;

/// The packed catalog, and the job's values.
pub fn catalog(graph: &Graph, book: &Book) -> Vec<u8> {
    let given: Map<String, Value> = book
        .given
        .iter()
        .map(|one| (one.name.value.clone(), Value::from(one.text.value.as_str())))
        .collect();
    let mut script = carry::script("catalog", &graph.catalog.pack());
    script.push_str(&format!(
        "globalThis.gaugeleafGiven = {};\n",
        Value::Object(given)
    ));
    script.into_bytes()
}

/// The search index.
pub fn index(index: &[u8]) -> Vec<u8> {
    carry::script("search-index", index).into_bytes()
}
