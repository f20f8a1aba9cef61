//! First judgement, over postings alone: which documents hold the words, where, how often.

use crate::calls::{Likeness, is_called_for, said_whole, said_words, says_more};
use crate::index::Index;
use crate::kind::DocumentKind;
use crate::plan::{Plan, QueryWord};
use crate::postings::Postings;
use crate::room::{Room, Sum, WordMatches};
use crate::spelling::WordReading;

const PLACE: f32 = 0.3;
/// A hit that holds less than this part of what the best one holds is noise.
const LEAST_COVER: f32 = 0.5;
/// As many hits are in sight at once; with fewer, what holds half as much is shown below them.
pub(crate) const IN_SIGHT: usize = 3;
const LEAST_SCANT: f32 = 0.3;
/// A hit that holds this part is taken to hold every word.
const WHOLE: f32 = 0.96;
/// A reading further away than this is a guess; of a word that may go on, than this.
const NEAR: f32 = 0.5;
const NEAR_UNFINISHED: f32 = 0.22;
/// How much of a query a word is that stands everywhere, or nowhere.
const LEAST_WORTH: f32 = 0.25;
/// What a saying of two words adds that are both said.
const SAID_IN_TWO: f32 = 1.5;
/// What a saying adds that is the query, and one that is like it in part.
const LIKE: f32 = 10.0;
/// A saying of so many words that are all said is what is meant, whatever else is said.
const SAID_AT_LENGTH: usize = 3;
/// A word that is no word counts as the one that it is nearest to.
const AS_TYPED: f32 = 0.99;
const AS_MEANT: f32 = 0.5;
/// What is left of a saying's title where it is not all that the query says.
const SAID_IN_PART: f32 = 0.6;
/// What is left of a hit that lacks a number of the query and takes none.
const NUMBER_LACKING: f32 = 0.33;
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
    /// It does, and is no step's, which bears the title of the part that it stands in.
    pub(crate) own_title: bool,
    /// How far the whole query is what people say for it.
    pub(crate) said: Likeness,
    /// The words of the query that it holds by a far reading alone, a bit each.
    pub(crate) far: u16,
    /// Another holds one of these nearly, or it is for others than the rest: it stands below.
    pub(crate) below: bool,
    /// It is urgent, and what people say for it is said.
    pub(crate) called: bool,
    /// How many words are said that call it above all others.
    pub(crate) call: usize,
}

impl WordMatches {
    /// Adds what a group of words finds, as far as its reading is close, in the documents of
    /// `among` only; returns in how many documents it stands at all.
    fn read(&mut self, index: &Index, group: u32, close: f32, among: Option<&[Sum]>) -> f32 {
        let (mut titles, mut texts) = (0u32, 0u32);
        let wanted =
            |document: usize| among.is_none_or(|sums| sums.get(document).is_some_and(Sum::found));
        let mut postings = Postings::new(index.postings(group));
        for document in postings.titles() {
            titles += 1;
            if wanted(document) {
                self.add(
                    document,
                    close * index.lengths(document).title,
                    close,
                    close,
                );
            }
        }
        for place in postings.places() {
            for &document in index.documents_of(place) {
                if wanted(document as usize) {
                    self.add(document as usize, close * PLACE, 0.0, close);
                }
            }
        }
        for (document, times) in postings.texts() {
            texts += 1;
            if wanted(document) {
                let value = index.lengths(document).text(times);
                self.add(document, close * value, 0.0, close);
            }
        }
        titles.max(texts) as f32
    }
}

/// Every document worth showing, in no order.
pub(crate) fn score(index: &Index, plan: &Plan, room: &mut Room) -> Vec<Scored> {
    let count = index.document_count();
    for &document in &room.touched {
        room.sums[document] = Sum::default();
    }
    room.touched.clear();
    room.sums.resize(count, Sum::default());

    let words = plan.words.iter().enumerate();
    let mut order: Vec<(usize, usize)> = words
        .map(|(place, word)| (cost(index, word), place))
        .collect();
    order.sort_unstable();
    let mut all = 0.0;
    for (cost, place) in order {
        let word = &plan.words[place];
        let common = index.is_common(cost) && !room.touched.is_empty();
        let rarity = read_word(index, word, common, room);
        let rarity = read_said(index, plan, place, rarity, room);
        let worth = word.weight * worth_of(index, word, rarity);
        all += worth;
        let Room {
            sums,
            touched,
            best,
            ..
        } = room;
        for &document in &best.touched {
            let (cell, sum) = (best.cells[document], &mut sums[document]);
            if !sum.found() {
                touched.push(document);
            }
            sum.total += word.weight * rarity * cell.value;
            sum.cover += word.weight * (0.5 + 0.5 * cell.near);
            sum.worth += worth * (0.5 + 0.5 * cell.near);
            sum.titles += word.weight * cell.title;
            let same = if word.strange { AS_MEANT } else { AS_TYPED };
            sum.exact_titles += u16::from(cell.title > same);
            sum.numbers += u16::from(word.number);
            sum.codes += u16::from(word.code);
            if !word.small && !word.number {
                let bit = 1u16.checked_shl(place as u32).unwrap_or(0);
                let near = if word.unfinished {
                    NEAR_UNFINISHED
                } else {
                    NEAR
                };
                match cell.near >= near {
                    true => sum.near |= bit,
                    false if cell.near > 0.0 => sum.far |= bit,
                    false => {}
                }
            }
        }
    }
    worth_showing(index, plan, all, &mut room.sums, &room.touched)
}

