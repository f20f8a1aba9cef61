//! How the words of a question meet the words of titles and labels.

use super::asked::Question;
use super::scan::ScannedItem;
use crate::message::Language;
use crate::message::tell::asking as tell;
use crate::unit::Unit;

/// What a word may end in and be the same.
const ENDINGS: [&str; 6] = ["", "s", "es", "d", "ed", "ing"];

/// Words that ask, and name nothing.
pub(super) struct SmallWords {
    /// In the order of the alphabet.
    small: Vec<String>,
    numbered: Vec<String>,
    /// Words that ask, and the kinds of quantity that they ask for.
    kinds: Vec<(Vec<String>, Vec<String>)>,
    /// Words that make another thing of what stands about them.
    changing: Vec<String>,
    /// What stands behind a share of something.
    shares: Vec<String>,
    /// What is said of all there are.
    whole: String,
    /// Half of one more than a number before it.
    half_more: Vec<String>,
    /// What asks how many of the first unit are one of the second.
    counts: Vec<String>,
}

impl SmallWords {
    pub fn of(language: &Language) -> SmallWords {
        let list = |words: &str| {
            let mut list: Vec<String> = words.split_whitespace().map(str::to_string).collect();
            list.sort_unstable();
            list
        };
        let phrases = |said: String| said.split(", ").map(str::to_string).collect();
        SmallWords {
            small: list(&language.small_words()),
            numbered: list(&language.say(&tell::numbered())),
            kinds: language
                .say(&tell::kinds())
                .split(',')
                .filter_map(|asks| asks.split_once('='))
                .map(|(asks, kinds)| (words(asks), words(kinds)))
                .collect(),
            changing: list(&language.say(&tell::changing())),
            shares: list(&language.say(&tell::shares())),
            whole: language.say(&tell::whole()),
            half_more: phrases(language.say(&tell::half_more())),
            counts: phrases(language.say(&tell::counts())),
        }
    }

    pub fn holds(&self, word: &str) -> bool {
        self.small
            .binary_search_by(|small| small.as_str().cmp(word))
            .is_ok()
    }

    /// Whether a share before it is one of what comes next: `of`.
    pub fn shares(&self, word: &str) -> bool {
        self.shares
            .iter()
            .any(|shares| shares.eq_ignore_ascii_case(word))
    }

    /// How many letters a text begins with that say half of one more.
    pub fn half_more(&self, text: &str) -> Option<usize> {
        let mut halves = self.half_more.iter();
        let half = halves.find(|half| {
            let rest = text.strip_prefix(half.as_str());
            rest.is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
        })?;
        Some(half.chars().count())
    }

    /// What is said of all there are: the second number of `310 of 1240`.
    pub fn whole(&self) -> String {
        self.whole.clone()
    }

    /// Whether a text asks how many of one unit are one of another.
    pub fn counts(&self, text: &str) -> bool {
        self.counts.iter().any(|counts| text.contains(counts))
    }

    /// Whether a number after it says which one, not how much: `step 6`.
    pub fn numbers(&self, word: &str) -> bool {
        self.numbered.iter().any(|numbered| numbered == word)
    }

    /// The kinds of quantity that a word of a question asks for, or two: `how long`.
    fn kinds(&self, before: &str, word: &str) -> &[String] {
        let mut kinds = self.kinds.iter();
        let found = kinds.find(|(asks, _)| match asks.as_slice() {
            [only] => only == word,
            [first, second] => first == before && second == word,
            _ => false,
        });
        found.map_or(&[], |(_, kinds)| kinds)
    }

    /// A title or label as the words in it that say something, in small letters.
    pub fn content(&self, label: &str) -> Vec<String> {
        let mut found = words(label);
        found.retain(|word| !self.holds(word));
        found
    }
}

/// A word of a question, and what it may mean.
#[derive(Debug)]
pub(super) struct QuestionWord {
    /// Which piece of the question it is.
    pub place: usize,
    /// As typed, and as the search understands it; in small letters.
    pub means: Vec<String>,
    /// It is a unit's name that no number stands before: `hp`, `litres per minute`.
    pub unit: Option<Unit>,
    /// The kinds of quantity that it asks for.
    pub kinds: Vec<String>,
    /// It makes another thing of what stands about it.
    pub changes: bool,
}

/// The words of a question that say something.
pub(super) fn said(
    items: &[ScannedItem],
    question: &Question,
    small: &SmallWords,
) -> Vec<QuestionWord> {
    let mut found = Vec::new();
    for (place, item) in items.iter().enumerate() {
        let (word, unit) = match item {
            ScannedItem::Word(word) => (word, None),
            ScannedItem::Unit(word, unit) => (word, Some(unit.clone())),
            ScannedItem::Quantity(_) | ScannedItem::Stop => continue,
        };
        let kinds = match place.checked_sub(1).map(|before| &items[before]) {
            Some(ScannedItem::Word(before)) => small.kinds(before, word),
            _ => small.kinds("", word),
        };
        // `6 gpm a lance`
        let each = matches!(word.as_str(), "a" | "an")
            && place
                .checked_sub(1)
                .is_some_and(|before| items[before].quantity().is_some());
        let changes = each || small.changing.contains(word);
        if kinds.is_empty() && !changes && small.holds(word) {
            continue;
        }
        let mut means = vec![word.clone()];
        for (typed, meant) in &question.meanings {
            if typed == word {
                means.extend(meant.iter().cloned());
            }
        }
        found.push(QuestionWord {
            place,
            means,
            unit,
            kinds: kinds.to_vec(),
            changes,
        });
    }
    found
}

impl QuestionWord {
    /// Whether a title or label holds this word.
    pub fn is_in(&self, label: &[String]) -> bool {
        label.iter().any(|word| self.is(word))
    }

    /// Whether it may be a word of a title or label.
    pub fn is(&self, word: &str) -> bool {
        self.means.iter().any(|means| alike(means, word))
    }

    /// Whether it is that word itself, and doesn't only stand for it.
    pub fn says(&self, word: &str) -> bool {
        alike(self.typed(), word)
    }

    pub fn denies(&self) -> bool {
        matches!(self.typed(), "no" | "without")
    }

    pub fn typed(&self) -> &str {
        self.means.first().map_or("", String::as_str)
    }
}

/// A title or label as words in small letters.
pub(super) fn words(label: &str) -> Vec<String> {
    let words = label.split(|c: char| !c.is_alphanumeric());
    words
        .filter(|word| !word.is_empty())
        .map(str::to_ascii_lowercase)
        .collect()
}

/// The same word, or the one with an ending of the other: `stroke` and `strokes`.
fn alike(a: &str, b: &str) -> bool {
    let (short, long) = if a.len() < b.len() { (a, b) } else { (b, a) };
    match long.strip_prefix(short) {
        Some(ending) => ENDINGS.contains(&ending) && (ending.is_empty() || short.len() >= 3),
        None => false,
    }
}
