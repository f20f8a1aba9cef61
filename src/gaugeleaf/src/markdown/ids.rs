//! Addresses on a page, each given once.

use std::collections::{BTreeMap, BTreeSet};

/// Addresses that the theme's templates use on every page.
pub const RESERVED: [&str; 3] = ["main", "phases", "sign-off-title"];

/// The addresses of one page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ids {
    taken: BTreeSet<String>,
    /// The number to try next for a name that was asked for before.
    next: BTreeMap<String, usize>,
}

impl Default for Ids {
    fn default() -> Self {
        Ids {
            taken: RESERVED.map(str::to_string).into(),
            next: BTreeMap::new(),
        }
    }
}

impl Ids {
    /// The first of `name`, `name-2`, … that isn't taken, which it then is.
    pub fn give(&mut self, name: &str) -> String {
        let next = self.next.entry(name.to_string()).or_insert(1);
        loop {
            let candidate = if *next == 1 {
                name.to_string()
            } else {
                format!("{name}-{next}")
            };
            *next += 1;
            if self.taken.insert(candidate.clone()) {
                return candidate;
            }
        }
    }

    /// Whether an address was given here; those that templates use are nobody's.
    pub fn contains(&self, id: &str) -> bool {
        self.taken.contains(id) && !RESERVED.contains(&id)
    }
}

/// An address made of words.
pub fn slug(words: &str) -> String {
    let mut slug = String::new();
    for character in words.chars() {
        if character.is_alphanumeric() {
            slug.extend(character.to_lowercase());
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() {
        "part".to_string()
    } else if step_number(slug).is_some() || is_note(slug) {
        // these addresses are the steps' and the footnotes' own
        format!("{slug}-part")
    } else {
        slug.to_string()
    }
}

/// Whether an address may be a footnote's: `note-1`.
fn is_note(id: &str) -> bool {
    let number = id.strip_prefix("note-");
    number.is_some_and(|number| number.starts_with(|c: char| c.is_ascii_digit()))
}

/// A step's address, by its number from 1.
pub fn step_id(number: usize) -> String {
    format!("step-{number}")
}

/// The number in a step's address.
pub fn step_number(id: &str) -> Option<usize> {
    let number = id.strip_prefix("step-")?;
    // `step-01` is no step's address
    let number: usize = number.parse().ok()?;
    (step_id(number) == id).then_some(number)
}

#[cfg(test)]
mod tests {
    #[test]
    fn addresses_that_steps_footnotes_and_templates_use_are_nobody_elses() {
        assert_eq!(super::step_number("step-7"), Some(7));
        assert_eq!(super::step_number("step-07"), None);
        assert_eq!(super::slug("Note 1"), "note-1-part");
        assert_eq!(super::slug("Note on hoses"), "note-on-hoses");
        assert!(!super::Ids::default().contains("sign-off-title"));
    }

    use super::*;

    #[test]
    fn a_taken_address_gets_the_next_number() {
        let mut ids = Ids::default();
        let given: Vec<String> = ["a", "a-2", "a", "a", "main"]
            .map(|name| ids.give(name))
            .into();
        assert_eq!(given, ["a", "a-2", "a-3", "a-4", "main-2"]);
    }

    #[test]
    fn words_become_addresses_that_no_step_has() {
        assert_eq!(slug("Set *the* pitch!"), "set-the-pitch");
        assert_eq!(slug("Step 3"), "step-3-part");
        assert_eq!(slug("…"), "part");
    }
}
