//! The index opened: what it holds.

use crate::build::{ASIDE, MARK, TEXTS_MARK, URGENT, check};
use crate::bytes::ByteReader;
use crate::kind::DocumentKind;
use crate::lengths::Lengths;
use crate::room::Room;
use crate::sayings::{Sayings, words};
use crate::store::Store;
use crate::terms::Terms;
use std::cell::Cell;
use std::fmt;

/// A word whose postings take more bytes than this, and than an eighth of the documents, is
/// common: it puts the documents of the rarer words in order and finds none of its own.
const COMMON: usize = 1_000;

/// The bytes are no index, or one of another version, or damaged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OpenError;

impl fmt::Display for OpenError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the search index is damaged or of another version")
    }
}

impl std::error::Error for OpenError {}

struct Fact {
    kind: DocumentKind,
    aside: bool,
    urgent: bool,
    place: usize,
    title_words: f32,
    text_words: f32,
}

/// An index ready for queries.
pub struct Index {
    pub(crate) terms: Terms,
    pub(crate) sayings: Sayings,
    /// Words that say little by themselves, folded, in the order of the alphabet.
    small: Vec<String>,
    /// What asks for a value, as folded words.
    asks: Vec<Vec<String>>,
    /// Documents that lead to another, in rising order, and that one.
    leads: Vec<(usize, usize)>,
    /// Places, titles and addresses.
    names: Store,
    /// None until they are taken.
    texts: Option<Store>,
    check: u32,
    facts: Vec<Fact>,
    places: Vec<Vec<u32>>,
    postings: Vec<u8>,
    blocks: Vec<(usize, usize)>,
    /// Of each document.
    lengths: Vec<Lengths>,
    /// For whoever judges what a query finds.
    pub(crate) room: Cell<Room>,
}

impl Index {
    /// Opens what `build` made.
    pub fn open(bytes: Vec<u8>) -> Result<Index, OpenError> {
        Index::read(&bytes).ok_or(OpenError)
    }

    fn read(bytes: &[u8]) -> Option<Index> {
        let mut reader = ByteReader::new(bytes.strip_prefix(MARK)?);
        let place_count = usize::try_from(reader.number()?).ok()?;
        let facts = read_facts(reader.block()?, place_count)?;
        let terms = Terms::open(reader.block()?)?;
        let postings = reader.block()?;
        let sayings = Sayings::read(reader.block()?, facts.len())?;
        let leads = read_leads(reader.block()?, facts.len())?;
        let mut small = words(reader.block()?)?;
        small.sort_unstable();
        let asks = reader.block()?.split(|byte| *byte == b',');
        let mut asks = asks.map(words).collect::<Option<Vec<_>>>()?;
        asks.retain(|words| !words.is_empty());
        let names = Store::open(reader.block()?)?;
        let blocks = read_blocks(postings)?;
        let whole = names.texts() == place_count.checked_add(facts.len().checked_mul(2)?)?
            && u32::try_from(blocks.len()).ok()? == terms.groups()
            && reader.is_empty();
        if !whole {
            return None;
        }
        let mut places = vec![Vec::new(); place_count];
        for (number, fact) in (0u32..).zip(&facts) {
            places[fact.place].push(number);
        }
        let mean = |of: fn(&Fact) -> f32| {
            let sum: f32 = facts.iter().map(of).sum();
            (sum / facts.len().max(1) as f32).max(1.0)
        };
        let (mean_title, mean_text) = (mean(|fact| fact.title_words), mean(|fact| fact.text_words));
        let lengths =
            |fact: &Fact| Lengths::new(fact.title_words / mean_title, fact.text_words / mean_text);
        Some(Index {
            lengths: facts.iter().map(lengths).collect(),
            room: Cell::default(),
            postings: postings.to_vec(),
            terms,
            sayings,
            small,
            asks,
            leads,
            names,
            texts: None,
            check: check(bytes),
            facts,
            places,
            blocks,
        })
    }

    /// Takes the texts that were built with this index. Without them hits have no excerpts.
    pub fn take_texts(&mut self, bytes: &[u8]) -> Result<(), OpenError> {
        self.texts = Some(self.read_texts(bytes).ok_or(OpenError)?);
        Ok(())
    }

    fn read_texts(&self, bytes: &[u8]) -> Option<Store> {
        let mut reader = ByteReader::new(bytes.strip_prefix(TEXTS_MARK)?);
        let check = reader.number()?;
        let texts = Store::open(reader.take(reader.left())?)?;
        (check == self.check && texts.texts() == self.facts.len()).then_some(texts)
    }

    fn named(&self, document: usize, field: usize) -> String {
        self.names.text(self.places.len() + document * 2 + field)
    }

