//! How nearly a query says what people say for a place, where not all of it is said.

use crate::said::{ONE_SLIP, SaidIn};

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

/// What a query says of the sayings for documents, where it need not say all of one.
pub(crate) struct Alike {
    /// Every word that says something and stands in one.
    pub(crate) parts: Vec<WordSaid>,
    /// Of each document, how like the query the likest of its sayings is, from 0 to 1: the words
    /// that they share over those that each has, a rare word more than a common one.
    pub(crate) likest: Vec<f32>,
}

impl SaidIn<'_> {
    pub(crate) fn alike(&self) -> Alike {
        let asked = self.asked();
        let (mut parts, mut likest) = (Vec::new(), Vec::new());
        let mut pairs: Vec<(usize, f32)> = Vec::new();
        for saying in &self.sayings.list {
            let Some(what) = self.sayings.what.get(saying.what) else {
                continue;
            };
            let (mut said, mut own, mut words) = (0.0, 0.0, 0.0f32);
            pairs.clear();
            for word in self.content(saying) {
                let (near, rarity) = (self.nearest[word], self.sayings.rarity(word));
                own += rarity;
                words += 1.0;
                if near < ONE_SLIP {
                    continue;
                }
                said += near * rarity;
                for (at, typed) in self.typed.iter().enumerate() {
                    let near = self.near[at][word];
                    if near >= PART && !typed.small {
                        pairs.push((at, near));
                    }
                }
            }
            if said == 0.0 {
                continue;
            }
            // a query of words that say little asks for what it says
            let asked = if asked > 0.0 { asked } else { said };
            let like = said / (asked * own).sqrt();
            let share = (pairs.len() as f32 / words).min(1.0);
            for &document in &what.documents {
                if likest.len() <= document {
                    likest.resize(document + 1, 0.0);
                }
                likest[document] = like.max(likest[document]);
                for &(word, near) in &pairs {
                    let near = (near * share).sqrt();
                    parts.push(WordSaid {
                        word,
                        document,
                        near,
                    });
                }
            }
        }
        Alike { parts, likest }
    }

    /// How much the words of the query say that sayings have.
    fn asked(&self) -> f32 {
        let mut asked = 0.0;
        for (near, typed) in self.near.iter().zip(self.typed) {
            let mut least = f32::INFINITY;
            for (word, near) in near.iter().enumerate() {
                if *near >= ONE_SLIP && !typed.small {
                    least = least.min(self.sayings.rarity(word));
                }
            }
            if least.is_finite() {
                asked += least;
            }
        }
        asked
    }
}
