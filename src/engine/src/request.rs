//! Takes requests apart, forgiving nothing but absent optional parts.

use crate::json::JsonValue;
#[cfg(feature = "calculators")]
use gaugeleaf_calc::catalog::Taken;
#[cfg(feature = "calculators")]
use gaugeleaf_calc::ground::Ground;
#[cfg(feature = "calculators")]
use gaugeleaf_calc::{Argument, Names};

/// A text that has to be there.
pub(crate) fn text<'a>(value: &'a JsonValue, key: &str) -> Result<&'a str, String> {
    value
        .get(key)
        .and_then(JsonValue::as_str)
        .ok_or_else(|| format!("the request lacks the text `{key}`"))
}

/// `{"channel_depth": "9 in"}`
#[cfg(feature = "calculators")]
pub(crate) fn pairs(value: Option<&JsonValue>) -> Names<String> {
    let entries = value.map(JsonValue::as_object).unwrap_or_default().iter();
    entries
        .filter_map(|(name, text)| Some((name.clone(), text.as_str()?.to_string())))
        .collect()
}

/// `{"channel_depth": {"text": "9 in", "when": "26 Nov 2026", "refused": ""}}`, or as pairs.
#[cfg(feature = "calculators")]
pub(crate) fn taken(value: Option<&JsonValue>) -> Names<Taken> {
    let entries = value.map(JsonValue::as_object).unwrap_or_default().iter();
    entries
        .map(|(name, entry)| {
            let part = |key: &str| {
                let text = entry.get(key).and_then(JsonValue::as_str);
                text.unwrap_or_default().to_string()
            };
            let taken = Taken {
                text: entry.as_str().map_or_else(|| part("text"), str::to_string),
                when: part("when"),
                refused: part("refused"),
            };
            (name.clone(), taken)
        })
        .collect()
}

/// `{"channel_depth": "9 in"}` or `{"channel_depth": {"text": "9", "unit": "in", "confirmed": true}}`
#[cfg(feature = "calculators")]
pub(crate) fn given(value: Option<&JsonValue>) -> Vec<Argument> {
    let entries = value.map(JsonValue::as_object).unwrap_or_default().iter();
    entries
        .map(|(name, entry)| match entry {
            JsonValue::Object(_) => {
                let part = |key| entry.get(key).and_then(JsonValue::as_str);
                let holds = |key| matches!(entry.get(key), Some(JsonValue::Bool(true)));
                Argument {
                    name: name.clone(),
                    text: part("text").unwrap_or_default().to_string(),
                    unit: part("unit").map(str::to_string),
                    confirmed: holds("confirmed"),
                    ground: match holds("example") {
                        true => Ground::Example,
                        false => Ground::Measured,
                    },
                }
            }
            JsonValue::String(text) => Argument::new(name, text),
            other => Argument::new(name, &crate::write::text(other)),
        })
        .collect()
}

/// `["a", "b"]`
#[cfg(any(feature = "calculators", feature = "search"))]
pub(crate) fn texts(value: Option<&JsonValue>) -> Vec<String> {
    let entries = value.map(JsonValue::as_array).unwrap_or_default().iter();
    entries
        .filter_map(|text| text.as_str().map(str::to_string))
        .collect()
}

/// `[["chanel", ["channel"]]]`
#[cfg(any(feature = "calculators", feature = "search"))]
pub(crate) fn lists(value: Option<&JsonValue>) -> Vec<(String, Vec<String>)> {
    let entries = value.map(JsonValue::as_array).unwrap_or_default().iter();
    entries
        .filter_map(|entry| {
            let entry = entry.as_array();
            let word = entry.first()?.as_str()?.to_string();
            Some((word, texts(entry.get(1))))
        })
        .collect()
}

/// `[["chanel", ["channel"]]]`
#[cfg(feature = "calculators")]
pub(crate) fn lists_json(lists: &[(String, Vec<String>)]) -> JsonValue {
    let list = |(word, texts): &(String, Vec<String>)| {
        let texts = texts.iter().map(|text| JsonValue::from(text.as_str()));
        JsonValue::Array(vec![JsonValue::from(word.as_str()), texts.collect()])
    };
    lists.iter().map(list).collect()
}

/// Whether the request asks for an optional part of the answer.
#[cfg(feature = "calculators")]
pub(crate) fn wants(request: &JsonValue, part: &str) -> bool {
    let wanted = request.get("want").map(JsonValue::as_array);
    let mut wanted = wanted.unwrap_or_default().iter();
    wanted.any(|wanted| wanted.as_str() == Some(part))
}
