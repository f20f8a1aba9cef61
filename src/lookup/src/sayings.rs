//! What people say: for what the handbook says, or for a place where it leads.

use crate::bytes::{ByteReader, put_next_word, put_number};
use crate::sound::sound;
use crate::stem::{root, stem};
use crate::token::{LONGEST, tokens};
use std::collections::BTreeMap;

/// `back-out preventer` for `hose stop`, or `ambulance` for the emergency's page.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Saying {
    /// Its words, by their places among those of all sayings.
    pub(crate) said: Vec<usize>,
    /// What it is said for, by its place.
    pub(crate) what: usize,
}

/// What something is said for.
#[derive(Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct SaidFor {
    pub(crate) meant: Vec<Vec<String>>,
    pub(crate) documents: Vec<usize>,
}

/// A word of sayings, or one held against them.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct SaidWord {
    pub(crate) text: String,
    pub(crate) stem: String,
    pub(crate) root: String,
    pub(crate) sound: Option<String>,
}

impl SaidWord {
    pub(crate) fn of(text: &str) -> SaidWord {
        SaidWord {
            text: text.to_string(),
            stem: stem(text),
            root: root(text),
            sound: sound(text),
        }
    }
}

#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Sayings {
    pub(crate) words: Vec<SaidWord>,
    pub(crate) list: Vec<Saying>,
    pub(crate) what: Vec<SaidFor>,
    /// Groups of words that are said one for another, by their places.
    pub(crate) kin: Vec<Vec<usize>>,
    /// Of each word, how many sayings have it.
    counts: Vec<u32>,
    /// Sayings run together, in the order of the alphabet, each with its place.
    joined: Vec<(String, usize)>,
}

/// Sayings by their folded words, each once, and words that are said one for another.
#[derive(Default)]
pub(crate) struct GatheredSayings {
    list: BTreeMap<Vec<String>, SaidFor>,
    alike: Vec<Vec<String>>,
}

impl GatheredSayings {
    fn of(&mut self, said: &str) -> &mut SaidFor {
        self.list.entry(folded(said)).or_default()
    }

    pub(crate) fn means(&mut self, said: &str, meant: &[String]) {
        let meant = meant.iter().map(|meant| folded(meant));
        let meant: Vec<_> = meant.filter(|words| !words.is_empty()).collect();
        self.of(said).meant.extend(meant);
    }

    pub(crate) fn leads(&mut self, said: &str, document: u32) {
        let documents = &mut self.of(said).documents;
        if documents.last() != Some(&(document as usize)) {
            documents.push(document as usize);
        }
    }

    /// Takes groups of words, with commas between them, each of which stands for the others.
    pub(crate) fn relate(&mut self, groups: &str) {
        self.alike.extend(groups.split(',').map(folded));
    }

    /// The groups, and each term with what is said for it by itself, as places among the words.
    fn kin(&self, places: &BTreeMap<&str, u32>) -> Vec<Vec<u32>> {
        let mut terms: BTreeMap<&Vec<String>, Vec<&str>> = BTreeMap::new();
        for (said, what) in &self.list {
            if let [alone] = said.as_slice() {
                for meant in &what.meant {
                    terms.entry(meant).or_default().push(alone);
                }
            }
        }
        for (meant, said) in &mut terms {
            said.extend(
                meant
                    .first()
                    .filter(|_| meant.len() == 1)
                    .map(String::as_str),
            );
        }
        let alike = self.alike.iter();
        let alike = alike.map(|group| group.iter().map(String::as_str).collect());
        let of_group = |group: Vec<&str>| {
            let stems: Vec<String> = group.into_iter().map(stem).collect();
            let related = places
                .iter()
                .filter(|(word, _)| stems.contains(&stem(word)));
            related.map(|(_, place)| *place).collect::<Vec<u32>>()
        };
        let groups = terms.into_values().chain(alike).map(of_group);
        groups.filter(|group| group.len() > 1).collect()
    }

    /// The words, each without what it shares with the one before, and which of them are said one
    /// for another; then what is said for, each with all that is said for it.
    pub(crate) fn write(&self) -> Vec<u8> {
        let said = self.list.iter().filter(|(said, _)| !said.is_empty());
        let mut by_what: BTreeMap<&SaidFor, Vec<&Vec<String>>> = BTreeMap::new();
        let mut places: BTreeMap<&str, u32> = BTreeMap::new();
        for (said, what) in said {
            by_what.entry(what).or_default().push(said);
            let meant = what.meant.iter().flatten();
            places.extend(said.iter().chain(meant).map(|word| (word.as_str(), 0)));
        }
        if !places.is_empty() {
            let alike = self.alike.iter().flatten();
            places.extend(alike.map(|word| (word.as_str(), 0)));
        }
        let mut out = Vec::new();
        put_number(&mut out, places.len() as u32);
        let mut before = "";
        for (place, (word, number)) in (0u32..).zip(&mut places) {
            put_next_word(&mut out, before, word);
            (*number, before) = (place, word);
        }
        let kin = self.kin(&places);
        put_number(&mut out, kin.len() as u32);
        for group in &kin {
            put_number(&mut out, group.len() as u32);
            group.iter().for_each(|word| put_number(&mut out, *word));
        }
        let put_words = |out: &mut Vec<u8>, words: &[String]| {
            put_number(out, words.len() as u32);
            for word in words {
                put_number(out, places[word.as_str()]);
            }
        };
        for (what, said) in by_what {
            put_number(&mut out, what.meant.len() as u32);
            what.meant
                .iter()
                .for_each(|meant| put_words(&mut out, meant));
            put_number(&mut out, what.documents.len() as u32);
            for &document in &what.documents {
                put_number(&mut out, document as u32);
            }
            put_number(&mut out, said.len() as u32);
            said.iter().for_each(|said| put_words(&mut out, said));
        }
        out
    }
}

