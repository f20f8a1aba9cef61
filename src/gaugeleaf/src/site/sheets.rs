//! How many ticks each page has, and its fingerprint: with it a phone tells how far a job is, and
//! never calls a page complete whose words have changed since they were ticked.

use std::collections::BTreeSet;

use serde_json::{Map, Value, json};

use crate::site::input::SiteInput;

/// By page, in the handbook's order: a script that a page brings once something is ticked. Where people
/// are tested is no phase of a job: how far somebody is there stands in their record.
pub fn script(input: &SiteInput) -> String {
    let pages = || input.handbook.pages.iter().zip(input.composed);
    let learned: BTreeSet<usize> = pages()
        .filter(|(_, composed)| !composed.value.training.is_empty())
        .filter_map(|(page, _)| page.phase)
        .collect();
    let sheets: Map<String, Value> = pages()
        .filter(|(page, _)| page.phase.is_none_or(|phase| !learned.contains(&phase)))
        .map(|(page, composed)| (page, &composed.value))
        .filter(|(_, composed)| composed.ticks > 0)
        .map(|(page, composed)| {
            (
                page.url.clone(),
                json!([composed.ticks, composed.fingerprint]),
            )
        })
        .collect();
    format!("globalThis.gaugeleafSheets = {};\n", Value::Object(sheets))
}
