//! The name that somebody meant who misspelt it.

/// The nearest of `names` to a misspelt one, if it is near enough to offer.
pub fn nearest<'a>(wrong: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    nearest_of(wrong, &mut names.into_iter())
}

/// The same for every kind of list: the page's engine carries it once.
fn nearest_of<'a>(wrong: &str, names: &mut dyn Iterator<Item = &'a str>) -> Option<&'a str> {
    let limit = 2.max(wrong.chars().count() / 3);
    let mut best: Option<(usize, &str)> = None;
    for name in names {
        let found = (edits(wrong, name), name);
        if found.0 <= limit && best.is_none_or(|best| found < best) {
            best = Some(found);
        }
    }
    best.map(|(_, name)| name)
}

/// Letters of a word that count: what stands after them tells no two names apart.
const LETTERS: usize = 64;

/// Insertions, deletions, replacements and swaps of neighbours between two words.
pub fn edits(a: &str, b: &str) -> usize {
    let [a, b] = [a, b].map(|word| word.chars().take(LETTERS).collect::<Vec<char>>());
    // one small table of known size: the page's engine carries this
    let mut rows = [[0_u8; LETTERS + 1]; LETTERS + 1];
    for (at, count) in (0..=LETTERS).zip(0..) {
        rows[at][0] = count;
        rows[0][at] = count;
    }
    for i in 1..=a.len() {
        for j in 1..=b.len() {
            let change = u8::from(a[i - 1] != b[j - 1]);
            let mut best = (rows[i - 1][j] + 1)
                .min(rows[i][j - 1] + 1)
                .min(rows[i - 1][j - 1] + change);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(rows[i - 2][j - 2] + 1);
            }
            rows[i][j] = best;
        }
    }
    usize::from(rows[a.len()][b.len()])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_swap_is_one_edit_and_what_stands_after_many_letters_does_not_count() {
        assert_eq!(edits("reveiw", "review"), 1);
        assert_eq!(edits("", "order"), 5);
        assert_eq!(edits("lable", "tables"), 2);
        let long = "a".repeat(LETTERS);
        assert_eq!(edits(&format!("{long}b"), &long), 0);
        assert_eq!(edits(&long, ""), LETTERS);
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
