//! Where parts of a block or a link stand in its file.

use std::ops::Range;

/// Where a word of a fence's opening line stands.
pub fn info_span(text: &str, range: Range<usize>, word: &str) -> Range<usize> {
    let line = text
        .get(range.clone())
        .and_then(|block| block.lines().next())
        .unwrap_or("");
    match line.find(word) {
        Some(at) => range.start + at..range.start + at + word.len(),
        None => range.start..range.start + line.len(),
    }
}

/// Where a part of a link or image stands; the whole of it where the part lies elsewhere.
pub fn part_span(text: &str, range: Range<usize>, part: &str) -> Range<usize> {
    match text.get(range.clone()).and_then(|whole| whole.rfind(part)) {
        Some(at) if !part.is_empty() => range.start + at..range.start + at + part.len(),
        _ => range,
    }
}
