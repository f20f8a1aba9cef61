//! First judgement, over postings alone: which documents hold the words, where, how often.

use crate::index::Index;
use crate::kind::Kind;
use crate::plan::{Plan, Word};
use crate::postings::{Posting, read_postings};

const TITLE: f32 = 2.6;
const PLACE: f32 = 0.4;
/// How soon a word said again adds nothing, and how much a long text is held back.
const SATURATION: f32 = 1.2;
const LENGTH: f32 = 0.6;
/// A hit that holds less than this part of what the best one holds is noise.
const LEAST_COVER: f32 = 0.6;
/// A hit that holds this part is taken to hold every word.
const WHOLE: f32 = 0.96;
/// What is left of a hit that lacks a number of the query and takes none.
const NUMBER_LACKING: f32 = 0.4;
/// A calculator takes any number: one in the query speaks for it, said or not.
const NUMBER_TAKEN: f32 = 0.7;

/// A document and what speaks for it.
pub(crate) struct Scored {
    pub(crate) document: usize,
    pub(crate) score: f32,
    /// It holds every word of the query, near enough.
    pub(crate) whole: bool,
    /// The title holds exactly the query's words.
    pub(crate) whole_title: bool,
}

/// What one word, or part of one, finds in each document.
struct Sheet {
    value: Vec<f32>,
    title: Vec<f32>,
    /// The closeness of the reading that found it; 0 where nothing did.
    near: Vec<f32>,
    seen: Vec<bool>,
    touched: Vec<usize>,
}

impl Sheet {
    fn new(documents: usize) -> Sheet {
        Sheet {
            value: vec![0.0; documents],
            title: vec![0.0; documents],
            near: vec![0.0; documents],
            seen: vec![false; documents],
            touched: Vec::new(),
        }
    }

    fn clear(&mut self) {
        for &document in &self.touched {
            self.value[document] = 0.0;
            self.title[document] = 0.0;
            self.near[document] = 0.0;
            self.seen[document] = false;
        }
        self.touched.clear();
    }

    /// Takes note of a document; false when there is no such document.
    fn touch(&mut self, document: usize) -> bool {
        match self.seen.get_mut(document) {
            Some(seen) => {
                if !*seen {
                    *seen = true;
                    self.touched.push(document);
                }
                true
            }
            None => false,
        }
    }

    /// Adds what a group of words finds; returns in how many documents.
    fn read(&mut self, index: &Index, group: u32) -> f32 {
        let (mut titles, mut texts) = (0u32, 0u32);
        read_postings(index.postings(group), |posting| match posting {
            Posting::Title(document) => {
                let length = 0.7 + 0.3 * index.title_length(document);
                titles += u32::from(self.add(document, TITLE / length, 1.0));
            }
            Posting::Place(place) => {
                for &document in index.documents_of(place) {
                    self.add(document as usize, PLACE, 0.0);
                }
            }
            Posting::Text(document, times) => {
                let times = times as f32;
                let length = 1.0 - LENGTH + LENGTH * index.text_length(document);
                let value = times * (SATURATION + 1.0) / (times + SATURATION * length);
                texts += u32::from(self.add(document, value, 0.0));
            }
        });
        titles.max(texts) as f32
    }

    fn add(&mut self, document: usize, value: f32, title: f32) -> bool {
        let known = self.touch(document);
        if known {
            self.value[document] += value;
            self.title[document] = self.title[document].max(title);
            self.near[document] = 1.0;
        }
        known
    }

    /// Keeps of every document the better of two readings.
    fn keep_best(&mut self, other: &Sheet, closeness: f32) {
        for &document in &other.touched {
            if other.near[document] > 0.0 && self.touch(document) {
                let max = |mine: &mut f32, theirs: f32| *mine = mine.max(theirs * closeness);
                max(&mut self.near[document], other.near[document]);
                max(&mut self.value[document], other.value[document]);
                max(&mut self.title[document], other.title[document]);
            }
        }
    }

