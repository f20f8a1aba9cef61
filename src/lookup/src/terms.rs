//! The dictionary: every folded word of the handbook and the group of forms it is in.
//!
//! A sorted list in which each word leaves out what it shares with the one before.
//! An automaton that walks the list skips whatever shares a beginning it has refused:
//! faster here than an `fst`, which would cost the page 4 kB more and can panic on bytes
//! from outside.

use crate::bytes::{ByteReader, put_next_word, put_number};
use crate::slips::Slips;
use crate::sound::sound;
use crate::stem::{root, stem};
use crate::token::{LONGEST, has_digit};
use levenshtein_automata::{DFA, Distance, SINK_STATE};
use std::sync::OnceLock;

/// A word of the dictionary.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct IndexTerm {
    pub(crate) text: String,
    /// The words that share a stem share a group, and its postings.
    pub(crate) group: u32,
}

/// Writes terms that are sorted by text, groups numbered as they first appear.
pub(crate) fn write_terms(terms: &[IndexTerm]) -> Vec<u8> {
    let mut out = Vec::new();
    let mut before = "";
    let mut fresh = 0;
    for term in terms {
        put_next_word(&mut out, before, &term.text);
        // 0 opens a new group, any other number counts back from the newest
        if term.group == fresh {
            put_number(&mut out, 0);
            fresh += 1;
        } else {
            put_number(&mut out, fresh - term.group);
        }
        before = &term.text;
    }
    out
}

pub(crate) struct Terms {
    /// All words, one after the other.
    letters: String,
    entries: Vec<WordEntry>,
    /// How many bytes each entry shares with the one before.
    shared: Vec<u8>,
    groups: u32,
    pub(crate) slips: Slips,
    /// Sounds in their order, each with the place of an entry; heard when first needed.
    sounds: OnceLock<Vec<(String, u32)>>,
    /// The same of roots.
    roots: OnceLock<Vec<(String, u32)>>,
}

struct WordEntry {
    start: usize,
    end: usize,
    group: u32,
}

impl Terms {
    pub(crate) fn open(bytes: &[u8]) -> Option<Terms> {
        let mut reader = ByteReader::new(bytes);
        let mut letters = String::new();
        let (mut entries, mut all_shared) = (Vec::new(), Vec::new());
        let mut groups = 0u32;
        let mut word: Vec<u8> = Vec::new();
        while !reader.is_empty() {
            let shared = reader.next_word(&mut word, LONGEST)?;
            let group = match reader.number()? {
                0 => {
                    groups += 1;
                    groups - 1
                }
                back => groups.checked_sub(back)?,
            };
            let start = letters.len();
            letters.push_str(std::str::from_utf8(&word).ok()?);
            entries.push(WordEntry {
                start,
                end: letters.len(),
                group,
            });
            all_shared.push(u8::try_from(shared).ok()?);
        }
        Some(Terms {
            letters,
            entries,
            shared: all_shared,
            groups,
            slips: Slips::default(),
            sounds: OnceLock::new(),
            roots: OnceLock::new(),
        })
    }

    /// The words that sound the same.
    pub(crate) fn sounding(&self, heard: &str) -> Vec<IndexTerm> {
        let sounds = self.sounds.get_or_init(|| self.by(sound));
        self.of(sounds, heard)
    }

    /// The words of one root.
    pub(crate) fn rooted(&self, wanted: &str) -> Vec<IndexTerm> {
        let roots = self.roots.get_or_init(|| self.by(|word| Some(root(word))));
        self.of(roots, wanted)
    }

    /// Every word by a form of it, in the order of the forms.
    fn by(&self, form: impl Fn(&str) -> Option<String>) -> Vec<(String, u32)> {
        let entries = (0u32..).zip(&self.entries);
        let forms = entries.filter_map(|(at, entry)| Some((form(self.text(entry))?, at)));
        let mut forms: Vec<(String, u32)> = forms.collect();
        forms.sort_unstable();
        forms
    }

    fn of(&self, forms: &[(String, u32)], wanted: &str) -> Vec<IndexTerm> {
        let start = forms.partition_point(|(form, _)| form.as_str() < wanted);
        let same = forms[start..].iter().take_while(|(form, _)| form == wanted);
        let entries = same.filter_map(|(_, at)| self.entries.get(*at as usize));
        entries.map(|entry| self.term(entry)).collect()
    }

    fn text(&self, entry: &WordEntry) -> &str {
        self.letters.get(entry.start..entry.end).unwrap_or("")
    }

    fn term(&self, entry: &WordEntry) -> IndexTerm {
        IndexTerm {
            text: self.text(entry).to_string(),
            group: entry.group,
        }
    }

    /// The entries from `word` on.
    fn from(&self, word: &str) -> &[WordEntry] {
        let start = self
            .entries
            .partition_point(|entry| self.text(entry) < word);
        &self.entries[start..]
    }

