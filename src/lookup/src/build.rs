//! From documents to the index's bytes; the same documents give the same bytes.

use crate::bytes::{put_block, put_number};
use crate::kind::DocumentKind;
use crate::postings::{Gathered, put_postings};
use crate::sayings::GatheredSayings;
use crate::stem::stem;
use crate::store::write_store;
use crate::terms::{IndexTerm, write_terms};
use crate::token::{each_token, tokens};
use rustc_hash::FxHashMap;
use std::borrow::Cow;

/// The first bytes of every index; the last one is the format's version.
pub(crate) const MARK: &[u8; 4] = b"GLX\x05";
/// The same of the texts.
pub(crate) const TEXTS_MARK: &[u8; 4] = b"GLT\x01";
/// On a document's kind: it stands aside.
pub(crate) const ASIDE: u8 = 0x80;
/// On a document's kind: it is urgent.
pub(crate) const URGENT: u8 = 0x40;

/// One thing that can be found.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Document<'d> {
    pub title: Cow<'d, str>,
    /// Where it stands: `Survey › Measure the exchanger`.
    pub place: Cow<'d, str>,
    pub url: Cow<'d, str>,
    pub kind: DocumentKind,
    /// What is searched besides the title, and what excerpts are cut from. A large handbook's own
    /// texts are borrowed: they would lie in memory twice.
    pub text: Cow<'d, str>,
    /// Searched as the text is, and never shown.
    pub unseen: String,
    /// What people say for it.
    pub also: Vec<String>,
    /// Of a term: the address of the document that tells more of it, which is found in its place.
    pub leads: Option<String>,
    /// It is for others than those who search: it stands below all that is not.
    pub aside: bool,
    /// Nothing is to be above it for whoever says what people say for it.
    pub urgent: bool,
}

/// What an index knows besides its documents.
#[derive(Debug, Clone, Copy, Default)]
pub struct SearchWords<'w> {
    /// What people say, and what the handbook says for it.
    pub synonyms: &'w [(String, Vec<String>)],
    /// Words of the language that say little by themselves, with spaces between them.
    pub small: &'w str,
    /// What asks for a value, such as units and `how much`, with commas between them.
    pub asks: &'w str,
    /// Words that people say one for another, or forms of one, with commas between the groups:
    /// within sayings each stands for the others.
    pub alike: &'w str,
}

/// What the page loads for a search, in the order that it needs it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IndexFiles {
    /// Finds: words, titles, places and addresses.
    pub index: Vec<u8>,
    /// Shows, and tells neighbours apart: the documents' texts.
    pub texts: Vec<u8>,
}

/// Builds the index. Documents are read by as many threads as there are cores; the bytes don't tell
/// by how many.
pub fn build(documents: &[Document], words: &SearchWords) -> IndexFiles {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    build_with(documents, words, cores)
}

