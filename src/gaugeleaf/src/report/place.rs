//! Lines and columns of many places in one text, without reading it anew for each.

/// Where each line of a text starts.
pub struct LineIndex<'t> {
    text: &'t str,
    starts: Vec<usize>,
}

impl<'t> LineIndex<'t> {
    pub fn new(text: &'t str) -> Self {
        let after = text.match_indices('\n').map(|(at, _)| at + 1);
        LineIndex {
            text,
            starts: std::iter::once(0).chain(after).collect(),
        }
    }

    /// Line and column of a byte offset, both from 1; columns count characters.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        let line = self.starts.partition_point(|start| *start <= offset);
        let start = self
            .starts
            .get(line.saturating_sub(1))
            .copied()
            .unwrap_or(0);
        (line.max(1), self.text[start..offset].chars().count() + 1)
    }
}

#[cfg(test)]
mod tests {
    use crate::report::place::LineIndex;
    use gaugeleaf_finding::line_column;

    #[test]
    fn every_place_is_where_the_plain_way_finds_it() {
        for text in ["", "\n", "é½x\n\r\n\tab", "a\nb\n"] {
            let index = LineIndex::new(text);
            for offset in 0..text.len() + 2 {
                assert_eq!(
                    index.line_column(offset),
                    line_column(text, offset),
                    "{offset} in {text:?}"
                );
            }
        }
    }
}
