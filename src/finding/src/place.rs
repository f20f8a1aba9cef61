//! Lines and columns for places in a text.

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_not_bytes() {
        assert_eq!(line_column("é½x", 4), (1, 3));
        assert_eq!(line_column("", 99), (1, 1));
    }
}
