//! Builds JSON objects key by key: one loop for all of them, where a macro would write the
//! same steps out at every key and make the engine an eighth heavier.

#[cfg(feature = "calculators")]
use gaugeleaf_calc::message::{Language, Message};

use crate::json::{JsonEntries, JsonValue};

/// What a key stands for.
pub(crate) enum ObjectValue<'p> {
    Text(&'p str),
    /// Null where there is none.
    #[cfg(feature = "calculators")]
    Maybe(Option<&'p str>),
    /// A message in the words of a language; null where there is none.
    #[cfg(feature = "calculators")]
    Told(&'p Language, Option<&'p Message>),
    /// Null where it isn't finite: JSON has no infinity.
    #[cfg(feature = "calculators")]
    Number(f64),
    #[cfg(feature = "calculators")]
    Truth(bool),
    #[cfg(feature = "calculators")]
    Json(JsonValue),
}

/// Puts the parts into an object that has none of their keys, in their order.
pub(crate) fn put(json: &mut JsonEntries, parts: &mut [(&str, ObjectValue)]) {
    for (key, part) in parts {
        let value = match part {
            ObjectValue::Text(text) => JsonValue::String((*text).to_string()),
            #[cfg(feature = "calculators")]
            ObjectValue::Maybe(text) => {
                text.map_or(JsonValue::Null, |text| JsonValue::String(text.to_string()))
            }
            #[cfg(feature = "calculators")]
            ObjectValue::Told(language, message) => message.map_or(JsonValue::Null, |message| {
                JsonValue::String(language.say(message))
            }),
            #[cfg(feature = "calculators")]
            ObjectValue::Number(number) if number.is_finite() => JsonValue::Number(*number),
            #[cfg(feature = "calculators")]
            ObjectValue::Number(_) => JsonValue::Null,
            #[cfg(feature = "calculators")]
            ObjectValue::Truth(truth) => JsonValue::Bool(*truth),
            #[cfg(feature = "calculators")]
            ObjectValue::Json(value) => std::mem::replace(value, JsonValue::Null),
        };
        json.push(((*key).to_string(), value));
    }
}

/// An object of these parts.
pub(crate) fn object(parts: &mut [(&str, ObjectValue)]) -> JsonValue {
    let mut json = JsonEntries::new();
    put(&mut json, parts);
    JsonValue::Object(json)
}
