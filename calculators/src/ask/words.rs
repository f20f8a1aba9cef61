//! How the words of a question meet the words of titles and labels.

use super::asked::Question;
use super::scan::ScannedItem;

/// Words that ask, and name nothing.
const SMALL: [&str; 30] = [
    "a", "an", "and", "are", "at", "be", "by", "can", "do", "does", "for", "from", "give", "how",
    "i", "in", "is", "it", "my", "need", "of", "on", "or", "the", "to", "we", "what", "when",
    "which", "with",
];

/// What a word may end in and be the same.
const ENDINGS: [&str; 6] = ["", "s", "es", "d", "ed", "ing"];

/// A word of a question, and what it may mean.
#[derive(Debug)]
pub(super) struct QuestionWord {
    /// Which piece of the question it is.
    pub place: usize,
    /// As typed, and as the search understands it; in small letters.
    pub means: Vec<String>,
}

/// The words of a question that say something.
pub(super) fn said(items: &[ScannedItem], question: &Question) -> Vec<QuestionWord> {
    let mut found = Vec::new();
    for (place, item) in items.iter().enumerate() {
        let ScannedItem::Word(word) = item else {
            continue;
        };
        if is_small(word) {
            continue;
        }
        let mut means = vec![word.clone()];
        for (typed, meant) in &question.meanings {
            if typed == word {
                means.extend(meant.iter().cloned());
            }
        }
        found.push(QuestionWord { place, means });
    }
    found
}

pub(super) fn is_small(word: &str) -> bool {
    SMALL.contains(&word)
}

impl QuestionWord {
    /// Whether a title or label holds this word.
    pub fn is_in(&self, label: &[String]) -> bool {
        label
            .iter()
            .any(|word| self.means.iter().any(|means| alike(means, word)))
    }
}

/// A title or label as words in small letters.
pub(super) fn words(label: &str) -> Vec<String> {
    let words = label.split(|c: char| !c.is_alphanumeric());
    words
        .filter(|word| !word.is_empty())
        .map(str::to_ascii_lowercase)
        .collect()
}

/// The same word, or the one with an ending of the other: `stroke` and `strokes`.
fn alike(a: &str, b: &str) -> bool {
    let (short, long) = if a.len() < b.len() { (a, b) } else { (b, a) };
    match long.strip_prefix(short) {
        Some(ending) => ENDINGS.contains(&ending) && (ending.is_empty() || short.len() >= 3),
        None => false,
    }
}
