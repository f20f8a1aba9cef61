//! Requests to the search index.

use gaugeleaf_lookup::{DocumentKind, Hit, Index, SearchResult};

use crate::json::JsonValue;
use crate::request;
use crate::write::Json;

#[derive(Default)]
pub(crate) struct SearchIndex {
    index: Option<Index>,
}

impl SearchIndex {
    pub(crate) fn take(&mut self, bytes: &[u8]) -> Result<(), String> {
        self.index = Some(Index::open(bytes.to_vec()).map_err(|error| error.to_string())?);
        Ok(())
    }

    pub(crate) fn take_texts(&mut self, bytes: &[u8]) -> Result<(), String> {
        let index = self.index.as_mut().ok_or("there is no search index")?;
        index.take_texts(bytes).map_err(|error| error.to_string())
    }

    /// The answer as JSON.
    pub(crate) fn search(&self, request: &JsonValue) -> Result<String, String> {
        let index = self.index.as_ref().ok_or("there is no search index")?;
        let limit = request
            .get("limit")
            .and_then(|limit| match limit {
                JsonValue::Written(limit) => limit.parse::<u64>().ok(),
                _ => None,
            })
            .unwrap_or(12)
            .clamp(1, 100);
        let spellings = request::lists(request.get("spellings"));
        let query = request::text(request, "query")?;
        Ok(answer(&index.search_spelt(
            query,
            &spellings,
            limit as usize,
            ASKED,
        )))
    }
}

fn answer(found: &SearchResult) -> String {
    let shown = found.hits.iter().map(|hit| (hit.kind, hit.url.as_str()));
    let further = found
        .further
        .iter()
        .map(|(kind, url)| (*kind, url.as_str()));
    let mut candidates: Vec<&str> = Vec::new();
    for name in shown.chain(further).filter_map(candidate) {
        if !candidates.contains(&name) {
            candidates.push(name);
        }
    }
    let mut answer = Json::default();
    answer.within(['{', '}'], |json| {
        json.key("hits");
        json.within(['[', ']'], |json| {
            found.hits.iter().for_each(|hit| put_hit(json, hit));
        });
        json.key("near");
        json.texts(found.near.iter().map(String::as_str));
        json.key("row");
        json.truth(found.row);
        json.key("urgent");
        json.truth(found.urgent);
        json.key("units");
        json.truth(found.units);
        json.key("meanings");
        json.within(['[', ']'], |json| {
            for (word, meanings) in &found.meanings {
                json.within(['[', ']'], |json| {
                    json.text(word);
                    json.texts(meanings.iter().map(String::as_str));
                });
            }
        });
        json.key("candidates");
        json.texts(candidates);
    });
    answer.done()
}

fn put_hit(json: &mut Json, hit: &Hit) {
    json.within(['{', '}'], |json| {
        for (key, text) in [
            ("title", hit.title.as_str()),
            ("where", &hit.place),
            ("kind", kind_name(hit.kind)),
            ("url", &hit.url),
        ] {
            json.key(key);
            json.text(text);
        }
        if let Some(means) = &hit.means {
            json.key("means");
            json.within(['{', '}'], |json| {
                for (key, text) in [
                    ("title", &means.title),
                    ("url", &means.url),
                    ("text", &means.text),
                ] {
                    json.key(key);
                    json.text(text);
                }
            });
        }
        json.key("excerpt");
        json.within(['[', ']'], |json| {
            for (text, is_match) in &hit.excerpt {
                json.within(['[', ']'], |json| {
                    json.text(text);
                    json.truth(*is_match);
                });
            }
        });
    });
}

/// How many hits are looked at for calculators that may answer.
const ASKED: usize = 24;

/// The calculator that a hit is of, as its address says.
fn candidate((kind, url): (DocumentKind, &str)) -> Option<&str> {
    match kind {
        DocumentKind::Calculator | DocumentKind::Input | DocumentKind::Value => {
            let file = url.split('#').next()?.rsplit('/').next()?;
            file.strip_suffix(".html")
        }
        _ => None,
    }
}

/// The word for what a hit leads to, as the page's labels know it.
fn kind_name(kind: DocumentKind) -> &'static str {
    match kind {
        DocumentKind::Page => "page",
        DocumentKind::Heading => "heading",
        DocumentKind::Step => "step",
        DocumentKind::Calculator => "calculator",
        DocumentKind::Input => "input",
        DocumentKind::Row => "row",
        DocumentKind::Value => "value",
        DocumentKind::Term => "term",
    }
}
