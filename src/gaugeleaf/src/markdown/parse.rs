//! Ranges of parsed text.

use std::ops::Range;

/// A range without the line end that Markdown counts to a block.
pub fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let piece = text.get(range.clone()).unwrap_or("");
    range.start..range.start + piece.trim_end().len()
}
