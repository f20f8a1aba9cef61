//! Where a query says what people say.

use crate::sayings::{SaidFor, SaidWord, Saying, Sayings};
use crate::slips::slips_of;
use crate::token::has_digit;
use levenshtein_automata::DFA;

/// A word of a query, as sayings are held against it.
pub(crate) struct TypedWord<'q> {
    pub(crate) text: &'q str,
    pub(crate) automaton: Option<&'q DFA>,
    pub(crate) small: bool,
    /// Neither the handbook nor a saying has it: it is another word typed wrong.
    pub(crate) strange: bool,
    /// It may go on.
    pub(crate) unfinished: bool,
}

/// Where a query says a saying: the words that say it, by their places, and how nearly.
#[derive(Debug, PartialEq)]
pub(crate) struct SaidHere {
    pub(crate) words: Vec<usize>,
    pub(crate) like: f32,
    /// How many words that say something the saying has.
    pub(crate) content: usize,
    /// Each word is the saying's, or can be none but that.
    pub(crate) sure: bool,
    /// The words stand in another order, or apart.
    pub(crate) scattered: bool,
}

/// A query held against every word of the sayings.
pub(crate) struct SaidIn<'q> {
    pub(crate) sayings: &'q Sayings,
    pub(crate) typed: &'q [TypedWord<'q>],
    /// Of each word of the query, how near it is to each word of the sayings.
    pub(crate) near: Vec<Vec<f32>>,
    /// Which words of the sayings say little.
    small: Vec<bool>,
    /// How near the query comes to each word of the sayings.
    pub(crate) nearest: Vec<f32>,
    /// Runs of the query's words, joined, each with its start and end.
    runs: Vec<(String, usize, usize)>,
}

/// What is left of a saying's likeness where its words stand apart.
const SCATTERED: f32 = 0.8;
/// A word made of the same root, or that is said for the same.
const KIN: f32 = 0.85;
/// A word with one slip in it, or one that sounds the same.
pub(crate) const ONE_SLIP: f32 = 0.6;
/// More words than these are hardly one word of the handbook.
const LONGEST_RUN: usize = 5;

impl<'q> SaidIn<'q> {
    pub(crate) fn new(
        sayings: &'q Sayings,
        typed: &'q [TypedWord<'q>],
        is_small: impl Fn(&str) -> bool,
    ) -> SaidIn<'q> {
        let of_word = |typed: &TypedWord| {
            let itself = SaidWord::of(typed.text);
            let words = sayings.words.iter();
            let mut near: Vec<f32> = words.map(|word| likeness(typed, &itself, word)).collect();
            for group in &sayings.kin {
                if group.iter().any(|word| near[*word] == 1.0) {
                    let others = group.iter();
                    others.for_each(|word| near[*word] = near[*word].max(KIN));
                }
            }
            near
        };
        let mut runs = Vec::new();
        for start in 0..typed.len() {
            let mut joined = String::new();
            for (at, word) in typed.iter().enumerate().skip(start).take(LONGEST_RUN) {
                if has_digit(word.text) {
                    break;
                }
                joined.push_str(word.text);
                runs.push((joined.clone(), start, at + 1));
            }
        }
        let near: Vec<Vec<f32>> = typed.iter().map(of_word).collect();
        let words = 0..sayings.words.len();
        let nearest = words.map(|word| near.iter().fold(0.0, |most, near| near[word].max(most)));
        SaidIn {
            nearest: nearest.collect(),
            near,
            small: sayings
                .words
                .iter()
                .map(|word| is_small(&word.text))
                .collect(),
            sayings,
            typed,
            runs,
        }
    }

    /// Every saying that the query says somewhere, what for, and where.
    pub(crate) fn all(&self) -> Vec<(&'q SaidFor, SaidHere)> {
        let mut found = Vec::new();
        let what = |saying: &Saying| self.sayings.what.get(saying.what);
        for saying in &self.sayings.list {
            let Some(what) = what(saying) else { continue };
            let before = found.len();
            for start in 0..self.typed.len() {
                found.extend(self.at(saying, start).map(|here| (what, here)));
            }
            if found.len() == before && !what.documents.is_empty() {
                found.extend(self.anywhere(saying).map(|here| (what, here)));
            }
        }
        // one word more or fewer: `backout preventer` for `back-out preventer`
        for (joined, start, end) in &self.runs {
            for saying in self.sayings.joined(joined) {
                if end - start == saying.said.len() {
                    continue;
                }
                let here = SaidHere {
                    words: (*start..*end).collect(),
                    like: 1.0,
                    content: self.content(saying).count(),
                    sure: true,
                    scattered: false,
                };
                found.extend(what(saying).map(|what| (what, here)));
            }
        }
        found
    }

    /// The words of a saying that say something.
    pub(crate) fn content(&self, saying: &Saying) -> impl Iterator<Item = usize> {
        let said = saying.said.iter().copied();
        said.filter(|word| !self.small[*word])
    }

    fn is_sure(&self, at: usize, near: f32) -> bool {
        near == 1.0 || (near >= ONE_SLIP && self.typed[at].strange)
    }

    /// Whether all that says something in a saying of several words is said, wherever it stands.
    fn anywhere(&self, saying: &Saying) -> Option<SaidHere> {
        if self
            .content(saying)
            .any(|word| self.nearest[word] < ONE_SLIP)
        {
            return None;
        }
        let (mut words, mut like, mut sure) = (Vec::new(), SCATTERED, true);
        for word in self.content(saying) {
            let free = (0..self.typed.len()).filter(|at| !words.contains(at));
            let nearest =
                free.max_by(|a, b| self.near[*a][word].total_cmp(&self.near[*b][word]))?;
            let near = self.near[nearest][word];
            if near < ONE_SLIP {
                return None;
            }
            words.push(nearest);
            like = like.min(near * SCATTERED);
            sure &= self.is_sure(nearest, near);
        }
        (words.len() > 1).then_some(SaidHere {
            content: words.len(),
            words,
            like,
            sure,
            scattered: true,
        })
    }

    /// Whether the saying begins with this word of the query, words that say little set aside.
    fn at(&self, saying: &Saying, start: usize) -> Option<SaidHere> {
        let mut said = saying.said.iter().peekable();
        let (mut words, mut like) = (Vec::new(), 1.0f32);
        let (mut content, mut left_out, mut sure) = (0, false, true);
        let mut at = start;
        while let Some(&&word) = said.peek() {
            let near = self.near.get(at).map_or(0.0, |near| near[word]);
            if near > 0.0 {
                words.push(at);
                like = like.min(near);
                content += usize::from(!self.small[word]);
                sure &= self.is_sure(at, near);
                at += 1;
                said.next();
            } else if self.small[word] {
                left_out = true;
                said.next();
            } else if !words.is_empty() && self.typed.get(at)?.small {
                at += 1;
            } else {
                return None;
            }
        }
        // `there and back` is not said by `back` alone
        let enough = !words.is_empty() && words[0] == start && (!left_out || content > 1);
        enough.then_some(SaidHere {
            words,
            like,
            content,
            sure,
            scattered: false,
        })
    }
}

