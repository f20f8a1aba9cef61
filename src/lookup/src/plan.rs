//! A query as it is understood: its words, and for each the ways to read it.

use crate::alike::Alike;
use crate::fold::shorten;
use crate::index::Index;
use crate::said::{SaidIn, TypedWord};
use crate::slips::slips_allowed;
use crate::spelling::{WordReading, ways};
use crate::terms::IndexTerm;
use crate::token::{has_digit, tokens};
use levenshtein_automata::DFA;

/// Later words and letters of a query are not looked at.
const MOST_WORDS: usize = 16;
const MOST_BYTES: usize = 400;
/// Words beyond this length are not searched for slips.
const MOST_LETTERS: usize = 32;

/// Of a word that says little by itself.
const SMALL_WEIGHT: f32 = 0.15;

/// A reading nearer than this is likely what was meant.
const LIKELY: f32 = 0.55;
const MOST_MEANINGS: usize = 6;
/// A size in another spelling is the same size.
const SPELT: f32 = 0.95;

pub(crate) struct QueryWord {
    pub(crate) text: String,
    pub(crate) number: bool,
    /// It is what things are told apart by, letters before digits: `M24`.
    pub(crate) code: bool,
    /// It says little by itself.
    pub(crate) small: bool,
    /// Neither the handbook nor a saying has it: it is another word typed wrong.
    pub(crate) strange: bool,
    /// It is the last one, and may go on.
    pub(crate) unfinished: bool,
    pub(crate) weight: f32,
    pub(crate) ways: Vec<WordReading>,
}

/// What people say for some documents, where the query says it.
pub(crate) struct PlacesSaid {
    pub(crate) documents: Vec<usize>,
    /// The words that say it, by their places.
    pub(crate) words: Vec<usize>,
    pub(crate) closeness: f32,
    /// How many words that say something there are, each as it is said or but one slip away.
    pub(crate) content: usize,
    pub(crate) sure: bool,
    /// Much stands between them.
    pub(crate) apart: bool,
    /// Nothing else is said.
    pub(crate) whole: bool,
}

pub(crate) struct Plan {
    pub(crate) words: Vec<QueryWord>,
    pub(crate) said: Vec<PlacesSaid>,
    pub(crate) alike: Alike,
    /// The query asks for a value.
    pub(crate) asks: bool,
}

impl Plan {
    /// Words that likely stand for others, with the few likeliest of those.
    pub(crate) fn meanings(&self) -> Vec<(String, Vec<String>)> {
        let mut found = Vec::new();
        for word in self.words.iter().filter(|word| !word.number) {
            let mut means: Vec<String> = Vec::new();
            let ways = word.ways.iter().filter(|way| way.closeness >= LIKELY);
            for part in ways.flat_map(|way| &way.parts) {
                if part.text != word.text
                    && !means.contains(&part.text)
                    && means.len() < MOST_MEANINGS
                {
                    means.push(part.text.clone());
                }
            }
            if !means.is_empty() {
                found.push((word.text.clone(), means));
            }
        }
        found
    }

    pub(crate) fn weight(&self) -> f32 {
        self.words.iter().map(|word| word.weight).sum()
    }
}

/// Reads a query.
pub(crate) fn plan(index: &Index, query: &str, spellings: &[(String, Vec<String>)]) -> Plan {
    let query = shorten(query, MOST_BYTES);
    let unfinished = query.ends_with(|last: char| last.is_alphanumeric());
    let mut typed = tokens(query);
    typed.truncate(MOST_WORDS);

    let mut words = Vec::new();
    let mut automata = Vec::new();
    for (place, token) in typed.iter().enumerate() {
        let last = unfinished && place + 1 == typed.len();
        let automaton = automaton(index, &token.text);
        let small = index.is_small(&token.text);
        words.push(QueryWord {
            small,
            strange: !has_digit(&token.text)
                && index.terms.group(&token.text).is_none()
                && !index.sayings.hold(&token.text),
            unfinished: last,
            number: token.text.starts_with(|first: char| first.is_ascii_digit()),
            code: has_digit(&token.text) && token.text.starts_with(char::is_alphabetic),
            weight: if small { SMALL_WEIGHT } else { 1.0 },
            ways: if small && !last {
                ways(&index.terms, &token.text, false, None)
            } else {
                ways(&index.terms, &token.text, last, automaton.as_ref())
            },
            text: token.text.clone(),
        });
        automata.push(automaton);
    }
    add_spellings(index, &mut words, spellings);
    add_joined(index, &mut words, unfinished);
    let (said, alike) = add_sayings(index, &mut words, &automata, unfinished);
    let texts: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
    Plan {
        asks: index.asks(&texts),
        words,
        said,
        alike,
    }
}