    /// Keeps what both hold, by the weaker.
    fn keep_common(&mut self, other: &Sheet) {
        for &document in &self.touched {
            let weaker = |mine: &mut f32, theirs: f32| *mine = mine.min(theirs);
            weaker(&mut self.near[document], other.near[document]);
            weaker(&mut self.value[document], other.value[document]);
            weaker(&mut self.title[document], other.title[document]);
        }
    }
}

/// Every document worth showing, in no order.
pub(crate) fn score(index: &Index, plan: &Plan) -> Vec<Scored> {
    let count = index.document_count();
    let mut total = vec![0.0f32; count];
    let mut cover = vec![0.0f32; count];
    let mut title_cover = vec![0.0f32; count];
    let mut exact_titles = vec![0usize; count];
    let mut missing_numbers = vec![0.0f32; count];
    let (mut best, mut part, mut other) = (Sheet::new(count), Sheet::new(count), Sheet::new(count));

    for word in &plan.words {
        best.clear();
        let rarity = read_word(index, word, &mut best, &mut part, &mut other);
        for &document in &best.touched {
            total[document] += word.weight * rarity * best.value[document];
            cover[document] += word.weight * (0.5 + 0.5 * best.near[document]);
            title_cover[document] += word.weight * best.title[document];
            exact_titles[document] += usize::from(best.title[document] > 0.99);
        }
        if word.number {
            for (document, missing) in missing_numbers.iter_mut().enumerate() {
                *missing += if best.near[document] > 0.0 { 0.0 } else { 1.0 };
            }
        }
    }

    let weight = plan.weight().max(f32::MIN_POSITIVE);
    let has_number = plan.has_number();
    let mut found = Vec::new();
    for document in 0..count {
        if total[document] <= 0.0 {
            continue;
        }
        let kind = index.kind(document);
        let takes_numbers = matches!(kind, Kind::Calculator | Kind::Input);
        if takes_numbers {
            cover[document] += NUMBER_TAKEN * missing_numbers[document];
        }
        let titled = title_cover[document] / weight;
        let words = plan.words.len() as f32;
        let filled = (words / index.title_words(document).max(1.0)).min(1.0);
        let covered = cover[document] / weight;
        let mut score = total[document] * covered * covered * kind.weight();
        score *= 1.0 + titled * titled * (0.5 + 0.9 * filled);
        if has_number && (takes_numbers || missing_numbers[document] == 0.0) {
            score *= kind.value_weight();
        } else if titled > 0.6 {
            score *= kind.value_weight().sqrt();
        }
        if missing_numbers[document] > 0.0 && !takes_numbers {
            score *= NUMBER_LACKING;
        }
        found.push(Scored {
            document,
            score,
            whole: covered > WHOLE,
            whole_title: exact_titles[document] == plan.words.len()
                && index.title_words(document) == words,
        });
    }
    let most = cover.iter().copied().fold(0.0, f32::max);
    found.retain(|scored| cover[scored.document] >= most * LEAST_COVER);
    found
}

/// Fills `best` with what the word's readings find; returns how rare the word is.
fn read_word(
    index: &Index,
    word: &Word,
    best: &mut Sheet,
    part: &mut Sheet,
    other: &mut Sheet,
) -> f32 {
    let closest = word
        .ways
        .iter()
        .map(|way| way.closeness)
        .fold(0.0, f32::max);
    let mut rarity = f32::INFINITY;
    for way in &word.ways {
        let Some((first, rest)) = way.parts.split_first() else {
            continue;
        };
        part.clear();
        let mut documents = part.read(index, first.group);
        for next in rest {
            other.clear();
            documents = documents.min(other.read(index, next.group));
            part.keep_common(other);
        }
        // a word typed wrong is as rare as the commonest word it may stand for
        if way.closeness >= closest - 0.1 {
            rarity = rarity.min(index.rarity(documents));
        }
        best.keep_best(part, way.closeness);
    }
    if rarity.is_finite() { rarity } else { 0.0 }
}
