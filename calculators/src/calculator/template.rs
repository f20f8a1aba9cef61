//! Sentences with values in them: `Set {set_pitch}: every {skip} tubes`.

use serde::{Deserialize, Serialize};
use std::ops::Range;

use crate::message::Message;
use gaugeleaf_finding::Placed;

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Template {
    #[serde(skip)]
    pub at: Placed<String>,
    parts: Vec<TemplatePart>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
enum TemplatePart {
    Text(String),
    Name(String, #[serde(skip)] Range<usize>),
}

impl Template {
    /// Reads a sentence.
    ///
    /// # Errors
    /// The place of a brace that isn't closed.
    pub fn parse(at: Placed<String>) -> Result<Template, Range<usize>> {
        let mut parts = Vec::new();
        let text = at.value.clone();
        let mut rest = 0;
        while let Some(open) = text[rest..].find('{').map(|found| rest + found) {
            let Some(close) = text[open..].find('}').map(|found| open + found) else {
                return Err(open..text.len());
            };
            parts.push(TemplatePart::Text(text[rest..open].to_string()));
            parts.push(TemplatePart::Name(
                text[open + 1..close].trim().to_string(),
                open + 1..close,
            ));
            rest = close + 1;
        }
        parts.push(TemplatePart::Text(text[rest..].to_string()));
        Ok(Template { at, parts })
    }

    /// The names it mentions, with their places inside the sentence.
    pub fn names(&self) -> impl Iterator<Item = (&str, &Range<usize>)> {
        self.parts.iter().filter_map(|part| match part {
            TemplatePart::Name(name, span) => Some((name.as_str(), span)),
            TemplatePart::Text(_) => None,
        })
    }

    /// The sentence, whose words are its writer's, with messages for its names.
    pub(super) fn told(&self, mut value: impl FnMut(&str) -> Message) -> Message {
        let mut told = Message::default();
        for part in &self.parts {
            match part {
                TemplatePart::Text(text) => told.push(text),
                TemplatePart::Name(name, _) => told.push(&value(name)),
            }
        }
        told
    }

    pub fn fill(&self, mut value: impl FnMut(&str) -> String) -> String {
        let mut filled = String::new();
        for part in &self.parts {
            match part {
                TemplatePart::Text(text) => filled.push_str(text),
                TemplatePart::Name(name, _) => filled.push_str(&value(name)),
            }
        }
        filled
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn placed(text: &str) -> Placed<String> {
        Placed {
            value: text.into(),
            span: 0..text.len(),
        }
    }

    #[test]
    fn names_are_filled_and_an_open_brace_is_refused() {
        let template = Template::parse(placed("set {a}, not {b}.")).unwrap();
        assert_eq!(template.fill(|name| name.to_uppercase()), "set A, not B.");
        assert_eq!(Template::parse(placed("set {a")), Err(4..6));
    }
}
