//! JSON as requests and answers hold it. The JSON crate's values bring hashed objects and a
//! parser of numbers, a twentieth of the engine's weight on a phone; here an object is a list,
//! and a number that was read stays the text that it was.

/// A JSON value.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum JsonValue {
    Null,
    Bool(bool),
    #[cfg(feature = "calculators")]
    Number(f64),
    /// A number as a request writes it.
    Written(String),
    String(String),
    Array(Vec<JsonValue>),
    Object(JsonEntries),
}

/// An object's parts in their order; each key once.
pub(crate) type JsonEntries = Vec<(String, JsonValue)>;

impl JsonValue {
    /// What an object has under a key.
    pub(crate) fn get(&self, key: &str) -> Option<&JsonValue> {
        let entries = self.as_object().iter();
        let mut found = entries.filter(|(name, _)| name == key);
        found.next().map(|(_, value)| value)
    }

    pub(crate) fn as_str(&self) -> Option<&str> {
        match self {
            JsonValue::String(text) => Some(text),
            _ => None,
        }
    }

    /// An object's parts; none of anything else.
    pub(crate) fn as_object(&self) -> &[(String, JsonValue)] {
        match self {
            JsonValue::Object(entries) => entries,
            _ => &[],
        }
    }

    /// A list's items; none of anything else.
    #[cfg(any(feature = "calculators", feature = "search"))]
    pub(crate) fn as_array(&self) -> &[JsonValue] {
        match self {
            JsonValue::Array(items) => items,
            _ => &[],
        }
    }
}

#[cfg(feature = "calculators")]
impl From<&str> for JsonValue {
    fn from(text: &str) -> JsonValue {
        JsonValue::String(text.to_string())
    }
}

#[cfg(feature = "calculators")]
impl FromIterator<JsonValue> for JsonValue {
    fn from_iter<I: IntoIterator<Item = JsonValue>>(items: I) -> JsonValue {
        JsonValue::Array(items.into_iter().collect())
    }
}

/// For whoever puts an answer among values of the JSON crate.
#[cfg(feature = "calculators")]
impl From<JsonValue> for serde_json::Value {
    fn from(value: JsonValue) -> serde_json::Value {
        use serde_json::Value as Json;
        match value {
            JsonValue::Null => Json::Null,
            JsonValue::Bool(truth) => Json::Bool(truth),
            JsonValue::Number(number) => Json::from(number),
            JsonValue::Written(text) => serde_json::from_str(&text).unwrap_or_default(),
            JsonValue::String(text) => Json::String(text),
            JsonValue::Array(items) => items.into_iter().map(Json::from).collect(),
            JsonValue::Object(entries) => entries
                .into_iter()
                .map(|(name, value)| (name, Json::from(value)))
                .collect(),
        }
    }
}

/// Objects and lists inside each other; deeper ones are no request, and would end the engine.
const MOST_LEVELS: usize = 127;

/// Reads a text that is one JSON value; else where it stops being one, in bytes.
pub(crate) fn read(text: &str) -> Result<JsonValue, usize> {
    let mut reader = Reader { text, at: 0 };
    let value = reader.value(MOST_LEVELS).filter(|_| {
        reader.skip();
        reader.at == text.len()
    });
    value.ok_or(reader.at)
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
}

