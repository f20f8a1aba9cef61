//! How nearly a query says what people say for a place, where not all of it is said.

use crate::said::{ONE_SLIP, SaidIn};
use crate::sayings::Saying;

/// A word less near than this doesn't count by itself.
const PART: f32 = 0.8;

/// A word of a query that stands in what people say for a document.
#[derive(Debug, PartialEq)]
pub(crate) struct WordSaid {
    /// Its place.
    pub(crate) word: usize,
    pub(crate) document: usize,
    /// How near it is to the saying's word, and how much of the saying is said.
    pub(crate) near: f32,
}

impl SaidIn<'_> {
    /// Every word that says something and stands in what people say for a document.
    pub(crate) fn parts(&self) -> Vec<WordSaid> {
        let mut parts = Vec::new();
        for saying in &self.sayings.list {
            let documents = self.documents(saying);
            let before = parts.len();
            let content = self.content(saying);
            for word in
                content.filter(|word| !documents.is_empty() && self.nearest[*word] >= ONE_SLIP)
            {
                for (at, typed) in self.typed.iter().enumerate() {
                    let near = self.near[at][word];
                    if near >= PART && !typed.small {
                        parts.extend(documents.iter().map(|&document| WordSaid {
                            word: at,
                            document,
                            near,
                        }));
                    }
                }
            }
            let said = (parts.len() - before) as f32 / documents.len().max(1) as f32;
            let share = said / self.content(saying).count().max(1) as f32;
            for part in &mut parts[before..] {
                part.near = (part.near * share.min(1.0)).sqrt();
            }
        }
        parts
    }

    /// Of each document, how like the query the likest of its sayings is, from 0 to 1: the words
    /// that they share over those that each has, a rare word more than a common one.
    pub(crate) fn likest(&self) -> Vec<f32> {
        let asked: f32 = self
            .near
            .iter()
            .zip(self.typed)
            .map(|(near, typed)| {
                let words = (0..near.len()).filter(|word| near[*word] >= ONE_SLIP && !typed.small);
                let least = words.map(|word| self.sayings.rarity(word)).reduce(f32::min);
                least.unwrap_or(0.0)
            })
            .sum();
        let mut likest = Vec::new();
        for saying in &self.sayings.list {
            let content = || self.content(saying);
            if !content().any(|word| self.nearest[word] >= ONE_SLIP) {
                continue;
            }
            let said = content().filter(|word| self.nearest[*word] >= ONE_SLIP);
            let said: f32 = said
                .map(|word| self.nearest[word] * self.sayings.rarity(word))
                .sum();
            let own: f32 = content().map(|word| self.sayings.rarity(word)).sum();
            let like = said / (asked * own).sqrt();
            for &document in self.documents(saying) {
                if likest.len() <= document {
                    likest.resize(document + 1, 0.0);
                }
                likest[document] = like.max(likest[document]);
            }
        }
        likest
    }

    fn documents(&self, saying: &Saying) -> &[usize] {
        let what = self.sayings.what.get(saying.what);
        what.map_or(&[], |what| &what.documents)
    }
}
