//! Lines and columns for places in a text.

use std::ops::Range;

/// Line and column of a byte offset, both from 1; columns count characters.
///
/// ```
/// assert_eq!(gaugeleaf_finding::line_column("ab\ncd", 4), (2, 2));
/// ```
pub fn line_column(text: &str, offset: usize) -> (usize, usize) {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    let before = &text[..offset];
    let line = before.matches('\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    (line, before[start..].chars().count() + 1)
}

/// A range with something to stand under: an empty one takes in the letter after it, and at the
/// end of a line the one before.
///
/// ```
/// assert_eq!(gaugeleaf_finding::widened("name =\n", 6..6), 5..6);
/// ```
pub fn widened(text: &str, span: Range<usize>) -> Range<usize> {
    let at = span.start.min(text.len());
    if !span.is_empty() || !text.is_char_boundary(at) {
        return span;
    }
    let after = text[at..].chars().next();
    let before = text[..at].chars().next_back();
    match (before, after) {
        (_, Some(letter)) if letter != '\n' => at..at + letter.len_utf8(),
        (Some(letter), _) if letter != '\n' => at - letter.len_utf8()..at,
        (_, Some(letter)) => at..at + letter.len_utf8(),
        (Some(letter), None) => at - letter.len_utf8()..at,
        (None, None) => span,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_range_takes_in_a_letter_and_any_other_stays() {
        assert_eq!(widened("a½b", 1..1), 1..3);
        assert_eq!(widened("a½\nb", 3..3), 1..3);
        assert_eq!(widened("a½", 3..3), 1..3);
        assert_eq!(widened("\n\n", 1..1), 1..2);
        assert_eq!(widened("\n", 1..1), 0..1);
        assert_eq!(widened("", 0..0), 0..0);
        assert_eq!(widened("abc", 1..3), 1..3);
    }

    #[test]
    fn columns_count_characters_not_bytes() {
        assert_eq!(line_column("é½x", 4), (1, 3));
        assert_eq!(line_column("", 99), (1, 1));
    }
}
