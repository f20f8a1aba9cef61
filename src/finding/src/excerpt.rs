//! A piece of a file read on its own, that still knows where it stood.
//!
//! The body of a fenced block inside a list or a quote isn't contiguous in its
//! file: indentation and quote marks lie between its lines. An excerpt is the body
//! as one text, with the way back from its offsets to the file's.

use std::ops::Range;

use crate::place;

/// A text put together from pieces of a file.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Excerpt {
    text: String,
    /// Where each piece starts: in the text, and in the file.
    starts: Vec<(usize, usize)>,
    /// Where the excerpt stands when it is empty.
    home: usize,
}

impl Excerpt {
    /// An empty excerpt at a place of the file.
    pub fn at(home: usize) -> Self {
        Excerpt {
            home,
            ..Excerpt::default()
        }
    }

    /// A whole file.
    pub fn whole(text: &str) -> Self {
        let mut excerpt = Excerpt::at(0);
        excerpt.push(text, 0);
        excerpt
    }

    /// Adds the next piece, which starts at `offset` in the file.
    pub fn push(&mut self, piece: &str, offset: usize) {
        self.starts.push((self.text.len(), offset));
        self.text.push_str(piece);
    }

    pub fn text(&self) -> &str {
        &self.text
    }

    /// The file's range for a range of the text.
    pub fn locate(&self, range: Range<usize>) -> Range<usize> {
        if range == (0..0) && self.starts == [(0, 0)] {
            return 0..self.text.chars().next().map_or(0, char::len_utf8);
        }
        let start = self.offset(range.start);
        start
            ..self
                .offset(range.end.saturating_sub(1))
                .saturating_add(1)
                .max(start)
    }

    /// A range of the file with something to stand under, where this is the whole file.
    pub fn widened(&self, span: Range<usize>) -> Range<usize> {
        match self.starts.as_slice() {
            [(0, 0)] => place::widened(&self.text, span),
            _ => span,
        }
    }

    fn offset(&self, at: usize) -> usize {
        let piece = self.starts.iter().rev().find(|(start, _)| *start <= at);
        piece.map_or(self.home, |(start, offset)| offset + (at - start))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn offsets_in_a_body_lead_back_to_its_lines_in_the_file() {
        let mut excerpt = Excerpt::at(0);
        excerpt.push("a = 1\n", 12);
        excerpt.push("b = 2\n", 24);
        assert_eq!(excerpt.text(), "a = 1\nb = 2\n");
        assert_eq!(excerpt.locate(4..5), 16..17);
        assert_eq!(excerpt.locate(6..7), 24..25);
    }

    #[test]
    fn an_empty_excerpt_stands_at_its_home() {
        assert_eq!(Excerpt::at(7).locate(0..0), 7..8);
    }

    #[test]
    fn the_start_of_a_file_is_its_first_letter_if_it_has_one() {
        assert_eq!(Excerpt::whole("").locate(0..0), 0..0);
        assert_eq!(Excerpt::whole("½").locate(0..0), 0..2);
        assert_eq!(Excerpt::whole("ab").locate(0..0), 0..1);
    }
}