fn automaton(index: &Index, word: &str) -> Option<DFA> {
    let letters = word.chars().count();
    if has_digit(word) || letters > MOST_LETTERS {
        return None;
    }
    let slips = match (slips_allowed(letters), index.terms.group(word)) {
        // a common word is hardly another one typed wrong
        (_, Some(group)) if index.is_common(index.postings(group).len()) => 0,
        (slips, Some(_)) => slips.min(1),
        (slips, None) => slips,
    };
    (slips > 0).then(|| index.terms.slips.automaton(word, slips))
}

/// `14.2875` for a handbook that writes `9/16`.
fn add_spellings(index: &Index, words: &mut [QueryWord], spellings: &[(String, Vec<String>)]) {
    for (typed, others) in spellings {
        let Some(number) = tokens(typed).into_iter().next() else {
            continue;
        };
        for word in words.iter_mut().filter(|word| word.text == number.text) {
            for other in others {
                let other: Vec<String> =
                    tokens(other).into_iter().map(|token| token.text).collect();
                if let Some(parts) = terms_of(index, &other) {
                    word.ways.push(way(parts, SPELT));
                }
            }
        }
    }
}

/// `hose stop` for a handbook that writes `hosestop`.
fn add_joined(index: &Index, words: &mut [QueryWord], unfinished: bool) {
    for at in 1..words.len() {
        let (left, right) = (&words[at - 1].text, &words[at].text);
        if has_digit(left) {
            continue;
        }
        let joined = format!("{left}{right}");
        let mut found = Vec::new();
        if let Some(group) = index.terms.group(&joined) {
            let text = joined;
            found.push(way(vec![IndexTerm { text, group }], 0.9));
        } else if unfinished && at + 1 == words.len() && joined.len() > 4 && !has_digit(right) {
            let longer = index.terms.starting_with(&joined).into_iter().take(8);
            found.extend(longer.map(|term| way(vec![term], 0.6)));
        }
        words[at - 1].ways.extend(found.iter().cloned());
        words[at].ways.extend(found);
    }
}

fn way(parts: Vec<IndexTerm>, closeness: f32) -> WordReading {
    WordReading::of(parts, closeness)
}

/// Wherever the query says a synonym, each of its words may mean what it stands for; what it says
/// for places is given back.
fn add_sayings(
    index: &Index,
    words: &mut [QueryWord],
    automata: &[Option<DFA>],
    unfinished: bool,
) -> (Vec<PlacesSaid>, Alike) {
    let texts: Vec<(String, bool, bool)> = words
        .iter()
        .map(|word| (word.text.clone(), word.small, word.strange))
        .collect();
    let typed = texts.iter().zip(automata).enumerate();
    let typed: Vec<TypedWord> = typed
        .map(|(at, ((text, small, strange), automaton))| TypedWord {
            text,
            automaton: automaton.as_ref(),
            small: *small,
            strange: *strange,
            unfinished: unfinished && at + 1 == texts.len(),
        })
        .collect();
    let mut places = Vec::new();
    let said_in = SaidIn::new(&index.sayings, &typed, |word| index.is_small(word));
    let alike = said_in.alike();
    for (what, here) in said_in.all() {
        for meant in what.meant.iter().filter(|_| !here.scattered) {
            if let Some(parts) = terms_of(index, meant) {
                let way = way(parts, 0.95 * here.like);
                here.words
                    .iter()
                    .for_each(|at| words[*at].ways.push(way.clone()));
            }
        }
        // the words of a saying count together, small or not; but for an emergency, one word that
        // says something counts for itself
        let mut leads = what.documents.iter();
        let whole = here.content != 1 || leads.any(|one| index.is_urgent(*one));
        if here.like == 1.0 && whole {
            here.words.iter().for_each(|at| words[*at].weight = 1.0);
        }
        if !what.documents.is_empty() {
            let said = |at: usize| here.words.contains(&at);
            let only = |(at, (_, small, _)): (usize, &(String, bool, bool))| *small || said(at);
            places.push(PlacesSaid {
                documents: what.documents.clone(),
                closeness: here.like,
                content: here.content,
                apart: here.scattered && spread(&here.words) > most_spread(&here.words),
                sure: here.sure,
                whole: here.sure && texts.iter().enumerate().all(only),
                words: here.words,
            });
        }
    }
    (places, alike)
}

/// Over how many words these stand.
fn spread(places: &[usize]) -> usize {
    let (first, last) = (places.iter().min(), places.iter().max());
    first.zip(last).map_or(0, |(first, last)| last - first + 1)
}

/// How far the words of a saying may stand apart and still be said of one thing: farther in the
/// saying's own order.
fn most_spread(places: &[usize]) -> usize {
    match places.is_sorted() {
        true => 2 * places.len() + 1,
        false => places.len() + 1,
    }
}

fn terms_of(index: &Index, words: &[String]) -> Option<Vec<IndexTerm>> {
    let term = |text: &String| {
        let group = index.terms.group(text)?;
        let text = text.clone();
        Some(IndexTerm { text, group })
    };
    words.iter().map(term).collect()
}
