//! The ways in which a typed word can be meant: itself, its beginning, with a slip,
//! or as two words run together.

use crate::sound::sound;
use crate::stem::root;
use crate::terms::{IndexTerm, Terms};
use crate::token::has_digit;
use levenshtein_automata::DFA;
use std::collections::BTreeMap;

/// One reading of a typed word: every part must be in a document.
#[derive(Debug, Clone)]
pub(crate) struct WordReading {
    pub(crate) parts: Vec<IndexTerm>,
    /// 1 for the word itself, less the further away.
    pub(crate) closeness: f32,
    /// It counts in titles alone.
    pub(crate) titled: bool,
}

/// Of a word made of the same root, where the handbook has the word itself, and where not.
const KIN_OF_KNOWN: f32 = 0.5;
const KIN: f32 = 0.8;
/// Of a word that sounds the same.
const SOUNDS: f32 = 0.58;
const SPLIT: f32 = 0.9;
const SPLIT_UNFINISHED: f32 = 0.75;
const SPLIT_WITH_SLIP: f32 = 0.5;
/// What is left of a known word's closeness where it is read as two.
const KNOWN_SPLIT: f32 = 0.8;
/// A known word nearer than this is read as two as well, so many of them at most.
const SPLIT_FROM: f32 = 0.6;
const MOST_SPLIT: usize = 6;

/// Below this, a reading is a guess and another is worth having.
const SURE: f32 = 0.55;

/// More readings of one word than this are too many to mean anything: the closest stay.
const MOST_READINGS: usize = 48;

/// All ways to read `word`; `last` means that it may be unfinished.
pub(crate) fn ways(terms: &Terms, word: &str, last: bool, slips: Option<&DFA>) -> Vec<WordReading> {
    let mut found = Readings::default();
    let known = terms.group(word);
    if let Some(group) = known {
        let text = word.to_string();
        found.add(IndexTerm { text, group }, 1.0);
    }
    // three letters are themselves, or have just begun
    if last || (known.is_none() && word.chars().count() > 3) {
        let weight = match (known, last) {
            (Some(_), _) => 0.5,
            (None, true) => 1.0,
            (None, false) => 0.6,
        };
        add_beginnings(terms, word, weight, &mut found);
    }
    if let Some(automaton) = slips {
        add_slips(terms, word, automaton, known.is_some(), &mut found);
    }
    if !has_digit(word) {
        let closeness = if known.is_some() { KIN_OF_KNOWN } else { KIN };
        for term in terms.rooted(&root(word)) {
            found.add(term, closeness);
        }
    }
    // what is nearly written so is likelier than what sounds so
    if found.best() < SOUNDS
        && let Some(heard) = sound(word)
    {
        for term in terms.sounding(&heard) {
            found.add(term, SOUNDS);
        }
    }
    if known.is_none() {
        found.splits = splits(terms, word);
        if found.best() < SURE && !has_digit(word) {
            found.splits = rough_splits(terms, word, last);
        }
    }
    if !has_digit(word) {
        let split = known_splits(terms, &found);
        found.splits.extend(split);
    }
    if found.best() == 0.0 && last && !has_digit(word) && word.chars().count() >= 4 {
        for (term, slips) in terms.within(&terms.slips.start_automaton(word, 1)) {
            found.add(term, if slips == 0 { 0.45 } else { 0.35 });
        }
    }
    found.into_ways()
}

impl WordReading {
    pub(crate) fn of(parts: Vec<IndexTerm>, closeness: f32) -> WordReading {
        WordReading {
            parts,
            closeness,
            titled: false,
        }
    }
}

/// The best reading for each group, and the splits.
#[derive(Default)]
struct Readings {
    single: BTreeMap<u32, WordReading>,
    splits: Vec<WordReading>,
}

impl Readings {
    fn add(&mut self, term: IndexTerm, closeness: f32) {
        let group = term.group;
        if self
            .single
            .get(&group)
            .is_none_or(|way| way.closeness < closeness)
        {
            let parts = vec![term];
            let way = WordReading::of(parts, closeness);
            self.single.insert(group, way);
        }
    }

    fn best(&self) -> f32 {
        let all = self.single.values().chain(&self.splits);
        all.map(|way| way.closeness).fold(0.0, f32::max)
    }

    fn into_ways(self) -> Vec<WordReading> {
        let mut ways: Vec<WordReading> = self.single.into_values().collect();
        ways.extend(self.splits);
        ways
    }
}

fn add_beginnings(terms: &Terms, word: &str, weight: f32, found: &mut Readings) {
    let exact = has_digit(word);
    if exact && !word.starts_with(char::is_alphabetic) {
        return;
    }
    let mut longer = terms.starting_with(word);
    while longer.len() > MOST_READINGS {
        let longest = longer.iter().map(|term| term.text.len()).max();
        longer.retain(|term| Some(term.text.len()) < longest);
    }
    for term in longer {
        let rest = term.text.get(word.len()..).unwrap_or("");
        // `b18` begins `b18.2.1`, but `m1` is another thread than `m12`
        if exact && rest.starts_with(|next: char| next.is_ascii_digit()) {
            continue;
        }
        let typed = word.len() as f32 / term.text.len().max(1) as f32;
        found.add(term, weight * (0.45 + 0.4 * typed));
    }
}