    pub(crate) fn title(&self, document: usize) -> String {
        self.named(document, 0)
    }

    pub(crate) fn url(&self, document: usize) -> String {
        self.named(document, 1)
    }

    pub(crate) fn place(&self, document: usize) -> String {
        self.names.text(self.facts[document].place)
    }

    /// Empty as long as the texts are not there.
    pub(crate) fn text(&self, document: usize) -> String {
        let texts = self.texts.as_ref();
        texts.map_or_else(String::new, |texts| texts.text(document))
    }

    pub(crate) fn document_count(&self) -> usize {
        self.facts.len()
    }

    pub(crate) fn kind(&self, document: usize) -> DocumentKind {
        self.facts
            .get(document)
            .map_or(DocumentKind::Heading, |fact| fact.kind)
    }

    pub(crate) fn title_words(&self, document: usize) -> f32 {
        self.facts
            .get(document)
            .map_or(1.0, |fact| fact.title_words)
    }

    #[inline]
    pub(crate) fn lengths(&self, document: usize) -> Lengths {
        self.lengths.get(document).copied().unwrap_or_default()
    }

    pub(crate) fn documents_of(&self, place: usize) -> &[u32] {
        self.places.get(place).map_or(&[], Vec::as_slice)
    }

    pub(crate) fn postings(&self, group: u32) -> &[u8] {
        let block = self.blocks.get(group as usize);
        block
            .and_then(|&(start, end)| self.postings.get(start..end))
            .unwrap_or(&[])
    }

    /// How much a word says that stands in that many documents.
    pub(crate) fn rarity(&self, documents: f32) -> f32 {
        let rest = (self.facts.len() as f32 - documents).max(0.0);
        (1.0 + (rest + 0.5) / (documents + 0.5)).ln()
    }

    /// Whether a folded word says little by itself.
    pub(crate) fn is_small(&self, word: &str) -> bool {
        let found = self
            .small
            .binary_search_by(|small| small.as_str().cmp(word));
        found.is_ok()
    }

    /// Whether a query asks for a value.
    pub(crate) fn asks(&self, query: &[&str]) -> bool {
        let number = |word: &&str| word.starts_with(|first: char| first.is_ascii_digit());
        let said = |asks: &Vec<String>| query.windows(asks.len()).any(|words| words == asks);
        query.iter().any(number) || self.asks.iter().any(said)
    }

    /// Where a document leads that only tells what a word means.
    pub(crate) fn leads(&self, document: usize) -> Option<usize> {
        let found = self
            .leads
            .binary_search_by_key(&document, |lead| lead.0)
            .ok()?;
        self.leads.get(found).map(|lead| lead.1)
    }

    pub(crate) fn is_aside(&self, document: usize) -> bool {
        self.facts.get(document).is_some_and(|fact| fact.aside)
    }

    pub(crate) fn is_urgent(&self, document: usize) -> bool {
        self.facts.get(document).is_some_and(|fact| fact.urgent)
    }

    /// Whether postings of that many bytes are those of a common word.
    pub(crate) fn is_common(&self, bytes: usize) -> bool {
        bytes > COMMON.max(self.document_count() / 8)
    }
}

fn read_facts(bytes: &[u8], place_count: usize) -> Option<Vec<Fact>> {
    let mut reader = ByteReader::new(bytes);
    let mut facts = Vec::new();
    while !reader.is_empty() {
        let code = *reader.take(1)?.first()?;
        let kind = DocumentKind::from_code(code & !(ASIDE | URGENT))?;
        let place = usize::try_from(reader.number()?).ok()?;
        if place >= place_count {
            return None;
        }
        facts.push(Fact {
            kind,
            aside: code & ASIDE != 0,
            urgent: code & URGENT != 0,
            place,
            title_words: reader.number()? as f32,
            text_words: reader.number()? as f32,
        });
    }
    Some(facts)
}

fn read_leads(bytes: &[u8], documents: usize) -> Option<Vec<(usize, usize)>> {
    let mut reader = ByteReader::new(bytes);
    let mut leads = Vec::new();
    while !reader.is_empty() {
        let from = usize::try_from(reader.number()?).ok()?;
        let to = usize::try_from(reader.number()?).ok()?;
        let rises = leads.last().is_none_or(|(before, _)| *before < from);
        if !rises || from.max(to) >= documents {
            return None;
        }
        leads.push((from, to));
    }
    Some(leads)
}

fn read_blocks(postings: &[u8]) -> Option<Vec<(usize, usize)>> {
    let mut reader = ByteReader::new(postings);
    let mut blocks = Vec::new();
    while !reader.is_empty() {
        let length = reader.block()?.len();
        let end = postings.len() - reader.left();
        blocks.push((end - length, end));
    }
    Some(blocks)
}