impl Sayings {
    /// Reads what was written over so many documents.
    pub(crate) fn read(bytes: &[u8], documents: usize) -> Option<Sayings> {
        let mut reader = ByteReader::new(bytes);
        let mut read = Sayings::default();
        if reader.is_empty() {
            return Some(read);
        }
        let mut word: Vec<u8> = Vec::new();
        for _ in 0..reader.number()? {
            reader.next_word(&mut word, LONGEST)?;
            let text = std::str::from_utf8(&word).ok()?;
            read.words.push(SaidWord::of(text));
        }
        for _ in 0..reader.number()? {
            let group = read.places(&mut reader)?;
            read.kin.push(group);
        }
        while !reader.is_empty() {
            let mut what = SaidFor::default();
            for _ in 0..reader.number()? {
                let meant = read.places(&mut reader)?;
                let texts = meant.into_iter().map(|word| read.words[word].text.clone());
                what.meant.push(texts.collect());
            }
            for _ in 0..reader.number()? {
                let document = usize::try_from(reader.number()?).ok()?;
                if document >= documents {
                    return None;
                }
                what.documents.push(document);
            }
            for _ in 0..reader.number()? {
                let said = read.places(&mut reader)?;
                let texts = said.iter().map(|word| read.words[*word].text.as_str());
                read.joined.push((texts.collect(), read.list.len()));
                read.list.push(Saying {
                    said,
                    what: read.what.len(),
                });
            }
            read.what.push(what);
        }
        read.joined.sort_unstable();
        read.counts.resize(read.words.len(), 0);
        for saying in &read.list {
            saying.said.iter().for_each(|word| read.counts[*word] += 1);
        }
        Some(read)
    }

    /// Words by their places; never none.
    fn places(&self, reader: &mut ByteReader) -> Option<Vec<usize>> {
        let mut places = Vec::new();
        for _ in 0..reader.number()? {
            let place = usize::try_from(reader.number()?).ok()?;
            if place >= self.words.len() {
                return None;
            }
            places.push(place);
        }
        (!places.is_empty()).then_some(places)
    }

    /// How much one of the words says, that so many sayings have.
    pub(crate) fn rarity(&self, word: usize) -> f32 {
        (1.0 + self.list.len() as f32 / (1.0 + self.counts[word] as f32)).ln()
    }

    /// Whether a saying has this word, or another form of it.
    pub(crate) fn hold(&self, word: &str) -> bool {
        let stem = stem(word);
        self.words.iter().any(|said| said.stem == stem)
    }

    /// The sayings that are this when run together.
    pub(crate) fn joined(&self, text: &str) -> impl Iterator<Item = &Saying> {
        let start = self
            .joined
            .partition_point(|(joined, _)| joined.as_str() < text);
        let same = self.joined[start..]
            .iter()
            .take_while(move |(joined, _)| joined == text);
        same.filter_map(|(_, place)| self.list.get(*place))
    }
}

fn folded(text: &str) -> Vec<String> {
    tokens(text).into_iter().map(|token| token.text).collect()
}

/// A text as folded words.
pub(crate) fn words(text: &[u8]) -> Option<Vec<String>> {
    let text = std::str::from_utf8(text).ok()?;
    Some(tokens(text).into_iter().map(|token| token.text).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sayings_come_back_as_folded_words_each_once() {
        let mut gathered = GatheredSayings::default();
        let meant = ["Hose stop".to_string()];
        gathered.means("Back-out preventer", &meant);
        gathered.leads("back out PREVENTER", 1);
        gathered.leads("…", 0);
        let written = gathered.write();
        let read = Sayings::read(&written, 2).expect("what was written");
        let texts: Vec<&str> = read.words.iter().map(|word| word.text.as_str()).collect();
        assert_eq!(texts, ["back", "hose", "out", "preventer", "stop"]);
        assert_eq!(
            read.list,
            [Saying {
                said: vec![0, 2, 3],
                what: 0,
            }]
        );
        assert_eq!(
            read.what,
            [SaidFor {
                meant: vec![vec!["hose".into(), "stop".into()]],
                documents: vec![1],
            }]
        );
        // a place that is in no index, and what ends too soon
        assert_eq!(Sayings::read(&written, 1), None);
        for end in 1..written.len() {
            let read = Sayings::read(&written[..end], 2);
            assert!(read.is_none_or(|read| read.list.is_empty()), "{end}");
        }
    }
}
