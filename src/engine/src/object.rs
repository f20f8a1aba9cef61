//! Builds JSON objects key by key: one loop for all of them, where a macro would write the
//! same steps out at every key and make the engine an eighth heavier.

use crate::json::{Map, Value};

/// What a key stands for.
pub(crate) enum ObjectValue<'p> {
    Text(&'p str),
    /// Null where there is none.
    Maybe(Option<&'p str>),
    /// Null where it isn't finite: JSON has no infinity.
    #[cfg(feature = "calculators")]
    Number(f64),
    #[cfg(feature = "calculators")]
    Truth(bool),
    Json(Value),
}

/// Puts the parts into an object that has none of their keys, in their order.
pub(crate) fn put(json: &mut Map, parts: &mut [(&str, ObjectValue)]) {
    for (key, part) in parts {
        let value = match part {
            ObjectValue::Text(text) => Value::String((*text).to_string()),
            ObjectValue::Maybe(text) => {
                text.map_or(Value::Null, |text| Value::String(text.to_string()))
            }
            #[cfg(feature = "calculators")]
            ObjectValue::Number(number) if number.is_finite() => Value::Number(*number),
            #[cfg(feature = "calculators")]
            ObjectValue::Number(_) => Value::Null,
            #[cfg(feature = "calculators")]
            ObjectValue::Truth(truth) => Value::Bool(*truth),
            ObjectValue::Json(value) => std::mem::replace(value, Value::Null),
        };
        json.push(((*key).to_string(), value));
    }
}

/// An object of these parts.
pub(crate) fn object(parts: &mut [(&str, ObjectValue)]) -> Value {
    let mut json = Map::new();
    put(&mut json, parts);
    Value::Object(json)
}
