//! A text as the words and numbers it is found by.

use crate::fold::{fold_letter, in_word, shorten};
use crate::number::{read_number, vulgar};

/// Longer words are cut: nobody types them, and every step stays bounded.
pub(crate) const LONGEST: usize = 64;

/// A word or number of a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Token {
    /// Folded; a number in its one exact form.
    pub(crate) text: String,
    /// Byte range in the text.
    pub(crate) start: usize,
    pub(crate) end: usize,
}

/// A word with a digit is matched exactly or not at all.
pub(crate) fn has_digit(text: &str) -> bool {
    text.bytes().any(|b| b.is_ascii_digit())
}

/// The tokens of `text`, in order.
pub(crate) fn tokens(text: &str) -> Vec<Token> {
    let mut found = Vec::new();
    each_token(text, |text, start, end| {
        let text = text.to_string();
        found.push(Token { text, start, end });
    });
    found
}

/// Hands the tokens of `text` with their byte ranges to `each`, in order.
pub(crate) fn each_token(text: &str, mut each: impl FnMut(&str, usize, usize)) {
    let mut word = String::new();
    let mut at = 0;
    let mut glued_to_number = false;
    while let Some(&byte) = text.as_bytes().get(at) {
        // nearly all are plain words and what stands between them
        let plain = plain_word(&text.as_bytes()[at..]);
        let length = if let Some((length, small)) = plain {
            let letters = &text[at..at + length];
            if small {
                each(shorten(letters, LONGEST), at, at + length);
            } else {
                word.clear();
                word.push_str(letters);
                word.make_ascii_lowercase();
                each(shorten(&word, LONGEST), at, at + length);
            }
            glued_to_number = false;
            length
        } else if byte.is_ascii_alphanumeric() || byte == b'.' || !byte.is_ascii() {
            let length = read_token(text, at, &mut glued_to_number, &mut word);
            if !word.is_empty() {
                each(shorten(&word, LONGEST), at, at + length);
            }
            length
        } else {
            glued_to_number = false;
            1
        };
        at += length;
    }
}

/// How long a word of plain letters is, and whether all are small; none if anything else
/// belongs to it.
#[inline]
fn plain_word(text: &[u8]) -> Option<(usize, bool)> {
    let mut length = 0;
    let mut small = true;
    while let Some(letter) = text.get(length) {
        match letter {
            b'a'..=b'z' => {}
            b'A'..=b'Z' => small = false,
            b'\'' | b'0'..=b'9' | 0x80.. => return None,
            _ => break,
        }
        length += 1;
    }
    (length > 0).then_some((length, small))
}

/// Fills `word` with the token that stands at `at`, if one does; returns how far it goes.
fn read_token(text: &str, at: usize, glued_to_number: &mut bool, word: &mut String) -> usize {
    word.clear();
    let rest = &text[at..];
    let Some(first) = rest.chars().next() else {
        return 1;
    };
    let point = first == '.' && !text[..at].ends_with(|c: char| c.is_alphanumeric());
    if (first.is_ascii_digit() || point || vulgar(first).is_some())
        && let Some(number) = read_number(rest)
    {
        word.push_str(&number.text);
        *glued_to_number = true;
        return number.length;
    }
    let glued = std::mem::take(glued_to_number);
    if in_word(first) {
        read_word(rest, glued, word)
    } else {
        first.len_utf8()
    }
}

/// A word with the digits, points and apostrophes inside it. Glued to a number
/// (`14mm`, the `x` of `2x4`) it is letters only.
fn read_word(text: &str, letters_only: bool, word: &mut String) -> usize {
    let mut length = 0;
    let mut letters = text.chars().peekable();
    let mut last = ' ';
    while let Some(letter) = letters.next() {
        let next = letters.peek().copied().unwrap_or(' ');
        if in_word(letter) && vulgar(letter).is_none() {
            if letters_only && letter.is_ascii_digit() {
                break;
            }
            fold_letter(letter, word);
        } else if letter == '.' {
            if !(last.is_ascii_digit() && next.is_ascii_digit()) {
                break;
            }
            word.push('.');
        } else if !(matches!(letter, '\'' | '’') && last.is_alphabetic() && next.is_alphabetic())
        {
            break;
        }
        length += letter.len_utf8();
        last = letter;
    }
    length.max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str) -> Vec<String> {
        tokens(text).into_iter().map(|token| token.text).collect()
    }

    #[test]
    fn words_and_sizes_come_apart() {
        assert_eq!(
            texts("Fit the 1 1/4 in guide-tube."),
            ["fit", "the", "1-1/4", "in", "guide", "tube"]
        );
        assert_eq!(texts("355.6mm, 14\""), ["355.6", "mm", "14"]);
        assert_eq!(texts("2x4"), ["2", "x", "4"]);
        assert_eq!(texts("30° at .5"), ["30", "at", "0.5"]);
    }

    #[test]
    fn a_part_number_stays_whole() {
        assert_eq!(texts("B18.2.1 M12 GT-12."), ["b18.2.1", "m12", "gt", "12"]);
    }

    #[test]
    fn an_apostrophe_inside_a_word_is_skipped() {
        assert_eq!(texts("the operator’s"), ["the", "operators"]);
    }

    #[test]
    fn ranges_point_into_the_text() {
        let text = "Über 1½ in";
        let ranges: Vec<&str> = tokens(text)
            .iter()
            .map(|token| &text[token.start..token.end])
            .collect();
        assert_eq!(ranges, ["Über", "1½", "in"]);
    }

    #[test]
    fn an_endless_word_is_cut() {
        let long = "é".repeat(500);
        assert_eq!(texts(&long), ["e".repeat(LONGEST)]);
    }
}
