//! Findings: what is wrong with an input, where, and what to write instead.
//!
//! A finding is a fact (code, place, words); how it is shown is the business of
//! whoever shows it: the terminal, the page or a machine.

use std::ops::Range;

/// How much a finding weighs: an error stops a publish, a warning doesn't.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    Error,
    Warning,
}

/// One fault in one place of one file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    pub level: Level,
    /// A stable name for this kind of fault, in kebab case.
    pub code: &'static str,
    /// Says by itself what is wrong: lower case, no full stop.
    pub message: String,
    /// The file's path inside the handbook, with forward slashes.
    pub file: String,
    /// Byte range of the offending text in that file.
    pub span: Range<usize>,
    /// What to write instead.
    pub help: Option<String>,
}

impl Finding {
    pub fn error(
        code: &'static str,
        file: &str,
        span: Range<usize>,
        message: impl Into<String>,
    ) -> Self {
        Finding {
            level: Level::Error,
            code,
            message: message.into(),
            file: file.to_string(),
            span,
            help: None,
        }
    }

    pub fn warning(
        code: &'static str,
        file: &str,
        span: Range<usize>,
        message: impl Into<String>,
    ) -> Self {
        Finding {
            level: Level::Warning,
            ..Finding::error(code, file, span, message)
        }
    }

    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

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

/// The nearest of `names` to a misspelt one, if it is near enough to offer.
pub fn nearest<'a>(wrong: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let limit = 2.max(wrong.chars().count() / 3);
    names
        .into_iter()
        .map(|name| (edits(wrong, name), name))
        .filter(|(distance, _)| *distance <= limit)
        .min()
        .map(|(_, name)| name)
}

/// Insertions, deletions, replacements and swaps of neighbours between two words.
fn edits(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().take(64).collect();
    let b: Vec<char> = b.chars().take(64).collect();
    let mut rows = vec![vec![0; b.len() + 1]; a.len() + 1];
    for (i, row) in rows.iter_mut().enumerate() {
        row[0] = i;
    }
    rows[0] = (0..=b.len()).collect();
    for i in 1..=a.len() {
        for j in 1..=b.len() {
            let change = usize::from(a[i - 1] != b[j - 1]);
            let mut best = (rows[i - 1][j] + 1)
                .min(rows[i][j - 1] + 1)
                .min(rows[i - 1][j - 1] + change);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(rows[i - 2][j - 2] + 1);
            }
            rows[i][j] = best;
        }
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_not_bytes() {
        assert_eq!(line_column("é½x", 4), (1, 3));
        assert_eq!(line_column("", 99), (1, 1));
    }

    #[test]
    fn a_near_name_is_offered_and_a_far_one_is_not() {
        assert_eq!(
            nearest("pitch-spam", ["guide-tube-length", "pitch-span"]),
            Some("pitch-span")
        );
        assert_eq!(nearest("zzz", ["guide-tube-length", "pitch-span"]), None);
    }
}
