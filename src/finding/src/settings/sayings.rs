//! What people say for a place, as settings hold it.

use super::Settings;
use crate::code::Code;

impl Settings<'_> {
    /// What people say for one place: each text says something, and none twice.
    pub fn sayings(&mut self, key: &'static str) -> Vec<String> {
        let mut said: Vec<String> = Vec::new();
        for text in self.texts(key) {
            let words: Vec<&str> = text.value.split_whitespace().collect();
            let words = words.join(" ").to_lowercase();
            if !words.contains(char::is_alphanumeric) {
                let fault = self.error(Code::BadPhrase, &text.span, "this says nothing");
                fault.help = Some("write the words as people say them, or leave them out".into());
            } else if said.contains(&words) {
                let message = format!("`{}` stands here twice", text.value.trim());
                let fault = self.error(Code::BadPhrase, &text.span, message);
                fault.help = Some("leave one of them out".into());
            } else {
                said.push(words);
            }
        }
        said
    }
}