/// How near a typed word, which is `itself`, is to a word of a saying: 1 the same, 0 not at all.
fn likeness(typed: &TypedWord, itself: &SaidWord, word: &SaidWord) -> f32 {
    let digits = has_digit(typed.text);
    if typed.text == word.text || (!digits && itself.stem == word.stem) {
        return 1.0;
    }
    if !digits && itself.root == word.root {
        return KIN;
    }
    if typed.unfinished && typed.text.len() >= 3 && !digits && word.text.starts_with(typed.text) {
        return 0.8;
    }
    if !typed.strange || has_digit(&word.text) {
        return 0.0;
    }
    // no two slips make a word longer by three
    let automaton = typed.automaton;
    let automaton = automaton.filter(|_| typed.text.len().abs_diff(word.text.len()) <= 2);
    let heard = word.sound.is_some() && itself.sound == word.sound;
    match automaton.and_then(|automaton| slips_of(automaton, &word.text)) {
        Some(0 | 1) => ONE_SLIP,
        _ if heard => ONE_SLIP,
        Some(_) => 0.4,
        None => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::alike::WordSaid;
    use crate::sayings::GatheredSayings;

    fn sayings(said: &[&str]) -> Sayings {
        let mut gathered = GatheredSayings::default();
        for (document, said) in (0u32..).zip(said) {
            gathered.leads(said, document);
        }
        Sayings::read(&gathered.write(), said.len()).expect("what was written")
    }

    fn typed<'q>(query: &'q str, is_small: &impl Fn(&str) -> bool) -> Vec<TypedWord<'q>> {
        let words = query.split(' ').map(|text| TypedWord {
            text,
            automaton: None,
            small: is_small(text),
            strange: false,
            unfinished: false,
        });
        words.collect()
    }

    /// The sayings that a query says, by their documents, with the words that say them.
    fn said(list: &[&str], query: &str) -> Vec<(usize, Vec<usize>)> {
        let sayings = sayings(list);
        let is_small = |word: &str| ["a", "in", "and", "by", "the", "there"].contains(&word);
        let typed = typed(query, &is_small);
        let found = SaidIn::new(&sayings, &typed, is_small).all();
        let mut found: Vec<_> = found
            .into_iter()
            .map(|(what, here)| (what.documents[0], here.words))
            .collect();
        found.sort_unstable();
        found
    }

    #[test]
    fn words_that_say_little_may_stand_between_or_be_left_out() {
        let list = ["hit by jet", "hole in hand", "there and back"];
        assert_eq!(said(&list, "hit by the jet"), [(0, vec![0, 1, 3])]);
        assert_eq!(said(&list, "a hole hand"), [(1, vec![1, 2])]);
        assert_eq!(said(&list, "back"), []);
        assert_eq!(said(&list, "there is a way back"), []);
    }

    #[test]
    fn all_words_of_a_saying_may_stand_anywhere() {
        let list = ["hit by jet", "ambulance", "change the look"];
        assert_eq!(said(&list, "a jet of water has hit him"), [(0, vec![5, 1])]);
        assert_eq!(said(&list, "the look is to change"), [(2, vec![4, 1])]);
        assert_eq!(said(&list, "hit by a lance"), []);
    }

    #[test]
    fn a_word_counts_where_it_is_said_with_others() {
        let sayings = sayings(&["nozzle knackered", "hose"]);
        let typed = typed("tip knackered", &|_| false);
        let parts = SaidIn::new(&sayings, &typed, |_| false).alike().parts;
        let part = |part: &WordSaid| (part.word, part.document, part.near);
        let parts: Vec<_> = parts.iter().map(part).collect();
        assert_eq!(parts, [(1, 0, 0.5f32.sqrt())]);
    }

    #[test]
    fn the_likest_saying_shares_most_of_its_words_and_of_the_query_s() {
        let list = [
            "nozzle plugged",
            "nozzle change",
            "nozzle",
            "plugged tube blows back",
        ];
        let sayings = sayings(&list);
        let is_small = |word: &str| word == "the";
        let likest = |query: &str| {
            let typed = typed(query, &is_small);
            SaidIn::new(&sayings, &typed, is_small).alike().likest
        };
        assert!((likest("the nozzle plugged")[0] - 1.0).abs() < 1e-6);
        let likest = likest("plugged nozzle");
        assert!((likest[0] - 1.0).abs() < 1e-6, "in any order");
        assert!(likest[0] > likest[2] && likest[2] > likest[3], "{likest:?}");
        assert!(likest[1] < likest[0] && likest[1] > 0.0, "{likest:?}");
    }

    #[test]
    fn words_that_say_little_alone_are_as_like_a_saying_as_it_is_said() {
        let mut gathered = GatheredSayings::default();
        gathered.relate("how far");
        gathered.leads("far end", 0);
        let sayings = Sayings::read(&gathered.write(), 1).expect("what was written");
        let is_small = |word: &str| word == "how";
        let typed = typed("how", &is_small);
        let likest = SaidIn::new(&sayings, &typed, is_small).alike().likest;
        assert!(likest[0] > 0.0 && likest[0] <= 1.0, "{likest:?}");
    }

    #[test]
    fn words_that_are_said_for_the_same_stand_for_each_other() {
        let mut gathered = GatheredSayings::default();
        gathered.relate("stick stuck, hurt injured");
        gathered.means("beam", &["rail".to_string()]);
        gathered.leads("rails too short", 0);
        gathered.leads("lance stuck", 1);
        let sayings = Sayings::read(&gathered.write(), 2).expect("what was written");
        for (query, document) in [("beams too short", 0), ("lances stick", 1)] {
            let typed = typed(query, &|_| false);
            let mut found = SaidIn::new(&sayings, &typed, |_| false).all();
            found.retain(|(what, _)| !what.documents.is_empty());
            let found = found
                .iter()
                .map(|(what, here)| (&what.documents, here.sure));
            assert_eq!(
                found.collect::<Vec<_>>(),
                [(&vec![document], false)],
                "{query}"
            );
        }
    }

    #[test]
    fn a_saying_may_be_run_together() {
        assert_eq!(said(&["first aid"], "the firstaid"), [(0, vec![1])]);
        assert_eq!(said(&["firstaid"], "first aid"), [(0, vec![0, 1])]);
    }

    #[test]
    fn a_number_in_a_saying_is_exact() {
        let near = |typed: &str, word: &str, unfinished: bool| {
            let typed = TypedWord {
                text: typed,
                automaton: None,
                small: false,
                strange: false,
                unfinished,
            };
            likeness(&typed, &SaidWord::of(typed.text), &SaidWord::of(word))
        };
        assert_eq!(near("10", "100", true), 0.0);
        assert_eq!(near("stingers", "stinger", false), 1.0);
        assert_eq!(near("stin", "stinger", true), 0.8);
        assert_eq!(near("stin", "stinger", false), 0.0);
    }
}
