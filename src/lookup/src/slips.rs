//! Slips of the thumb: what accepts a word with a few letters wrong.

use levenshtein_automata::{DFA, Distance, LevenshteinAutomatonBuilder};
use std::sync::OnceLock;

/// Makes automata; what they have in common is computed once, when first needed.
#[derive(Default)]
pub(crate) struct Slips {
    one: OnceLock<LevenshteinAutomatonBuilder>,
    two: OnceLock<LevenshteinAutomatonBuilder>,
}

impl Slips {
    /// What accepts words at most `slips` (one, else two) letters from `word`: one
    /// too many, one too few, one wrong, or two swapped.
    pub(crate) fn automaton(&self, word: &str, slips: u8) -> DFA {
        self.builder(slips).build_dfa(word)
    }

    /// As `automaton`, for words that go on after `start`.
    pub(crate) fn start_automaton(&self, start: &str, slips: u8) -> DFA {
        self.builder(slips).build_prefix_dfa(start)
    }

    fn builder(&self, slips: u8) -> &LevenshteinAutomatonBuilder {
        let (place, slips) = match slips {
            0 | 1 => (&self.one, 1),
            _ => (&self.two, 2),
        };
        place.get_or_init(|| LevenshteinAutomatonBuilder::new(slips, true))
    }
}

/// How many letters of a word of that length may be wrong.
pub(crate) fn slips_allowed(letters: usize) -> u8 {
    match letters {
        0..4 => 0,
        4..8 => 1,
        _ => 2,
    }
}

/// Whether `word` is accepted, and after how many slips.
pub(crate) fn slips_of(automaton: &DFA, word: &str) -> Option<u8> {
    match automaton.eval(word) {
        Distance::Exact(slips) => Some(slips),
        Distance::AtLeast(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_sort_of_slip_counts_once() {
        let automaton = Slips::default().automaton("channel", 2);
        for (word, slips) in [
            ("channel", Some(0)),
            ("chanel", Some(1)),
            ("channnel", Some(1)),
            ("chammel", Some(2)),
            ("chnanel", Some(1)),
            ("chisel", None),
        ] {
            assert_eq!(slips_of(&automaton, word), slips, "{word}");
        }
    }

    #[test]
    fn longer_words_may_have_more_slips() {
        assert_eq!([3, 4, 7, 8].map(slips_allowed), [0, 1, 1, 2]);
    }
}