/// How much of a query a word is, from 0 to 1: of a long one the rare words say what is meant.
fn worth_of(index: &Index, word: &QueryWord, rarity: f32) -> f32 {
    if word.number {
        return 1.0;
    }
    (LEAST_WORTH + (1.0 - LEAST_WORTH) * rarity / index.rarity(1.0)).min(1.0)
}

/// Adds the documents that people say this word for, alone or with others; returns how rare it is.
fn read_said(index: &Index, plan: &Plan, place: usize, rarity: f32, room: &mut Room) -> f32 {
    let mut rarity = rarity;
    for said in plan.said.iter().filter(|said| said.words.contains(&place)) {
        for &document in &said.documents {
            let title = said.closeness * if said.whole { 1.0 } else { SAID_IN_PART };
            let value = title * index.lengths(document).title;
            room.best.add_said(document, value, title, said.closeness);
        }
        if rarity == 0.0 {
            rarity = index.rarity(said.documents.len() as f32);
        }
    }
    // a word that is said for a document with others is found there too
    let parts = plan.alike.parts.iter().filter(|part| part.word == place);
    for part in parts {
        room.best.add_said(part.document, 0.0, 0.0, part.near);
        if rarity == 0.0 {
            rarity = index.rarity(1.0);
        }
    }
    rarity
}

/// How many bytes of postings a word's readings take.
fn cost(index: &Index, word: &QueryWord) -> usize {
    let parts = word.ways.iter().flat_map(|way| &way.parts);
    parts.map(|part| index.postings(part.group).len()).sum()
}

fn worth_showing(
    index: &Index,
    plan: &Plan,
    all: f32,
    sums: &mut [Sum],
    touched: &[usize],
) -> Vec<Scored> {
    let numbers = plan.words.iter().filter(|word| word.number).count();
    let content = plan.words.iter().any(|word| !word.small);
    let mut most = 0.0f32;
    for &document in touched {
        let sum = &mut sums[document];
        if takes_numbers(index, document) {
            let taken = NUMBER_TAKEN * (numbers - usize::from(sum.numbers)) as f32;
            sum.cover += taken;
            sum.worth += taken;
        }
        most = most.max(sum.worth);
    }
    let (mut found, mut scanty) = (Vec::new(), Vec::new());
    for &document in touched {
        let sum = sums[document];
        // of a query that says something, what says little is no find
        let nothing = content && sum.near | sum.far == 0 && sum.numbers == 0;
        let scant = sum.worth < most * LEAST_COVER && !is_called_for(index, plan, document);
        if sum.total <= 0.0 || nothing || (scant && sum.worth < most * LEAST_SCANT) {
            continue;
        }
        let one = weigh(index, plan, all, document, sum);
        if scant { &mut scanty } else { &mut found }.push(one);
    }
    set_guesses_below(sums, &mut found);
    // a saying may be all there is, and be said by chance
    if found.len() < IN_SIGHT {
        found.extend(scanty.into_iter().map(|one| Scored { below: true, ..one }));
    }
    let urgent = found.iter().filter(|one| one.called);
    if let Some(most) = urgent.max_by_key(|one| one.call).map(|one| one.document) {
        for one in found.iter_mut().filter(|one| !one.called) {
            one.call = match says_more(plan, one.document, most) {
                true => said_words(plan, one.document),
                false => 0,
            };
        }
    }
    for one in &mut found {
        one.below |= index.is_aside(one.document) && said_words(plan, one.document) < 2;
    }
    found
}

/// A document that holds a word by a far reading alone stands below those that hold it nearly, and
/// of the other words no fewer.
fn set_guesses_below(sums: &[Sum], found: &mut [Scored]) {
    let guessed = found.iter().fold(0, |all, one| all | one.far);
    if guessed == 0 {
        return;
    }
    let places = || (0..u16::BITS as usize).filter(|place| guessed >> place & 1 == 1);
    let held = |sum: Sum| (sum.near | sum.far).count_ones();
    let mut most = [0u32; u16::BITS as usize];
    for sum in found.iter().map(|one| sums[one.document]) {
        for place in places().filter(|place| sum.near >> place & 1 == 1) {
            most[place] = most[place].max(held(sum));
        }
    }
    for one in found {
        let sum = sums[one.document];
        let mut far = places().filter(|place| one.far >> place & 1 == 1);
        one.below = far.any(|place| most[place] >= held(sum));
    }
}