fn build_with(documents: &[Document], known: &SearchWords, threads: usize) -> IndexFiles {
    let mut names = all_places(documents);
    let mut words = Words::default();
    let mut places: FxHashMap<&str, u32> = FxHashMap::default();
    for (number, &place) in (0u32..).zip(&names) {
        words.add_place(number, place);
        places.insert(place, number);
    }
    let mut facts = Vec::new();
    let mut rest = documents.iter();
    let mut number = 0;
    for share in read_all(documents, threads) {
        let groups: Vec<usize> = share.words.iter().map(|one| words.group(one)).collect();
        let mut tokens = share.tokens.iter().map(|token| groups[*token as usize]);
        for ((title, text), document) in share.lengths.into_iter().zip(&mut rest) {
            words.add_title(number, tokens.by_ref().take(title as usize));
            words.add_text(number, tokens.by_ref().take(text as usize));
            let aside = if document.aside { ASIDE } else { 0 };
            let urgent = if document.urgent { URGENT } else { 0 };
            facts.push(document.kind.code() | aside | urgent);
            let place = places.get(document.place.as_ref()).copied();
            put_number(&mut facts, place.unwrap_or(0));
            put_number(&mut facts, title);
            put_number(&mut facts, text);
            number += 1;
        }
    }
    let (terms, postings) = words.write();

    let place_count = names.len() as u32;
    names.reserve(2 * documents.len());
    for document in documents {
        names.extend([document.title.as_ref(), document.url.as_ref()]);
    }

    let mut index = MARK.to_vec();
    put_number(&mut index, place_count);
    put_block(&mut index, &facts);
    put_block(&mut index, &terms);
    put_block(&mut index, &postings);
    put_block(&mut index, &sayings(documents, known));
    put_block(&mut index, &leads(documents));
    put_block(&mut index, known.small.as_bytes());
    put_block(&mut index, known.asks.as_bytes());
    put_block(&mut index, &write_store(&names));
    let written: Vec<&str> = documents.iter().map(|one| one.text.as_ref()).collect();
    let mut texts = TEXTS_MARK.to_vec();
    put_number(&mut texts, check(&index));
    texts.extend(write_store(&written));
    IndexFiles { index, texts }
}

/// The places of all documents in the order of the alphabet, each once.
fn all_places<'d>(documents: &'d [Document]) -> Vec<&'d str> {
    let mut places: Vec<&str> = Vec::new();
    for document in documents {
        // the documents of a page stand together
        if places.last() != Some(&document.place.as_ref()) {
            places.push(&document.place);
        }
    }
    places.sort_unstable();
    places.dedup();
    places
}

/// What people say, for words and for documents.
fn sayings(documents: &[Document], known: &SearchWords) -> Vec<u8> {
    let mut sayings = GatheredSayings::default();
    sayings.relate(known.alike);
    for (said, meant) in known.synonyms {
        sayings.means(said, meant);
    }
    for (number, document) in (0u32..).zip(documents) {
        for said in &document.also {
            sayings.leads(said, number);
        }
    }
    sayings.write()
}

/// Each document that leads to another, and that one.
fn leads(documents: &[Document]) -> Vec<u8> {
    let mut out = Vec::new();
    if documents.iter().all(|document| document.leads.is_none()) {
        return out;
    }
    let mut places: FxHashMap<&str, u32> = FxHashMap::default();
    for (number, document) in (0u32..).zip(documents) {
        places.entry(&document.url).or_insert(number);
    }
    for (number, document) in (0u32..).zip(documents) {
        let to = document
            .leads
            .as_ref()
            .and_then(|url| places.get(url.as_str()));
        if let Some(&to) = to {
            put_number(&mut out, number);
            put_number(&mut out, to);
        }
    }
    out
}

/// What tells the texts of one index from those of another.
pub(crate) fn check(index: &[u8]) -> u32 {
    let step = |sum: u32, byte: &u8| (sum ^ u32::from(*byte)).wrapping_mul(0x0100_0193);
    index.iter().fold(0x811c_9dc5, step)
}

/// What one thread has read. Each word is held once: a large handbook says the same few thousand
/// words millions of times.
#[derive(Default)]
struct ShareOfWords {
    words: Vec<String>,
    /// The words of all documents in order, by their places among these.
    tokens: Vec<u32>,
    /// How many of them are each document's title and its text.
    lengths: Vec<(u32, u32)>,
}

impl ShareOfWords {
    fn read(documents: &[Document]) -> ShareOfWords {
        let mut share = ShareOfWords::default();
        let mut known: FxHashMap<String, u32> = FxHashMap::default();
        let mut words = |text: &str| {
            let before = share.tokens.len();
            each_token(text, |word, _, _| {
                let token = known.get(word).copied().unwrap_or_else(|| {
                    let next = known.len() as u32;
                    known.insert(word.to_string(), next);
                    next
                });
                share.tokens.push(token);
            });
            (share.tokens.len() - before) as u32
        };
        let lengths = documents
            .iter()
            .map(|one| (words(&one.title), words(&one.text) + words(&one.unseen)));
        share.lengths = lengths.collect();
        let mut words: Vec<(u32, String)> = known.into_iter().map(|(a, b)| (b, a)).collect();
        words.sort_unstable();
        share.words = words.into_iter().map(|(_, word)| word).collect();
        share
    }
}

