//! What each code means, with examples. The page's engine does without: it names no code.

use crate::code::Code;
use crate::finding::Level;

/// A code's entry in the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CodeEntry {
    pub code: Code,
    /// What every finding of this code weighs; none where that depends.
    pub level: Option<Level>,
    pub means: &'static str,
    /// One, or one for each place in which the fault is met.
    pub examples: &'static [CodeExample],
}

/// What has a fault, and the same without it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CodeExample {
    /// Where the two stand, for trying them: `page`, or a file's path. Empty where
    /// they only show what is meant.
    pub place: &'static str,
    /// How often one has to stand there to have its fault.
    pub times: usize,
    pub bad: &'static str,
    pub good: &'static str,
}

static ENTRIES: &[CodeEntry] = &include!(concat!(env!("OUT_DIR"), "/entries.rs"));

/// Every code's entry, in the order of the table.
pub fn entries() -> &'static [CodeEntry] {
    ENTRIES
}

impl Code {
    /// What this code means.
    pub fn entry(self) -> &'static CodeEntry {
        // the enum is made from the table, in its order
        &ENTRIES[self as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_code_finds_its_own_entry_and_is_called_by_a_name_of_its_own() {
        let mut names: Vec<&str> = entries().iter().map(|one| one.code.name()).collect();
        for one in entries() {
            assert_eq!(one.code.entry(), one);
        }
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), entries().len());
    }
}
