//! Names as headings.

/// A name as words: `hose_fits` is "Hose fits".
pub fn worded(name: &str) -> String {
    let words = name.replace(['_', '-'], " ");
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::worded;

    #[test]
    fn a_name_is_worded_for_a_heading() {
        assert_eq!(worded("hose_fits"), "Hose fits");
        assert_eq!(worded(""), "");
    }
}
