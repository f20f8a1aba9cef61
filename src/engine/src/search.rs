//! Requests to the search index.

use gaugeleaf_lookup::{Index, Kind};
use serde_json::{Value, json};

use crate::object::Part::{Json, Text, Truth};
use crate::object::object;
use crate::request;

#[derive(Default)]
pub(crate) struct Search {
    index: Option<Index>,
}

impl Search {
    pub(crate) fn take(&mut self, bytes: &[u8]) -> Result<Value, String> {
        self.index = Some(Index::open(bytes.to_vec()).map_err(|error| error.to_string())?);
        Ok(json!({ "ok": true }))
    }

    pub(crate) fn take_texts(&mut self, bytes: &[u8]) -> Result<Value, String> {
        let index = self.index.as_mut().ok_or("there is no search index")?;
        index.take_texts(bytes).map_err(|error| error.to_string())?;
        Ok(json!({ "ok": true }))
    }

    pub(crate) fn search(&self, request: &Value) -> Result<Value, String> {
        let Some(index) = &self.index else {
            return Err("there is no search index".into());
        };
        let limit = request
            .get("limit")
            .and_then(Value::as_u64)
            .unwrap_or(12)
            .clamp(1, 100);
        let spellings = request::lists(request.get("spellings"));
        let found = index.search_spelt(
            request::text(request, "query")?,
            &spellings,
            limit as usize,
            ASKED,
        );
        let mut candidates: Vec<&str> = Vec::new();
        let shown = found.hits.iter().map(|hit| (hit.kind, hit.url.as_str()));
        let further = found
            .further
            .iter()
            .map(|(kind, url)| (*kind, url.as_str()));
        for name in shown.chain(further).filter_map(candidate) {
            if !candidates.contains(&name) {
                candidates.push(name);
            }
        }
        let hits: Vec<Value> = found
            .hits
            .iter()
            .map(|hit| {
                let excerpt: Vec<Value> = hit
                    .excerpt
                    .iter()
                    .map(|(text, is_match)| json!([text, is_match]))
                    .collect();
                object(&mut [
                    ("title", Text(&hit.title)),
                    ("where", Text(&hit.place)),
                    ("kind", Text(kind_name(hit.kind))),
                    ("url", Text(&hit.url)),
                    ("excerpt", Json(excerpt.into())),
                ])
            })
            .collect();
        let candidates: Value = candidates.into_iter().map(Value::from).collect();
        Ok(object(&mut [
            ("hits", Json(hits.into())),
            ("near", Json(found.near.into())),
            ("row", Truth(found.row)),
            ("meanings", Json(request::lists_json(&found.meanings))),
            ("candidates", Json(candidates)),
        ]))
    }
}

/// How many hits are looked at for calculators that may answer.
const ASKED: usize = 24;

/// The calculator that a hit is of, as its address says.
fn candidate((kind, url): (Kind, &str)) -> Option<&str> {
    match kind {
        Kind::Calculator | Kind::Input | Kind::Value => {
            let file = url.split('#').next()?.rsplit('/').next()?;
            file.strip_suffix(".html")
        }
        _ => None,
    }
}

/// The word for what a hit leads to, as the page's labels know it.
fn kind_name(kind: Kind) -> &'static str {
    match kind {
        Kind::Page => "page",
        Kind::Heading => "heading",
        Kind::Step => "step",
        Kind::Calculator => "calculator",
        Kind::Input => "input",
        Kind::Row => "row",
        Kind::Value => "value",
        Kind::Term => "term",
    }
}