/// The words of every document, in the documents' order.
fn read_all(documents: &[Document], threads: usize) -> Vec<ShareOfWords> {
    let share = documents.len().div_ceil(threads.max(1)).max(1);
    std::thread::scope(|scope| {
        let shares: Vec<_> = documents
            .chunks(share)
            .map(|share| scope.spawn(|| ShareOfWords::read(share)))
            .collect();
        let read = shares.into_iter().map(|share| match share.join() {
            Ok(read) => read,
            Err(panic) => std::panic::resume_unwind(panic),
        });
        read.collect()
    })
}

/// Every word met so far, with its postings.
#[derive(Default)]
struct Words {
    groups: FxHashMap<String, usize>,
    by_text: FxHashMap<String, usize>,
    gathered: Vec<Gathered>,
}

impl Words {
    /// The place of a word's group.
    fn group(&mut self, word: &str) -> usize {
        if let Some(&group) = self.by_text.get(word) {
            return group;
        }
        let next = self.gathered.len();
        let group = *self.groups.entry(stem(word)).or_insert(next);
        if group == next {
            self.gathered.push(Gathered::default());
        }
        self.by_text.insert(word.to_string(), group);
        group
    }

    fn add_place(&mut self, number: u32, place: &str) {
        for token in tokens(place) {
            let group = self.group(&token.text);
            push_once(&mut self.gathered[group].places, number);
        }
    }

    fn add_title(&mut self, number: u32, groups: impl Iterator<Item = usize>) {
        for group in groups {
            push_once(&mut self.gathered[group].titles, number);
        }
    }

    fn add_text(&mut self, number: u32, groups: impl Iterator<Item = usize>) {
        for group in groups {
            let texts = &mut self.gathered[group].texts;
            match texts.last_mut() {
                Some((last, times)) if *last == number => *times += 1,
                _ => texts.push((number, 1)),
            }
        }
    }

    /// The dictionary and the postings, groups in the order of their first word.
    fn write(self) -> (Vec<u8>, Vec<u8>) {
        let mut sorted: Vec<(String, usize)> = self.by_text.into_iter().collect();
        sorted.sort();
        let mut numbers: FxHashMap<usize, u32> = FxHashMap::default();
        let mut terms = Vec::new();
        let mut postings = Vec::new();
        for (text, gathered) in sorted {
            let fresh = numbers.len() as u32;
            let group = *numbers.entry(gathered).or_insert(fresh);
            if group == fresh {
                put_postings(&mut postings, &self.gathered[gathered]);
            }
            terms.push(IndexTerm { text, group });
        }
        (write_terms(&terms), postings)
    }
}

fn push_once(list: &mut Vec<u32>, number: u32) {
    if list.last() != Some(&number) {
        list.push(number);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bytes_are_the_same_whoever_reads_the_documents() {
        let document = |number: usize| Document {
            title: format!("Step {number}").into(),
            place: format!("Phase {}", number % 3).into(),
            url: format!("page.html#step-{number}").into(),
            kind: DocumentKind::Step,
            text: format!(
                "Set the stop to {number} in, then pull on hose {}.",
                number % 5
            )
            .into(),
            ..Document::default()
        };
        let documents: Vec<Document> = (0..40).map(document).collect();
        let alone = build_with(&documents, &SearchWords::default(), 1);
        for threads in [2, 7, 64] {
            assert_eq!(
                build_with(&documents, &SearchWords::default(), threads),
                alone,
                "{threads} threads"
            );
        }
    }
}
