//! Prose cut into sentences and words.

use std::borrow::Cow;
use std::ops::Range;

use gaugeleaf_calc::unit::Unit;

use crate::prose::passage::{BREAK, CODE, VALUE};

/// Words whose full stop ends no sentence.
const SHORTENED: [&str; 8] = ["no", "fig", "e.g", "i.e", "approx", "vs", "cf", "incl"];

/// As many letters are looked at for one of them: more than the longest has.
const LOOK_BACK: usize = 8;

/// How many bytes a word has at the least, about: grown one by one, the words would be moved about.
const A_WORD: usize = 4;

/// A sentence: where it stands, and which of its text's words are its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sentence {
    pub range: Range<usize>,
    pub words: Range<usize>,
}

/// A text's sentences and all its words.
pub fn read(text: &str) -> (Vec<Sentence>, Vec<Word<'_>>) {
    let mut all = Vec::with_capacity(text.len() / A_WORD + 1);
    let sentences = sentences(text).into_iter().map(|range| {
        let first = all.len();
        words(text, range.clone(), &mut all);
        Sentence {
            range,
            words: first..all.len(),
        }
    });
    (sentences.collect(), all)
}

/// The sentences of a text, without the spaces around them.
fn sentences(text: &str) -> Vec<Range<usize>> {
    let mut cuts = Vec::new();
    let mut start = 0;
    for (at, byte) in text.bytes().enumerate() {
        let end = match byte {
            b'.' | b'!' | b'?' => at + 1,
            // the first byte of BREAK, which is in the middle of no other letter
            0xE2 if text[at..].starts_with(BREAK) => at + BREAK.len_utf8(),
            _ => continue,
        };
        if !byte.is_ascii() || ends_here(&text[start..at], &text[end..]) {
            let closing = text[end..].len()
                - text[end..]
                    .trim_start_matches(['"', '”', '’', ')', '\''])
                    .len();
            cuts.push(start..end + closing);
            start = end + closing;
        }
    }
    cuts.push(start..text.len());
    cuts.into_iter()
        .map(|cut| trimmed(text, cut))
        .filter(|cut| text[cut.clone()].contains(is_wordlike))
        .collect()
}

/// Whether a stop between these two ends a sentence.
fn ends_here(before: &str, after: &str) -> bool {
    let near = before.char_indices().rev().take(LOOK_BACK).last();
    let near = near.map_or("", |(at, _)| &before[at..]);
    let word = near.rsplit([' ', '(', '\u{A0}']).next().unwrap_or("");
    if SHORTENED.contains(&word.to_lowercase().as_str()) {
        return false;
    }
    let rest = after.trim_start_matches(['"', '”', '’', ')', '\'']);
    let next = rest.trim_start();
    if next.is_empty() {
        return true;
    }
    rest.len() != next.len() && !next.starts_with(char::is_lowercase)
}

fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let blank = |c: char| c.is_whitespace() || c == BREAK;
    let piece = &text[range.clone()];
    let start = range.start + (piece.len() - piece.trim_start_matches(blank).len());
    let piece = &text[start..range.end];
    start..start + piece.trim_end_matches(blank).len()
}

fn is_wordlike(character: char) -> bool {
    character.is_ascii_alphanumeric()
        || !character.is_ascii()
            && (character.is_alphanumeric() || matches!(character, VALUE | CODE))
}

/// A word and its place, without the punctuation around it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word<'t> {
    /// In small letters; most words are written so.
    pub text: Cow<'t, str>,
    pub range: Range<usize>,
    /// A comma, colon or the like stands right before it.
    pub after_comma: bool,
}

/// Adds the words of a sentence; their places count from the text's start.
fn words<'t>(text: &'t str, within: Range<usize>, words: &mut Vec<Word<'t>>) {
    let (mut at, mut before, mut comma) = (within.start, ' ', false);
    let mut bare: Option<Range<usize>> = None;
    let mut end = |bare: Range<usize>, after_comma| {
        words.push(Word {
            text: small(&text[bare.clone()]),
            range: bare,
            after_comma,
        });
    };
    while let Some(letter) = text[at..within.end].chars().next() {
        let start = at;
        at += letter.len_utf8();
        if is_wordlike(letter) {
            // most letters are ASCII
            let more = text.as_bytes()[at..within.end].iter();
            at += more.take_while(|byte| byte.is_ascii_alphanumeric()).count();
            bare.get_or_insert(start..at).end = at;
        } else if parts(letter) {
            if let Some(bare) = bare.take() {
                end(bare, comma);
            }
            if !parts(before) {
                comma = matches!(before, ',' | ';' | ':');
            }
        }
        before = letter;
    }
    if let Some(bare) = bare {
        end(bare, comma);
    }
}

/// Whether no word goes on over it, whatever stands there.
fn parts(letter: char) -> bool {
    letter.is_whitespace() || matches!(letter, BREAK | '—' | '–')
}

/// A word in small letters, with a plain apostrophe.
fn small(word: &str) -> Cow<'_, str> {
    let plain = |byte: u8| byte.is_ascii() && !byte.is_ascii_uppercase();
    if word.bytes().all(plain) || word == "\u{E000}" {
        return Cow::Borrowed(word);
    }
    if word.is_ascii() {
        return Cow::Owned(word.to_ascii_lowercase());
    }
    Cow::Owned(word.to_lowercase().replace('’', "'"))
}

/// How many words a reader reads: a number and its unit are one.
pub fn count(words: &[Word<'_>]) -> usize {
    let bound = words.windows(2).filter(|pair| {
        pair[0].text.ends_with(|c: char| c.is_ascii_digit()) && Unit::parse(&pair[1].text).is_ok()
    });
    words.len() - bound.count()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(text: &str) -> Vec<&str> {
        sentences(text).into_iter().map(|at| &text[at]).collect()
    }

    #[test]
    fn sentences_end_at_stops_that_a_new_one_follows() {
        assert_eq!(
            cut("Read no. 3, e.g. twice. Call \"clear.\" Go to 3.5 or more. Wait!"),
            [
                "Read no. 3, e.g. twice.",
                "Call \"clear.\"",
                "Go to 3.5 or more.",
                "Wait!"
            ]
        );
        assert_eq!(
            cut("One\u{2029}Two. \u{E000} is."),
            ["One", "Two.", "\u{E000} is."]
        );
    }

    #[test]
    fn a_value_is_one_word_and_a_unit_belongs_to_its_number() {
        let of = |text: &str| count(&read(text).1);
        assert_eq!(of("Raise it to \u{E000}, slowly."), 5);
        assert_eq!(of("Wait 3 min – then go."), 4);
    }
}
