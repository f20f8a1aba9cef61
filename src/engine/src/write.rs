//! Writes an answer as JSON text.
//!
//! The JSON crate's own writer brings a table for printing numbers that is a tenth of the
//! engine's weight on a phone; the standard library's printer is in the engine already.

use serde_json::Value;
use std::fmt::Write;

/// The value as JSON, on one line.
pub(crate) fn text(value: &Value) -> String {
    let mut out = String::new();
    write(value, &mut out);
    out
}

fn write(value: &Value, out: &mut String) {
    match value {
        Value::Null => out.push_str("null"),
        Value::Bool(true) => out.push_str("true"),
        Value::Bool(false) => out.push_str("false"),
        Value::Number(number) => {
            // Writing to a string can't fail.
            let _ = match (number.as_u64(), number.as_i64()) {
                (Some(whole), _) => write!(out, "{whole}"),
                (None, Some(whole)) => write!(out, "{whole}"),
                // Its shortest form that reads back as the same number.
                _ => write!(out, "{:?}", number.as_f64().unwrap_or_default()),
            };
        }
        Value::String(text) => string(text, out),
        Value::Array(items) => {
            out.push('[');
            for (at, item) in items.iter().enumerate() {
                if at > 0 {
                    out.push(',');
                }
                write(item, out);
            }
            out.push(']');
        }
        Value::Object(entries) => {
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
    for character in text.chars() {
        match character {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            control if control < ' ' => {
                let _ = write!(out, "\\u{:04x}", u32::from(control));
            }
            other => out.push(other),
        }
    }
    out.push('"');
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::json;

    #[test]
    fn what_is_written_is_json_that_reads_back() {
        let value = json!({
            "text": "a \"quoted\" \\ line\nand a \u{1} control, 1 1/4 in ± ″",
            "numbers": [0, -3, 25.5, 1e300, 5e-324, -0.0, u64::MAX, i64::MIN],
            "rest": [null, true, false, [], {}],
        });
        assert_eq!(serde_json::from_str::<Value>(&text(&value)).unwrap(), value);
    }

    proptest! {
        #[test]
        fn every_text_reads_back(words in "\\PC*|[\\x00-\\x1f]*") {
            let value = json!({ words.clone(): [words] });
            prop_assert_eq!(serde_json::from_str::<Value>(&text(&value)).unwrap(), value);
        }

        #[test]
        fn every_number_reads_back_to_the_same_bits(number in proptest::num::f64::NORMAL) {
            let written = text(&json!(number));
            prop_assert!(serde_json::from_str::<Value>(&written).unwrap().is_number());
            prop_assert_eq!(written.parse::<f64>().unwrap().to_bits(), number.to_bits());
        }
    }
}
