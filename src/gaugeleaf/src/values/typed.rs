//! Values as typed, for scripts.

use serde_json::{Map, Value};

/// Inputs as typed, for the page's scripts to hand to the engine.
pub fn typed_json<'t>(inputs: impl Iterator<Item = (&'t String, &'t String)>) -> String {
    let inputs: Map<String, Value> = inputs
        .map(|(name, text)| (name.clone(), Value::from(text.as_str())))
        .collect();
    Value::Object(inputs).to_string()
}
