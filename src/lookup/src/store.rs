//! Texts as sequences of pieces (words and what stands between them), each piece
//! stored once, the frequent ones in one byte.

use crate::bytes::{ByteReader, put_block, put_number};
use crate::fold::shorten;
use rustc_hash::FxHashMap;

/// Longer pieces are split, so that a damaged store can't swell without bound.
const LONGEST: usize = 48;

/// How many bytes a piece has, about: doubled step by step, a large list would be copied as often.
const A_PIECE: usize = 5;

/// Cuts a text into runs of letters and digits, and runs of anything else. The space between two
/// words goes without saying.
fn pieces<'t>(text: &'t str, found: &mut Vec<&'t str>) {
    found.clear();
    let mut rest = text;
    while let Some(&byte) = rest.as_bytes().first() {
        let word = match byte.is_ascii() {
            true => byte.is_ascii_alphanumeric(),
            false => is_word(rest),
        };
        // no farther than it may reach: a long run would be searched again for each piece
        let mut end = run(shorten(rest, LONGEST + 4), word);
        let continued = end > LONGEST;
        if continued {
            end = shorten(rest, LONGEST).len();
        }
        let (piece, after) = rest.split_at(end);
        if word
            && let [.., before, " "] = found[..]
            && is_word(before)
        {
            found.pop();
        }
        found.push(piece);
        if continued && word {
            // two words in a row would get a space between them
            found.push("");
        }
        rest = after;
    }
}

/// What a byte is: a letter or digit of ASCII, something else of it, or a part of another letter.
#[derive(Clone, Copy, PartialEq, Eq)]
enum ByteKind {
    Word,
    Mark,
    Other,
}

/// Looked up for every byte that a handbook shows.
const KINDS: [ByteKind; 256] = {
    let mut kinds = [ByteKind::Other; 256];
    let mut byte = 0;
    while byte < 128 {
        kinds[byte] = match (byte as u8).is_ascii_alphanumeric() {
            true => ByteKind::Word,
            false => ByteKind::Mark,
        };
        byte += 1;
    }
    kinds
};

/// How far a run goes; most letters are ASCII.
fn run(text: &str, word: bool) -> usize {
    let kind = |byte: u8| KINDS[usize::from(byte)];
    let same = if word { ByteKind::Word } else { ByteKind::Mark };
    let Some(end) = text.bytes().position(|byte| kind(byte) != same) else {
        return text.len();
    };
    if kind(text.as_bytes()[end]) != ByteKind::Other {
        return end;
    }
    let other = text[end..].find(|letter: char| letter.is_alphanumeric() != word);
    other.map_or(text.len(), |other| end + other)
}

fn is_word(piece: &str) -> bool {
    piece.starts_with(char::is_alphanumeric)
}

/// Writes all `texts`; the place of a text is its number.
pub(crate) fn write_store(texts: &[&str]) -> Vec<u8> {
    // each piece once, with how often it occurs, and the texts as the places of their pieces
    let mut numbers: FxHashMap<&str, u32> = FxHashMap::default();
    let mut counts: Vec<u32> = Vec::new();
    let letters: usize = texts.iter().map(|text| text.len()).sum();
    let mut split: Vec<u32> = Vec::with_capacity(letters / A_PIECE);
    let mut lengths = Vec::with_capacity(texts.len());
    let mut found = Vec::new();
    for text in texts {
        pieces(text, &mut found);
        lengths.push(found.len());
        for &piece in &found {
            let number = *numbers.entry(piece).or_insert(counts.len() as u32);
            match counts.get_mut(number as usize) {
                Some(count) => *count += 1,
                None => counts.push(1),
            }
            split.push(number);
        }
    }
    let mut order: Vec<(&str, u32)> = numbers.into_iter().collect();
    let count = |number: u32| counts[number as usize];
    order.sort_by(|a, b| count(b.1).cmp(&count(a.1)).then(a.0.cmp(b.0)));
    let mut codes = vec![0; order.len()];
    for (code, (_, number)) in (0u32..).zip(&order) {
        codes[*number as usize] = code;
    }

    let mut out = Vec::with_capacity(letters / 3);
    put_number(&mut out, order.len() as u32);
    for (piece, _) in &order {
        put_number(&mut out, piece.len() as u32);
    }
    for (piece, _) in &order {
        out.extend_from_slice(piece.as_bytes());
    }
    let mut split = split.into_iter();
    let mut coded = Vec::new();
    for length in lengths {
        coded.clear();
        for number in split.by_ref().take(length) {
            put_number(&mut coded, codes[number as usize]);
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
