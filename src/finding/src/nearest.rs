//! The name that somebody meant who misspelt it.

/// The nearest of `names` to a misspelt one, if it is near enough to offer.
pub fn nearest<'a>(wrong: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    nearest_of(wrong, &mut names.into_iter())
}

/// The same for every kind of list: the page's engine carries it once.
fn nearest_of<'a>(wrong: &str, names: &mut dyn Iterator<Item = &'a str>) -> Option<&'a str> {
    let letters = wrong.chars().count();
    let limit = 2.max(letters / 3);
    let mut best: Option<(usize, &str)> = None;
    for name in names {
        // a length so different is that many edits: a text without end is compared with nothing
        if name.chars().count().abs_diff(letters) > limit {
            continue;
        }
        let found = (edits(wrong, name), name);
        if found.0 <= limit && best.is_none_or(|best| found < best) {
            best = Some(found);
        }
    }
    best.map(|(_, name)| name)
}

/// Insertions, deletions, replacements and swaps of neighbours between two words.
pub fn edits(a: &str, b: &str) -> usize {
    strsim::osa_distance(a, b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_swap_is_one_edit() {
        assert_eq!(edits("reveiw", "review"), 1);
        assert_eq!(edits("", "order"), 5);
        assert_eq!(edits("lable", "tables"), 2);
    }

    #[test]
    fn a_text_without_end_is_near_to_nothing() {
        let long = "pitch-span ".repeat(1_000_000);
        assert_eq!(nearest(&long, ["guide-tube-length", "pitch-span"]), None);
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
