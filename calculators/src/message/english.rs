//! The language that the program brings, and in which findings are told.

use std::sync::LazyLock;

use super::{Language, Message};

static TEXTS: &[&str] = include!(concat!(env!("OUT_DIR"), "/english.rs"));

impl Language {
    pub fn english() -> Language {
        Language {
            texts: TEXTS.iter().map(|text| (*text).to_string()).collect(),
        }
    }
}

/// In a finding's words: findings are for whoever writes the handbook, and are told in English.
pub fn in_english(message: &Message) -> String {
    static ENGLISH: LazyLock<Language> = LazyLock::new(Language::english);
    ENGLISH.say(message)
}