    pub(crate) fn groups(&self) -> u32 {
        self.groups
    }

    /// The group of exactly this word, or of a word with the same stem.
    pub(crate) fn group(&self, word: &str) -> Option<u32> {
        let next = self.from(word).first();
        if let Some(entry) = next.filter(|entry| self.text(entry) == word) {
            return Some(entry.group);
        }
        if has_digit(word) || word.len() < 3 {
            return None;
        }
        let wanted = stem(word);
        // the stem of `carries` ends in a `y` that the word doesn't have
        let (last, _) = wanted.char_indices().next_back()?;
        let start = &wanted[..last];
        self.entries_starting_with(start)
            .find(|entry| !start.is_empty() && stem(self.text(entry)) == wanted)
            .map(|entry| entry.group)
    }

    fn entries_starting_with(&self, start: &str) -> impl Iterator<Item = &WordEntry> {
        self.from(start)
            .iter()
            .take_while(move |entry| self.text(entry).starts_with(start))
    }

    /// Every word that starts with `start`, in order.
    pub(crate) fn starting_with(&self, start: &str) -> Vec<IndexTerm> {
        let entries = self.entries_starting_with(start);
        entries.map(|entry| self.term(entry)).collect()
    }

    /// Every word that the automaton accepts, with its slips; never a number.
    pub(crate) fn within(&self, automaton: &DFA) -> Vec<(IndexTerm, u8)> {
        let mut found = Vec::new();
        let mut states = [SINK_STATE; LONGEST + 1];
        states[0] = automaton.initial_state();
        let mut next = 0;
        while let (Some(entry), Some(&shared)) = (self.entries.get(next), self.shared.get(next)) {
            next += 1;
            // how many bytes were let through; the word before went as far as they share
            let mut reached = usize::from(shared);
            let word = &self.letters.as_bytes()[entry.start..entry.end];
            let refused = word[reached..].iter().any(|&byte| {
                let state = automaton.transition(states[reached], byte);
                if state != SINK_STATE {
                    reached += 1;
                    states[reached] = state;
                }
                state == SINK_STATE
            });
            if refused {
                // so is whatever shares more than what was let through
                let rest = &self.shared[next..];
                let skipped = rest
                    .iter()
                    .position(|&shared| usize::from(shared) <= reached);
                next += skipped.unwrap_or(rest.len());
            } else if let Distance::Exact(slips) = automaton.distance(states[reached])
                && !has_digit(self.text(entry))
            {
                found.push((self.term(entry), slips));
            }
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::slips::slips_of;

    fn open(words: &[(&str, u32)]) -> Option<Terms> {
        let term = |&(text, group): &(&str, u32)| {
            let text = text.to_string();
            IndexTerm { text, group }
        };
        let list: Vec<IndexTerm> = words.iter().map(term).collect();
        Terms::open(&write_terms(&list))
    }

    fn terms(words: &[(&str, u32)]) -> Terms {
        open(words).expect("what was written opens")
    }

    #[test]
    fn a_word_and_its_other_forms_are_found() {
        let terms = terms(&[("channel", 0), ("fit", 1), ("fitted", 1), ("measure", 2)]);
        assert_eq!(terms.groups(), 3);
        assert_eq!(terms.group("fitted"), Some(1));
        assert_eq!(terms.group("measuring"), Some(2));
        assert_eq!(terms.group("channels"), Some(0));
        assert_eq!(terms.group("chan"), None);
    }

    #[test]
    fn numbers_are_never_near() {
        let terms = terms(&[("1-1/4", 0), ("1/4", 1)]);
        assert!(terms.within(&terms.slips.automaton("1/40", 2)).is_empty());
    }

    #[test]
    fn what_shares_a_refused_beginning_is_skipped_and_the_rest_is_not() {
        let words = [
            "hand", "handle", "handled", "hose", "hoses", "house", "huge",
        ];
        let list: Vec<(&str, u32)> = words.into_iter().zip(0..).collect();
        let found = terms(&list);
        for typed in ["hoes", "hose", "hadle", "huse", "xxxx"] {
            let automaton = found.slips.automaton(typed, 1);
            let walked = found.within(&automaton);
            let walked: Vec<String> = walked.into_iter().map(|(term, _)| term.text).collect();
            let mut one_by_one = words.to_vec();
            one_by_one.retain(|word| slips_of(&automaton, word).is_some());
            assert_eq!(walked, one_by_one, "{typed}");
        }
    }

    #[test]
    fn words_out_of_order_are_refused() {
        assert!(open(&[("b", 0), ("a", 1)]).is_none());
        assert!(open(&[("a", 0), ("a", 1)]).is_none());
    }

    #[test]
    fn a_group_before_the_first_is_refused() {
        assert!(Terms::open(&[0, 1, b'a', 7]).is_none());
    }
}
