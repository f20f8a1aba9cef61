//! What the terms of the trade mean, for a page that is asked without being left.

use serde_json::{Map, Value};

use crate::site::input::SiteInput;

/// By the term's address: a script that a page brings with the first term that is tapped.
pub fn script(input: &SiteInput) -> String {
    let told = input.composed.iter().flat_map(|one| &one.value.meanings);
    let meanings: Map<String, Value> = told
        .map(|(id, means)| (id.clone(), Value::String(means.clone())))
        .collect();
    format!(
        "globalThis.gaugeleafMeanings = {};\n",
        Value::Object(meanings)
    )
}
