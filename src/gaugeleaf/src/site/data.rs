//! The scripts that carry what the engine opens in the page.

use gaugeleaf_calc::finding::settings::Binding;
use serde_json::{Map, Value, json};

use crate::handbook::whole::Handbook;
use crate::render::embed;
use crate::site::input::SiteInput;
use crate::values::graph::Graph;

/// The packed catalog with the handbook's own values, the jobs that its pages prepare, and its kits.
pub fn catalog(input: &SiteInput) -> Vec<u8> {
    let mut script = embed::script("catalog", input.packed_catalog());
    script.push_str(&format!(
        "globalThis.gaugeleafPrepared = {};\n",
        prepared(input.handbook)
    ));
    script.push_str(&format!(
        "globalThis.gaugeleafKits = {};\n",
        kits(input.graph)
    ));
    script.into_bytes()
}

/// The drawings of the setup sheet.
pub fn drawings(graph: &Graph) -> Vec<u8> {
    embed::script("drawings", &graph.catalog.pack_drawings()).into_bytes()
}

fn assigned(given: &[Binding]) -> Value {
    let given: Map<String, Value> = given
        .iter()
        .map(|one| (one.name.value.clone(), Value::from(one.text.value.as_str())))
        .collect();
    Value::Object(given)
}

/// Names and titles, the kit first that serves where a job names none.
fn kits(graph: &Graph) -> Value {
    let own = &graph.catalog.own.kit;
    let (first, others): (Vec<_>, Vec<_>) = graph.kits.iter().partition(|(name, _)| *name == own);
    let kits = first.into_iter().chain(others);
    kits.map(|(name, kit)| json!({ "name": name, "title": kit.title }))
        .collect()
}

fn prepared(handbook: &Handbook) -> Value {
    let jobs = handbook.pages.iter().filter_map(|page| {
        let settings = &page.outline.settings;
        Some(json!({
            "name": settings.job.as_ref()?.value,
            "title": page.outline.title,
            "url": page.url,
            "kit": settings.kit(),
            "given": assigned(&settings.given),
        }))
    });
    jobs.collect()
}

/// What the search takes: `search-index` to find, `search-texts` for excerpts.
pub fn search(name: &str, bytes: &[u8]) -> Vec<u8> {
    embed::script(name, bytes).into_bytes()
}
