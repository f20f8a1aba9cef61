//! A run of a page's words as one text, with the way back to their places in the file.

use std::ops::Range;

/// Stands for a value link: one word, whose number is the engine's.
pub const VALUE: char = '\u{E000}';
/// Stands for a name or code between ` marks: one word, not prose.
pub const CODE: char = '\u{E001}';
/// Parts the paragraphs of one step or hazard.
pub const BREAK: char = '\u{2029}';

/// Words put together from pieces of a file.
#[derive(Debug, Clone, Default)]
pub struct Passage {
    pub text: String,
    pieces: Vec<Stretch>,
}

/// A piece: where it lies in the passage, and in the file.
#[derive(Debug, Clone)]
struct Stretch {
    here: Range<usize>,
    file: Range<usize>,
}

impl Stretch {
    /// Whether it stands in the file letter for letter.
    fn literal(&self) -> bool {
        self.here.len() == self.file.len()
    }
}

impl Passage {
    pub fn push(&mut self, text: &str, file: Range<usize>) {
        let start = self.text.len();
        self.text.push_str(text);
        let here = start..self.text.len();
        self.pieces.push(Stretch { here, file });
    }

    /// One character for something that is no plain text.
    pub fn push_mark(&mut self, mark: char, file: Range<usize>) {
        self.push(mark.encode_utf8(&mut [0; 4]), file);
    }

    pub fn is_empty(&self) -> bool {
        self.text.trim().is_empty()
    }

    /// The same words, with their places told anew.
    pub fn placed(mut self, place: impl Fn(Range<usize>) -> Range<usize>) -> Passage {
        for piece in &mut self.pieces {
            piece.file = place(piece.file.clone());
        }
        self
    }

    /// The file's range for a range of the text.
    pub fn locate(&self, range: Range<usize>) -> Range<usize> {
        // each begins where the one before it ends
        let piece = |at: usize| {
            let after = self.pieces.partition_point(|piece| piece.here.end <= at);
            self.pieces.get(after)
        };
        let start = piece(range.start).map_or(0, |piece| {
            if piece.literal() {
                piece.file.start + (range.start - piece.here.start)
            } else {
                piece.file.start
            }
        });
        let end = piece(range.end.saturating_sub(1)).map_or(start, |piece| {
            if piece.literal() {
                piece.file.start + (range.end - piece.here.start)
            } else {
                piece.file.end
            }
        });
        start..end.max(start)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_over_a_mark_covers_all_that_the_mark_stands_for() {
        let mut passage = Passage::default();
        passage.push("Cut to ", 10..17);
        passage.push_mark(VALUE, 17..40);
        passage.push(" now.", 40..45);
        assert_eq!(passage.locate(4..passage.text.len()), 14..45);
        assert_eq!(passage.locate(7..7 + VALUE.len_utf8()), 17..40);
    }
}