/// What all that speaks for a document comes to.
fn weigh(index: &Index, plan: &Plan, all: f32, document: usize, sum: Sum) -> Scored {
    let numbers = plan.words.iter().filter(|word| word.number).count();
    let words = plan.words.len() as f32;
    let weight = plan.weight().max(f32::MIN_POSITIVE);
    let kind = index.kind(document);
    let takes_numbers = takes_numbers(index, document);
    let lacks_number = usize::from(sum.numbers) < numbers;
    let titled = sum.titles / weight;
    let said = said_whole(plan, document);
    let filled = match said {
        Likeness::Other => (words / index.title_words(document).max(1.0)).min(1.0),
        _ => 1.0,
    };
    let covered = sum.cover / weight;
    let called = is_called_for(index, plan, document);
    let said_words = said_words(plan, document);
    let worth = sum.worth / all.max(f32::MIN_POSITIVE);
    let mut score = sum.total * worth * worth;
    score *= 1.0 + titled * titled * (0.5 + 0.9 * filled);
    score *= match plan.asks {
        true => kind.weight(),
        false => kind.plain_weight(),
    };
    if numbers > 0 && (takes_numbers || !lacks_number) {
        score *= kind.value_weight();
    } else if plan.asks && titled > 0.6 {
        score *= kind.value_weight().sqrt();
    }
    if said_words > 1 && numbers == 0 {
        score *= SAID_IN_TWO;
    }
    score += LIKE * plan.alike.likest.get(document).copied().unwrap_or(0.0);
    let codes = plan.words.iter().filter(|word| word.code).count();
    let lacks_code = usize::from(sum.codes) < codes;
    if (lacks_code || (lacks_number && !takes_numbers)) && !called {
        score *= NUMBER_LACKING;
    }
    let whole_title = said > Likeness::Other
        || (usize::from(sum.exact_titles) == plan.words.len()
            && index.title_words(document) == words);
    Scored {
        document,
        score,
        whole: covered > WHOLE,
        whole_title,
        own_title: whole_title && kind != DocumentKind::Step,
        said,
        far: sum.far,
        below: false,
        called,
        call: match called {
            true => said_words.max(1),
            false if said_words >= SAID_AT_LENGTH => said_words,
            false => 0,
        },
    }
}

fn takes_numbers(index: &Index, document: usize) -> bool {
    matches!(
        index.kind(document),
        DocumentKind::Calculator | DocumentKind::Input
    )
}

/// Fills `best` with what the word's readings find, of a common word in the documents found
/// already; returns how rare the word is.
fn read_word(index: &Index, word: &QueryWord, common: bool, room: &mut Room) -> f32 {
    let Room {
        sums,
        best,
        part,
        other,
        ..
    } = room;
    let among = common.then_some(sums.as_slice());
    best.clear(index.document_count());
    let closest = word
        .ways
        .iter()
        .map(|way| way.closeness)
        .fold(0.0, f32::max);
    let mut rarity = f32::INFINITY;
    // a word typed wrong is as rare as the commonest word it may stand for
    let mut rarer = |way: &WordReading, documents: f32| {
        if way.closeness >= closest - 0.1 {
            rarity = rarity.min(index.rarity(documents));
        }
    };
    let single = |way: &&WordReading| way.parts.len() == 1;
    // the closest reading is most often the longest too: it needs no sheet of its own
    let straight = word
        .ways
        .iter()
        .filter(single)
        .max_by(|a, b| a.closeness.total_cmp(&b.closeness));
    if let Some(way) = straight {
        let documents = best.read(index, way.parts[0].group, way.closeness, among);
        rarer(way, documents);
    }
    for way in &word.ways {
        let Some((first, rest)) = way.parts.split_first() else {
            continue;
        };
        if straight.is_some_and(|straight| std::ptr::eq(straight, way)) {
            continue;
        }
        part.clear(index.document_count());
        let mut documents = part.read(index, first.group, 1.0, among);
        for next in rest {
            other.clear(index.document_count());
            documents = documents.min(other.read(index, next.group, 1.0, among));
            part.keep_common(other);
        }
        rarer(way, documents);
        if way.titled {
            part.keep_titled();
        }
        best.keep_best(part, way.closeness);
    }
    if rarity.is_finite() { rarity } else { 0.0 }
}
