//! What people say and what the handbook says for it.

use crate::bytes::{ByteReader, put_block, put_number};
use crate::slips::slips_of;
use crate::stem::stem;
use crate::token::{has_digit, tokens};
use levenshtein_automata::DFA;

/// `back-out preventer` for `hose stop`, as folded words.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Synonym {
    pub(crate) said: Vec<String>,
    pub(crate) meant: Vec<Vec<String>>,
}

pub(crate) fn write_synonyms(synonyms: &[(String, Vec<String>)]) -> Vec<u8> {
    let mut out = Vec::new();
    for (said, meant) in synonyms {
        put_block(&mut out, said.as_bytes());
        put_number(&mut out, meant.len() as u32);
        for meant in meant {
            put_block(&mut out, meant.as_bytes());
        }
    }
    out
}

pub(crate) fn read_synonyms(bytes: &[u8]) -> Option<Vec<Synonym>> {
    let mut reader = ByteReader::new(bytes);
    let mut found = Vec::new();
    while !reader.is_empty() {
        let said = words(reader.block()?)?;
        let mut meant = Vec::new();
        for _ in 0..reader.number()? {
            meant.push(words(reader.block()?)?);
        }
        meant.retain(|words| !words.is_empty());
        if !said.is_empty() {
            found.push(Synonym { said, meant });
        }
    }
    Some(found)
}

/// A text as folded words.
pub(crate) fn words(text: &[u8]) -> Option<Vec<String>> {
    let text = std::str::from_utf8(text).ok()?;
    Some(tokens(text).into_iter().map(|token| token.text).collect())
}

/// How near a typed word is to a word of a synonym: 1 the same, 0 not at all.
pub(crate) fn likeness(typed: &str, automaton: Option<&DFA>, word: &str, unfinished: bool) -> f32 {
    if typed == word || (!has_digit(typed) && stem(typed) == stem(word)) {
        return 1.0;
    }
    if unfinished && typed.len() >= 3 && !has_digit(typed) && word.starts_with(typed) {
        return 0.8;
    }
    match automaton.and_then(|automaton| slips_of(automaton, word)) {
        Some(0 | 1) if !has_digit(word) => 0.6,
        Some(_) if !has_digit(word) => 0.4,
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn synonyms_come_back_as_folded_words() {
        let bytes = write_synonyms(&[
            ("Back-out preventer".into(), vec!["Hose stop".into()]),
            ("…".into(), vec!["lance".into()]),
        ]);
        assert_eq!(
            read_synonyms(&bytes),
            Some(vec![Synonym {
                said: vec!["back".into(), "out".into(), "preventer".into()],
                meant: vec![vec!["hose".into(), "stop".into()]],
            }])
        );
    }

    #[test]
    fn a_number_in_a_synonym_is_exact() {
        assert_eq!(likeness("10", None, "100", true), 0.0);
        assert_eq!(likeness("stingers", None, "stinger", false), 1.0);
        assert_eq!(likeness("stin", None, "stinger", true), 0.8);
        assert_eq!(likeness("stin", None, "stinger", false), 0.0);
    }
}
