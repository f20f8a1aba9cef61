//! The one place where a message gets its words.

use std::str::Chars;

use serde::{Deserialize, Serialize};

use super::{CLOSE, FIRST_TEXT, Message, NEXT, OPEN, tell};

/// The texts of a language file by their numbers. Each place in them is a letter below any that a
/// text holds: the first place `\u{1}`.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
pub struct Language {
    pub(super) texts: Vec<String>,
}

impl Language {
    /// The message in words.
    pub fn say(&self, message: &Message) -> String {
        let mut said = String::new();
        self.expand(&mut message.0.chars(), &mut said);
        said
    }

    /// Words that say little by themselves, in small letters, with spaces between them.
    pub fn small_words(&self) -> String {
        self.say(&tell::asking::small())
    }

    /// What asks for a value in a question's words, with commas between.
    pub fn asking_words(&self) -> String {
        self.say(&tell::asking::value())
    }

    /// Up to the mark that ends this place, which it gives back.
    fn expand(&self, marked: &mut Chars<'_>, said: &mut String) -> char {
        while let Some(c) = marked.next() {
            match c {
                OPEN => self.fill(marked, said),
                NEXT | CLOSE => return c,
                _ => said.push(c),
            }
        }
        CLOSE
    }

    /// A text of the language, with what stands in its places.
    fn fill(&self, marked: &mut Chars<'_>, said: &mut String) {
        let text = marked.next().map_or(0, u32::from).wrapping_sub(FIRST_TEXT);
        let mut places = Vec::new();
        loop {
            let mut place = String::new();
            let end = self.expand(marked, &mut place);
            places.push(place);
            if end == CLOSE {
                break;
            }
        }
        for c in self
            .texts
            .get(text as usize)
            .map_or("", String::as_str)
            .chars()
        {
            match places.get((c as usize).wrapping_sub(1)) {
                Some(place) => said.push_str(place),
                None => said.push(c),
            }
        }
    }
}