impl Reader<'_> {
    fn peek(&self) -> u8 {
        *self.text.as_bytes().get(self.at).unwrap_or(&0)
    }

    fn skip(&mut self) {
        while matches!(self.peek(), b' ' | b'\n' | b'\r' | b'\t') {
            self.at += 1;
        }
    }

    /// Takes a mark, with the space before it, if it comes next.
    fn mark(&mut self, mark: u8) -> bool {
        self.skip();
        let there = self.peek() == mark;
        self.at += usize::from(there);
        there
    }

    fn word(&mut self, word: &str, value: JsonValue) -> Option<JsonValue> {
        let there = self.text[self.at..].starts_with(word);
        self.at += if there { word.len() } else { 0 };
        there.then_some(value)
    }

    fn value(&mut self, levels: usize) -> Option<JsonValue> {
        self.skip();
        match self.peek() {
            b'n' => self.word("null", JsonValue::Null),
            b't' => self.word("true", JsonValue::Bool(true)),
            b'f' => self.word("false", JsonValue::Bool(false)),
            b'"' => self.string().map(JsonValue::String),
            b'[' | b'{' if levels == 0 => None,
            b'[' => {
                let mut items = Vec::new();
                self.at += 1;
                if self.mark(b']') {
                    return Some(JsonValue::Array(items));
                }
                loop {
                    items.push(self.value(levels - 1)?);
                    if !self.mark(b',') {
                        return self.mark(b']').then_some(JsonValue::Array(items));
                    }
                }
            }
            b'{' => {
                let mut entries = JsonEntries::new();
                self.at += 1;
                if self.mark(b'}') {
                    return Some(JsonValue::Object(entries));
                }
                loop {
                    self.skip();
                    let name = self.string()?;
                    if !self.mark(b':') {
                        return None;
                    }
                    let value = self.value(levels - 1)?;
                    // of a key that comes twice the last holds
                    entries.retain(|(known, _)| *known != name);
                    entries.push((name, value));
                    if !self.mark(b',') {
                        return self.mark(b'}').then_some(JsonValue::Object(entries));
                    }
                }
            }
            _ => self.number(),
        }
    }

    fn digits(&mut self) -> Option<()> {
        let from = self.at;
        while self.peek().is_ascii_digit() {
            self.at += 1;
        }
        (self.at > from).then_some(())
    }

    fn number(&mut self) -> Option<JsonValue> {
        let from = self.at;
        self.at += usize::from(self.peek() == b'-');
        let zero = self.peek() == b'0';
        let first = self.at;
        self.digits()?;
        if zero && self.at > first + 1 {
            return None;
        }
        if self.peek() == b'.' {
            self.at += 1;
            self.digits()?;
        }
        if matches!(self.peek(), b'e' | b'E') {
            self.at += 1;
            self.at += usize::from(matches!(self.peek(), b'+' | b'-'));
            self.digits()?;
        }
        Some(JsonValue::Written(self.text[from..self.at].to_string()))
    }

    fn string(&mut self) -> Option<String> {
        if self.peek() != b'"' {
            return None;
        }
        self.at += 1;
        let mut string = String::new();
        loop {
            let from = self.at;
            // neither stands inside a letter of several bytes
            while !matches!(self.peek(), b'"' | b'\\' | 0..b' ') {
                self.at += 1;
            }
            string.push_str(&self.text[from..self.at]);
            match self.peek() {
                b'"' => {
                    self.at += 1;
                    return Some(string);
                }
                b'\\' => string.push(self.escaped()?),
                _ => return None,
            }
        }
    }

    fn escaped(&mut self) -> Option<char> {
        self.at += 2;
        Some(match self.text.as_bytes().get(self.at - 1)? {
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => {
                let first = self.hex()?;
                // a letter beyond the first plane comes in two halves
                if (0xd800..0xdc00).contains(&first) {
                    self.at += 2;
                    let second = self.hex().filter(|half| (0xdc00..0xe000).contains(half))?;
                    let between = self.text.as_bytes().get(self.at - 6..self.at - 4)?;
                    if between != b"\\u" {
                        return None;
                    }
                    return char::from_u32(0x10000 + ((first - 0xd800) << 10) + (second - 0xdc00));
                }
                return char::from_u32(first);
            }
            byte @ (b'"' | b'\\' | b'/') => char::from(*byte),
            _ => return None,
        })
    }

    /// Four digits of sixteen.
    fn hex(&mut self) -> Option<u32> {
        let digits = self.text.as_bytes().get(self.at..self.at + 4)?;
        self.at += 4;
        digits.iter().try_fold(0, |value, digit| {
            Some(value * 16 + char::from(*digit).to_digit(16)?)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Both readers' values of a text, as the JSON crate has them.
    fn both(text: &str) -> (Option<serde_json::Value>, Option<serde_json::Value>) {
        let ours = read(text).ok().map(serde_json::Value::from);
        (ours, serde_json::from_str(text).ok())
    }

    #[test]
    fn what_is_json_is_read_as_the_json_crate_reads_it() {
        for text in [
            r#" {"a": [1, -0.5e+3, {}, [], null, true, false], "b" : "x\"\\\/\b\f\n\r\t"} "#,
            r#"{"a": 1, "b": 2, "a": 3}"#,
            r#""é \u00e9 \ud83d\ude00 😀""#,
            r#""\ud83d""#,
            r#""\ud83dxxde00""#,
            r#""\ude00""#,
            r#""\u12""#,
            "\"a\nb\"",
            "\"",
            "\"\\",
            "",
            "01",
            "-",
            "1.",
            "1e",
            "-0",
            "[1,]",
            "{\"a\":1,}",
            "{a:1}",
            "[1] 2",
            "nul",
            "\u{0}",
            "[\"é\", é]",
        ] {
            let (ours, theirs) = both(text);
            assert_eq!(ours, theirs, "{text}");
        }
        let deep = |levels: usize| "[".repeat(levels) + &"]".repeat(levels);
        for levels in [126, 127, 128, 129, 100_000] {
            assert_eq!(read(&deep(levels)).is_ok(), levels <= 127, "{levels}");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_json_for_both_or_for_neither(text in "[\\[\\]{}:,\"0-9.eE+a \\\\u-]{0,12}|\\PC*") {
            let (ours, theirs) = both(&text);
            prop_assert_eq!(ours.is_some(), theirs.is_some(), "{}", text);
        }
    }
}