fn add_slips(terms: &Terms, word: &str, automaton: &DFA, known: bool, found: &mut Readings) {
    let short = word.chars().count() < 4;
    let mut near = terms.within(automaton);
    if near.len() > MOST_READINGS {
        near.retain(|(_, slips)| *slips < 2);
    }
    for (term, slips) in near {
        // three typed letters may be four with one left out, but not three others
        if short && term.text.chars().count() != 4 {
            continue;
        }
        let mut closeness = match slips {
            0 => 1.0,
            1 => 0.62,
            _ => 0.38,
        };
        if term.text.bytes().next() != word.bytes().next() {
            closeness -= 0.06;
        }
        if known {
            if slips > 1 {
                continue;
            }
            closeness *= 0.3;
        }
        found.add(term, closeness);
    }
}

/// `guidetube` as `guide` and `tube`.
fn splits(terms: &Terms, word: &str) -> Vec<WordReading> {
    let mut found = Vec::new();
    for (left, right) in halves(word) {
        if let (Some(left), Some(right)) = (known(terms, left), known(terms, right)) {
            found.push(split(left, right, SPLIT));
        }
    }
    found
}

/// `shutdown`, which one page says, as the title `Shut down` of another.
fn known_splits(terms: &Terms, found: &Readings) -> Vec<WordReading> {
    let mut near: Vec<&WordReading> = found.single.values().collect();
    near.retain(|way| way.closeness >= SPLIT_FROM);
    near.sort_by(|a, b| b.closeness.total_cmp(&a.closeness));
    let mut split = Vec::new();
    for way in near.into_iter().take(MOST_SPLIT) {
        let word = way.parts.first().map_or("", |part| part.text.as_str());
        for mut one in splits(terms, word) {
            if one.parts.iter().all(|part| part.text.chars().count() > 2) {
                one.closeness = way.closeness * KNOWN_SPLIT;
                one.titled = true;
                split.push(one);
            }
        }
    }
    split
}

/// `guidetu` and `guidetbue`: the second half unfinished, or one half with a slip.
fn rough_splits(terms: &Terms, word: &str, last: bool) -> Vec<WordReading> {
    let mut found = Vec::new();
    for (left, right) in halves(word) {
        if last && let Some(left) = known(terms, left) {
            for right in terms.starting_with(right).into_iter().take(8) {
                found.push(split(left.clone(), right, SPLIT_UNFINISHED));
            }
        }
    }
    if !found.is_empty() {
        return found;
    }
    let slipped = |text: &str| match text.chars().count() {
        4..=24 => terms.within(&terms.slips.automaton(text, 1)),
        _ => Vec::new(),
    };
    for (left, right) in halves(word) {
        if left.len() >= 4
            && let Some(left) = known(terms, left)
        {
            for (right, _) in slipped(right) {
                found.push(split(left.clone(), right, SPLIT_WITH_SLIP));
            }
        } else if right.len() >= 4
            && let Some(right) = known(terms, right)
        {
            for (left, _) in slipped(left) {
                found.push(split(left, right.clone(), SPLIT_WITH_SLIP));
            }
        }
    }
    found
}

fn known(terms: &Terms, text: &str) -> Option<IndexTerm> {
    let group = terms.group(text)?;
    let text = text.to_string();
    Some(IndexTerm { text, group })
}

fn split(left: IndexTerm, right: IndexTerm, closeness: f32) -> WordReading {
    WordReading::of(vec![left, right], closeness)
}

/// Halves of three letters or more, or two beside a long one; of any length where
/// letters meet digits.
fn halves(word: &str) -> Vec<(&str, &str)> {
    let letters: Vec<(usize, char)> = word.char_indices().collect();
    let mut found = Vec::new();
    for (place, pair) in letters.windows(2).enumerate() {
        let (at, before, after) = (pair[1].0, pair[0].1, pair[1].1);
        let (left, right) = (place + 1, letters.len() - place - 1);
        let long = left.min(right) >= 3 || (left.min(right) == 2 && left.max(right) >= 4);
        let meets_digits = before.is_alphabetic() && after.is_ascii_digit();
        if meets_digits || (long && !has_digit(word)) {
            found.push(word.split_at(at));
        }
    }
    found
}

/// The words of the handbook nearest to one that nothing was found for.
pub(crate) fn nearest(terms: &Terms, word: &str, limit: usize) -> Vec<String> {
    let length = word.chars().count();
    if has_digit(word) || !(3..=32).contains(&length) {
        return Vec::new();
    }
    let mut near = terms.within(&terms.slips.automaton(word, if length < 4 { 1 } else { 2 }));
    near.sort_unstable_by(|a, b| a.1.cmp(&b.1).then_with(|| a.0.text.cmp(&b.0.text)));
    let other = near.into_iter().filter(|(_, slips)| *slips > 0);
    let mut found: Vec<String> = other.map(|(term, _)| term.text).collect();
    let mut start = word;
    while found.is_empty() && start.chars().count() > 3 {
        start = match start.char_indices().next_back() {
            Some((last, _)) => &start[..last],
            None => break,
        };
        let mut longer = terms.starting_with(start);
        longer.sort_by_key(|term| term.text.len());
        found.extend(longer.into_iter().map(|term| term.text));
    }
    found.truncate(limit);
    found
}
