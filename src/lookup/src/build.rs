//! From documents to the index's bytes; the same documents give the same bytes.

use crate::bytes::{put_block, put_number};
use crate::kind::DocumentKind;
use crate::postings::{Gathered, put_postings};
use crate::stem::stem;
use crate::store::write_store;
use crate::synonyms::write_synonyms;
use crate::terms::{IndexTerm, write_terms};
use crate::token::tokens;
use std::collections::{BTreeMap, HashMap};

/// The first bytes of every index; the last one is the format's version.
pub(crate) const MARK: &[u8; 4] = b"GLX\x02";
/// The same of the texts.
pub(crate) const TEXTS_MARK: &[u8; 4] = b"GLT\x01";

/// One thing that can be found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    pub title: String,
    /// Where it stands: `Survey › Measure the exchanger`.
    pub place: String,
    pub url: String,
    pub kind: DocumentKind,
    /// What is searched besides the title, and what excerpts are cut from.
    pub text: String,
}

/// What the page loads for a search, in the order that it needs it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IndexFiles {
    /// Finds: words, titles, places and addresses.
    pub index: Vec<u8>,
    /// Shows, and tells neighbours apart: the documents' texts.
    pub texts: Vec<u8>,
}

/// Builds the index. A synonym is what people say and what the handbook says.
/// Documents are read by as many threads as there are cores; the bytes don't tell by how many.
pub fn build(documents: &[Document], synonyms: &[(String, Vec<String>)]) -> IndexFiles {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    build_with(documents, synonyms, cores)
}

fn build_with(
    documents: &[Document],
    synonyms: &[(String, Vec<String>)],
    threads: usize,
) -> IndexFiles {
    let mut places: BTreeMap<&str, u32> = BTreeMap::new();
    for document in documents {
        places.insert(&document.place, 0);
    }
    for (number, place) in (0u32..).zip(places.values_mut()) {
        *place = number;
    }

    let mut words = Words::default();
    for (&place, &number) in &places {
        words.add_place(number, place);
    }
    let mut facts = Vec::new();
    let read = read_all(documents, threads);
    for ((number, document), read) in (0u32..).zip(documents).zip(&read) {
        let title = words.add_title(number, &read.title);
        let text = words.add_text(number, &read.text);
        facts.push(document.kind.code());
        let place = places.get(document.place.as_str()).copied();
        put_number(&mut facts, place.unwrap_or(0));
        put_number(&mut facts, title);
        put_number(&mut facts, text);
    }
    let (terms, postings) = words.write();

    let mut names: Vec<&str> = places.into_keys().collect();
    let place_count = names.len() as u32;
    for document in documents {
        names.extend([document.title.as_str(), document.url.as_str()]);
    }

    let mut index = MARK.to_vec();
    put_number(&mut index, place_count);
    put_block(&mut index, &facts);
    put_block(&mut index, &terms);
    put_block(&mut index, &postings);
    put_block(&mut index, &write_synonyms(synonyms));
    put_block(&mut index, &write_store(&names));
    let written: Vec<&str> = documents.iter().map(|one| one.text.as_str()).collect();
    let mut texts = TEXTS_MARK.to_vec();
    put_number(&mut texts, check(&index));
    texts.extend(write_store(&written));
    IndexFiles { index, texts }
}

/// What tells the texts of one index from those of another.
pub(crate) fn check(index: &[u8]) -> u32 {
    let step = |sum: u32, byte: &u8| (sum ^ u32::from(*byte)).wrapping_mul(0x0100_0193);
    index.iter().fold(0x811c_9dc5, step)
}

/// A document's words, in order.
struct Read {
    title: Vec<String>,
    text: Vec<String>,
}

/// The words of every document, in the documents' order.
fn read_all(documents: &[Document], threads: usize) -> Vec<Read> {
    let words = |text: &str| tokens(text).into_iter().map(|token| token.text).collect();
    let read = |document: &Document| Read {
        title: words(&document.title),
        text: words(&document.text),
    };
    let share = documents.len().div_ceil(threads.max(1)).max(1);
    std::thread::scope(|scope| {
        let shares: Vec<_> = documents
            .chunks(share)
            .map(|share| scope.spawn(move || share.iter().map(read).collect::<Vec<Read>>()))
            .collect();
        let mut all = Vec::with_capacity(documents.len());
        for share in shares {
            match share.join() {
                Ok(read) => all.extend(read),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        all
    })
}

/// Every word met so far, with its postings.
#[derive(Default)]
struct Words {
    groups: HashMap<String, usize>,
    by_text: HashMap<String, usize>,
    gathered: Vec<Gathered>,
}

impl Words {
    fn gathered(&mut self, word: &str) -> &mut Gathered {
        let group = match self.by_text.get(word) {
            Some(&group) => group,
            None => {
                let next = self.gathered.len();
                let group = *self.groups.entry(stem(word)).or_insert(next);
                if group == next {
                    self.gathered.push(Gathered::default());
                }
                self.by_text.insert(word.to_string(), group);
                group
            }
        };
        &mut self.gathered[group]
    }

    fn add_place(&mut self, number: u32, place: &str) {
        for token in tokens(place) {
            push_once(&mut self.gathered(&token.text).places, number);
        }
    }

    fn add_title(&mut self, number: u32, words: &[String]) -> u32 {
        for word in words {
            push_once(&mut self.gathered(word).titles, number);
        }
        words.len() as u32
    }

    fn add_text(&mut self, number: u32, words: &[String]) -> u32 {
        for word in words {
            let texts = &mut self.gathered(word).texts;
            match texts.last_mut() {
                Some((last, times)) if *last == number => *times += 1,
                _ => texts.push((number, 1)),
            }
        }
        words.len() as u32
    }

    /// The dictionary and the postings, groups in the order of their first word.
    fn write(self) -> (Vec<u8>, Vec<u8>) {
        let mut sorted: Vec<(String, usize)> = self.by_text.into_iter().collect();
        sorted.sort();
        let mut numbers: HashMap<usize, u32> = HashMap::new();
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
            title: format!("Step {number}"),
            place: format!("Phase {}", number % 3),
            url: format!("page.html#step-{number}"),
            kind: DocumentKind::Step,
            text: format!(
                "Set the stop to {number} in, then pull on hose {}.",
                number % 5
            ),
        };
        let documents: Vec<Document> = (0..40).map(document).collect();
        let alone = build_with(&documents, &[], 1);
        for threads in [2, 7, 64] {
            assert_eq!(
                build_with(&documents, &[], threads),
                alone,
                "{threads} threads"
            );
        }
    }
}
