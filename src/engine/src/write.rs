//! Writes an answer as JSON text.
//!
//! The JSON crate's own writer brings a table for printing numbers that is a tenth of the
//! engine's weight on a phone; the standard library's printer is in the engine already.

#[cfg(any(feature = "calculators", feature = "share"))]
use crate::json::JsonValue;
use std::fmt::Write;

/// What is wrong, as an answer.
pub(crate) fn error(message: &str) -> String {
    let mut out = "{\"error\":".to_string();
    string(message, &mut out);
    out.push('}');
    out
}

/// The value as JSON, on one line.
#[cfg(any(feature = "calculators", feature = "share"))]
pub(crate) fn text(value: &JsonValue) -> String {
    let mut out = String::new();
    write(value, &mut out);
    out
}

#[cfg(any(feature = "calculators", feature = "share"))]
fn write(value: &JsonValue, out: &mut String) {
    match value {
        JsonValue::Null => out.push_str("null"),
        JsonValue::Bool(true) => out.push_str("true"),
        JsonValue::Bool(false) => out.push_str("false"),
        #[cfg(feature = "calculators")]
        JsonValue::Number(number) => {
            // Its shortest form that reads back as the same number; writing to a string can't fail.
            let _ = write!(out, "{number:?}");
        }
        JsonValue::Written(number) => out.push_str(number),
        JsonValue::String(text) => string(text, out),
        JsonValue::Array(items) => {
            out.push('[');
            for (at, item) in items.iter().enumerate() {
                if at > 0 {
                    out.push(',');
                }
                write(item, out);
            }
            out.push(']');
        }
        JsonValue::Object(entries) => {
            out.push('{');
            for (at, (name, entry)) in entries.iter().enumerate() {
                if at > 0 {
                    out.push(',');
                }
                string(name, out);
                out.push(':');
                write(entry, out);
            }
            out.push('}');
        }
    }
}

fn string(text: &str, out: &mut String) {
    out.push('"');
    let mut written = 0;
    for (at, byte) in text.bytes().enumerate() {
        if byte >= b' ' && byte != b'"' && byte != b'\\' {
            continue;
        }
        out.push_str(&text[written..at]);
        written = at + 1;
        // Writing to a string can't fail.
        let _ = match byte {
            b'"' | b'\\' => write!(out, "\\{}", char::from(byte)),
            _ => write!(out, "\\u{byte:04x}"),
        };
    }
    out.push_str(&text[written..]);
    out.push('"');
}

/// JSON as it is made, for an answer of many parts that has to be there between two letters
/// typed: nothing is held but the text.
#[cfg(feature = "search")]
#[derive(Default)]
pub(crate) struct Json {
    out: String,
}

#[cfg(feature = "search")]
impl Json {
    /// A list or an object, between the two brackets.
    pub(crate) fn within(&mut self, brackets: [char; 2], parts: impl FnOnce(&mut Json)) {
        self.part();
        self.out.push(brackets[0]);
        parts(self);
        self.out.push(brackets[1]);
    }

    pub(crate) fn key(&mut self, key: &str) {
        self.text(key);
        self.out.push(':');
    }

    pub(crate) fn text(&mut self, text: &str) {
        self.part();
        string(text, &mut self.out);
    }

    pub(crate) fn texts<'t>(&mut self, texts: impl IntoIterator<Item = &'t str>) {
        self.within(['[', ']'], |json| {
            texts.into_iter().for_each(|text| json.text(text));
        });
    }

    pub(crate) fn truth(&mut self, truth: bool) {
        self.part();
        self.out.push_str(if truth { "true" } else { "false" });
    }

    pub(crate) fn done(self) -> String {
        self.out
    }

    /// A comma before all but the first part.
    fn part(&mut self) {
        if !matches!(self.out.as_bytes().last(), None | Some(b'[' | b'{' | b':')) {
            self.out.push(',');
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::json::read;
    use proptest::prelude::*;
    use serde_json::{Value as Known, json};

    /// Read and written again.
    fn again(value: &Known) -> String {
        text(&read(&value.to_string()).unwrap())
    }

    #[test]
    fn what_is_written_is_json_that_reads_back() {
        let value = json!({
            "text": "a \"quoted\" \\ line\nand a \u{1} control, 1 1/4 in ± ″",
            "numbers": [0, -3, 25.5, 1e300, 5e-324, -0.0, u64::MAX, i64::MIN],
            "rest": [null, true, false, [], {}],
        });
        assert_eq!(
            serde_json::from_str::<Known>(&again(&value)).unwrap(),
            value
        );
    }

    #[test]
    fn what_is_made_part_by_part_reads_back() {
        let mut made = Json::default();
        made.within(['{', '}'], |json| {
            json.key("a \"key\"");
            json.within(['[', ']'], |json| {
                json.text("[");
                json.truth(true);
                json.texts(["", "{"]);
                json.within(['[', ']'], |_| {});
            });
            json.key("row");
            json.truth(false);
        });
        assert_eq!(
            serde_json::from_str::<Known>(&made.done()).unwrap(),
            json!({ "a \"key\"": ["[", true, ["", "{"], []], "row": false })
        );
    }

    proptest! {
        #[test]
        fn every_text_reads_back(words in "\\PC*|[\\x00-\\x1f]*") {
            let value = json!({ words.clone(): [words] });
            prop_assert_eq!(serde_json::from_str::<Known>(&again(&value)).unwrap(), value);
        }

        #[test]
        fn every_number_reads_back_to_the_same_bits(number in proptest::num::f64::NORMAL) {
            let written = text(&JsonValue::Number(number));
            prop_assert!(serde_json::from_str::<Known>(&written).unwrap().is_number());
            prop_assert_eq!(written.parse::<f64>().unwrap().to_bits(), number.to_bits());
        }
    }
}
