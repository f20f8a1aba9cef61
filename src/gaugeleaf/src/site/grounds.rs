//! What a sign-off stands on: the hazards and the values of the pages that its tests and tasks are
//! about. A device that keeps one can tell which of them a later revision has changed.

use std::collections::BTreeSet;

use serde_json::{Map, Value, json};

use crate::site::input::SiteInput;
use crate::values::hash::hash;
use crate::values::ledger;

/// By page, and the pages of each test and task: a script that a page brings when it needs it.
pub fn script(input: &SiteInput) -> String {
    let url = |path: &str| input.handbook.pages.at(path).map(|page| page.url.clone());
    let pages = || input.handbook.pages.iter().zip(input.composed);
    let mut of = Map::new();
    let mut wanted = BTreeSet::new();
    for (page, composed) in pages() {
        let stands_on = &composed.value.stands_on;
        if stands_on.is_empty() {
            continue;
        }
        let urls: BTreeSet<String> = stands_on.iter().filter_map(|path| url(path)).collect();
        of.insert(page.url.clone(), json!(urls));
        wanted.extend(urls);
    }
    let grounds: Map<String, Value> = pages()
        .filter(|(page, _)| wanted.contains(&page.url))
        .map(|(page, composed)| {
            let hazards: Map<String, Value> = composed
                .value
                .hazards
                .iter()
                .map(|(id, said)| (hash(said.as_bytes())[..8].to_string(), json!([id, said])))
                .collect();
            let values: Map<String, Value> = ledger::once(&composed.uses)
                .into_iter()
                .map(|one| (one.name.clone(), json!([one.label, one.text])))
                .collect();
            let title = &page.outline.title;
            let ground = json!({ "title": title, "hazards": hazards, "values": values });
            (page.url.clone(), ground)
        })
        .collect();
    let grounds = json!({ "of": of, "pages": grounds });
    format!("globalThis.gaugeleafGrounds = {grounds};\n")
}
