//! The whole way from a query to its hits.

use crate::excerpt::excerpt;
use crate::index::Index;
use crate::judge::{Judged, judge};
use crate::kind::DocumentKind;
use crate::plan::{Plan, QueryWord, plan};
use crate::score::score;
use crate::spelling::nearest;

/// What a query found.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SearchResult {
    /// Best first.
    pub hits: Vec<Hit>,
    /// What comes next, and where it leads.
    pub further: Vec<(DocumentKind, String)>,
    /// Where no hit holds a word of the query nearly: the handbook's words nearest to it.
    pub near: Vec<String>,
    /// The first hit is a table's row that holds every word and number of the query.
    pub row: bool,
    /// The first hit is urgent, and what people say for it is said: nothing stands above it.
    pub urgent: bool,
    /// Two units are named, or more: one may be asked for in the other.
    pub units: bool,
    /// Words of the query, folded, each with the handbook's words that it likely stands for.
    pub meanings: Vec<(String, Vec<String>)>,
}

/// A document that answers a query.
#[derive(Debug, Clone, PartialEq)]
pub struct Hit {
    pub title: String,
    pub place: String,
    pub url: String,
    pub kind: DocumentKind,
    /// A piece of the text; `true` marks what the query matched.
    pub excerpt: Vec<(String, bool)>,
    /// What the word means that leads here.
    pub means: Option<Meaning>,
    /// Comparable within one answer only.
    pub score: f32,
}

/// A term of the trade, and what it means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Meaning {
    pub title: String,
    pub url: String,
    pub text: String,
}

impl Index {
    /// The documents that answer `query`, at most `limit`, best first.
    pub fn search(&self, query: &str, limit: usize) -> SearchResult {
        self.search_spelt(query, &[], limit, limit)
    }

    /// As `search`, where some sizes of the query may be spelt in other ways: each size as
    /// typed, and the numbers that are the same size. What comes next after `limit` hits is
    /// named, up to `ahead` in all.
    pub fn search_spelt(
        &self,
        query: &str,
        spellings: &[(String, Vec<String>)],
        limit: usize,
        ahead: usize,
    ) -> SearchResult {
        let plan = plan(self, query, spellings);
        let meanings = plan.meanings();
        let unit = |word: &&QueryWord| !word.number && self.asks(&[&word.text]);
        let units = plan.words.iter().filter(unit).count() > 1;
        let mut room = self.room.take();
        let scored = score(self, &plan, &mut room);
        self.room.set(room);
        let (judged, further) = judge(self, &plan, scored, limit, ahead);
        let Some(first) = judged.first() else {
            return SearchResult {
                near: self.near(&plan, u16::MAX),
                meanings,
                units,
                ..SearchResult::default()
            };
        };
        SearchResult {
            near: self.near(&plan, first.far),
            urgent: first.called,
            units,
            row: first.whole && self.kind(first.document) == DocumentKind::Row,
            hits: judged.into_iter().map(|judged| self.hit(judged)).collect(),
            further: further
                .into_iter()
                .map(|document| (self.kind(document), self.url(document)))
                .collect(),
            meanings,
        }
    }

    fn hit(&self, judged: Judged) -> Hit {
        Hit {
            title: judged.title,
            place: self.place(judged.document),
            url: self.url(judged.document),
            kind: self.kind(judged.document),
            excerpt: excerpt(&judged.text, &judged.marks),
            means: judged.means.map(|term| Meaning {
                title: self.title(term),
                url: self.url(term),
                text: self.text(term),
            }),
            score: judged.score,
        }
    }

    /// The handbook's words nearest to some of the query's, a bit each.
    fn near(&self, plan: &Plan, which: u16) -> Vec<String> {
        let mut near = Vec::new();
        let wanted =
            |place: usize| u32::from(which).checked_shr(place as u32).unwrap_or(0) & 1 == 1;
        let words = plan.words.iter().enumerate();
        for (_, word) in words.filter(|(place, _)| wanted(*place)) {
            for text in nearest(&self.terms, &word.text, 3) {
                if near.len() < 6 && !near.contains(&text) {
                    near.push(text);
                }
            }
        }
        near
    }
}
