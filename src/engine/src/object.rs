//! Builds JSON objects key by key: one loop for all of them, where a macro would write the
//! same steps out at every key and make the engine an eighth heavier.

use serde_json::{Map, Value};

/// What a key stands for.
pub(crate) enum ObjectValue<'p> {
    Text(&'p str),
    /// Null where there is none.
    Maybe(Option<&'p str>),
    /// Null where it isn't finite: JSON has no infinity.
    Number(f64),
    Truth(bool),
    Json(Value),
}

/// Puts the parts into an object, in their order.
pub(crate) fn put(json: &mut Map<String, Value>, parts: &mut [(&str, ObjectValue)]) {
    for (key, part) in parts {
        let value = match part {
            ObjectValue::Text(text) => Value::String((*text).to_string()),
            ObjectValue::Maybe(text) => text.map_or(Value::Null, Value::from),
            ObjectValue::Number(number) => {
                serde_json::Number::from_f64(*number).map_or(Value::Null, Value::Number)
            }
            ObjectValue::Truth(truth) => Value::Bool(*truth),
            ObjectValue::Json(value) => value.take(),
        };
        json.insert((*key).to_string(), value);
    }
}

/// An object of these parts.
pub(crate) fn object(parts: &mut [(&str, ObjectValue)]) -> Value {
    let mut json = Map::new();
    put(&mut json, parts);
    Value::Object(json)
}
