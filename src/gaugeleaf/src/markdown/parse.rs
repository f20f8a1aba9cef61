//! The one way in which Markdown is parsed.

use std::ops::Range;

use pulldown_cmark::{Options, Parser};

/// The Markdown we read: CommonMark, tables and footnotes.
pub fn parser(text: &str) -> Parser<'_> {
    Parser::new_ext(text, Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES)
}

/// A range without the line end that Markdown counts to a block.
pub fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let piece = text.get(range.clone()).unwrap_or("");
    range.start..range.start + piece.trim_end().len()
}
