//! What a person is told: which text of the language file, and with what in its places.
//!
//! This crate holds no language. A message has no `Display`: a `Language` words it, wherever it
//! leaves for a reader.

mod english;
mod language;

pub use english::in_english;
pub use language::Language;

/// One constructor a text of the language file, with its places as arguments: a text without
/// words can't be told, and one that nothing tells isn't compiled.
#[deny(dead_code)]
pub(crate) mod tell {
    include!(concat!(env!("OUT_DIR"), "/tell.rs"));
}

/// Something told, or nothing: texts of the language by their numbers, around data such as labels
/// and printed numbers, which stay as they are.
///
/// It is one text with marks in it, which costs the browser's engine the least: a text of the
/// language stands between `OPEN` and `CLOSE`, its number first, `NEXT` before each further place.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Message(String);

const OPEN: char = '\u{1}';
const NEXT: char = '\u{2}';
const CLOSE: char = '\u{3}';

/// Numbers of texts, as letters: beyond every mark.
const FIRST_TEXT: u32 = 0x100;

impl Message {
    /// A text that is data: somebody's own words, or a printed number.
    pub fn data(text: &str) -> Message {
        let mut message = Message::default();
        message.push(&text);
        message
    }

    /// A text of the language, by its number there.
    fn of(text: u32, places: &[&dyn MessagePart]) -> Message {
        let mut message = Message(OPEN.to_string());
        message.0.extend(char::from_u32(FIRST_TEXT + text));
        for (at, place) in places.iter().enumerate() {
            if at > 0 {
                message.0.push(NEXT);
            }
            place.put(&mut message.0);
        }
        message.0.push(CLOSE);
        message
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub(crate) fn push(&mut self, told: &dyn MessagePart) {
        told.put(&mut self.0);
    }

    /// One after the other.
    pub(crate) fn joined(messages: &[Message], between: &str) -> Message {
        Message(crate::words::joined(messages, between))
    }
}

/// For `joined` alone: marks and all.
impl AsRef<str> for Message {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

/// What may stand in a place.
pub(crate) trait MessagePart {
    fn put(&self, into: &mut String);
}

impl MessagePart for Message {
    fn put(&self, into: &mut String) {
        into.push_str(&self.0);
    }
}

impl MessagePart for &str {
    /// Without what would be taken for a mark.
    fn put(&self, into: &mut String) {
        into.extend(self.chars().filter(|c| *c > CLOSE));
    }
}

impl MessagePart for String {
    fn put(&self, into: &mut String) {
        self.as_str().put(into);
    }
}

#[cfg(test)]
mod tests;
