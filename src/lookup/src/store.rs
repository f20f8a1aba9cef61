//! Texts as sequences of pieces (words and what stands between them), each piece
//! stored once, the frequent ones in one byte.

use crate::bytes::{ByteReader, put_block, put_number};
use crate::fold::shorten;
use std::collections::HashMap;

/// Longer pieces are split, so that a damaged store can't swell without bound.
const LONGEST: usize = 48;

/// A run of letters and digits, or a run of anything else.
fn pieces(text: &str) -> Vec<&str> {
    let mut found: Vec<&str> = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let word = first.is_alphanumeric();
        // no farther than it may reach: a long run would be searched again for each piece
        let near = shorten(rest, LONGEST + 4);
        let mut end = near
            .find(|letter: char| letter.is_alphanumeric() != word)
            .unwrap_or(near.len());
        let continued = end > LONGEST;
        if continued {
            end = shorten(rest, LONGEST).len();
        }
        let (piece, after) = rest.split_at(end);
        found.push(piece);
        if continued && word {
            // two words in a row would get a space between them
            found.push("");
        }
        rest = after;
    }
    drop_single_spaces(found)
}

fn is_word(piece: &str) -> bool {
    piece.starts_with(char::is_alphanumeric)
}

/// The space between two words goes without saying.
fn drop_single_spaces(found: Vec<&str>) -> Vec<&str> {
    let kept = |at: usize| {
        let implied = found[at] == " "
            && at > 0
            && is_word(found[at - 1])
            && found.get(at + 1).is_some_and(|next| is_word(next));
        !implied
    };
    (0..found.len())
        .filter(|&at| kept(at))
        .map(|at| found[at])
        .collect()
}

/// Writes all `texts`; the place of a text is its number.
pub(crate) fn write_store(texts: &[&str]) -> Vec<u8> {
    let split: Vec<Vec<&str>> = texts.iter().map(|text| pieces(text)).collect();
    let mut counts: HashMap<&str, u32> = HashMap::new();
    for piece in split.iter().flatten() {
        *counts.entry(piece).or_default() += 1;
    }
    let mut order: Vec<(&str, u32)> = counts.into_iter().collect();
    order.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(b.0)));
    let codes: HashMap<&str, u32> = (0u32..)
        .zip(&order)
        .map(|(code, (piece, _))| (*piece, code))
        .collect();

    let mut out = Vec::new();
    put_number(&mut out, order.len() as u32);
    for (piece, _) in &order {
        put_number(&mut out, piece.len() as u32);
    }
    for (piece, _) in &order {
        out.extend_from_slice(piece.as_bytes());
    }
    for text in &split {
        let mut coded = Vec::new();
        for piece in text {
            put_number(&mut coded, codes.get(piece).copied().unwrap_or(0));
        }
        put_block(&mut out, &coded);
    }
    out
}

/// The texts, ready to be put together.
pub(crate) struct Store {
    bytes: Vec<u8>,
    /// All pieces, one after the other, and where each lies.
    letters: Vec<u8>,
    pieces: Vec<TextSpan>,
    texts: Vec<(usize, usize)>,
}

struct TextSpan {
    start: usize,
    end: usize,
    word: bool,
}

impl Store {
    pub(crate) fn open(bytes: &[u8]) -> Option<Store> {
        let mut reader = ByteReader::new(bytes);
        let count = reader.number()?;
        let mut lengths = Vec::new();
        for _ in 0..count {
            let length = usize::try_from(reader.number()?).ok()?;
            if length > LONGEST {
                return None;
            }
            lengths.push(length);
        }
        let letters = reader.take(lengths.iter().sum())?;
        let letters = std::str::from_utf8(letters).ok()?;
        let mut pieces = Vec::new();
        let mut start = 0;
        for length in lengths {
            let end = start + length;
            let word = is_word(letters.get(start..end)?);
            pieces.push(TextSpan { start, end, word });
            start = end;
        }
        let mut texts = Vec::new();
        while !reader.is_empty() {
            let length = reader.block()?.len();
            let end = bytes.len() - reader.left();
            texts.push((end - length, end));
        }
        Some(Store {
            bytes: bytes.to_vec(),
            letters: letters.as_bytes().to_vec(),
            pieces,
            texts,
        })
    }

    /// How many texts it holds.
    pub(crate) fn texts(&self) -> usize {
        self.texts.len()
    }

    /// The text of that number, as it was; empty when there is none.
    pub(crate) fn text(&self, number: usize) -> String {
        let Some(&(start, end)) = self.texts.get(number) else {
            return String::new();
        };
        let coded = self.bytes.get(start..end).unwrap_or(&[]);
        let mut text = Vec::with_capacity(8 * coded.len());
        let mut reader = ByteReader::new(coded);
        let mut after_word = false;
        while let Some(piece) = reader
            .number()
            .and_then(|code| self.pieces.get(code as usize))
        {
            if piece.word && after_word {
                text.push(b' ');
            }
            text.extend_from_slice(self.letters.get(piece.start..piece.end).unwrap_or(&[]));
            after_word = piece.word;
        }
        String::from_utf8(text).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn round_trip(texts: &[&str]) -> Vec<String> {
        let store = Store::open(&write_store(texts)).expect("what was written opens");
        (0..texts.len()).map(|number| store.text(number)).collect()
    }

    #[test]
    fn a_long_word_comes_back_without_a_space_in_it() {
        let long = "é".repeat(90);
        assert_eq!(round_trip(&[&long]).concat(), long);
    }

    #[test]
    fn prose_takes_less_than_half_its_bytes() {
        let text = "Close the stop until it drags on the hose, then back it off. ".repeat(40);
        assert!(write_store(&[&text]).len() * 2 < text.len());
    }

    proptest! {
        #[test]
        fn every_text_comes_back_as_it_was(
            texts in prop::collection::vec("[a-c ,é\u{a0}]{0,12}|\\PC{0,80}", 0..6)
        ) {
            let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
            prop_assert_eq!(round_trip(&texts), texts);
        }
    }
}
