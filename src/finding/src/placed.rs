//! A value that knows where it was written.

use std::ops::Range;

use serde::{Deserialize, Serialize};

/// A value with the range it has in its file.
///
/// The page's engine gets the value alone: nobody there can look into the file.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Placed<T> {
    pub value: T,
    #[serde(skip)]
    pub span: Range<usize>,
}

impl Placed<String> {
    /// The byte range, in the file, of a range inside this text, given how it is written there:
    /// its own offsets, unless escapes make the two differ, and then the whole of it.
    pub fn inner(&self, written: &str, range: &Range<usize>) -> Range<usize> {
        let value = self.value.as_str();
        // nearly all stand right behind a quote
        let inside = written.strip_prefix(['"', '\'']);
        let at = match inside.is_some_and(|inside| inside.starts_with(value)) {
            true => Some(1),
            false => written.find(value),
        };
        match at {
            Some(at) if !value.is_empty() => {
                let start = self.span.start + at;
                start + range.start..start + range.end
            }
            _ => self.span.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_inside_a_quoted_text_leads_into_the_file_unless_escapes_stand_in_it() {
        let file = "formula = \"a + b\"";
        let text = |value: &str| Placed {
            value: value.to_string(),
            span: 10..file.len(),
        };
        assert_eq!(text("a + b").inner(&file[10..], &(4..5)), 15..16);
        assert_eq!(text("a\tb").inner("\"a\\tb\"", &(2..3)), 10..file.len());
    }
}
