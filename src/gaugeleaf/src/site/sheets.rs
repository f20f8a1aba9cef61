//! How many ticks each page has, and its fingerprint: with it a phone tells how far a job is, and
//! never calls a page complete whose words have changed since they were ticked.

use serde_json::{Map, Value, json};

use crate::site::input::SiteInput;

/// By page, in the handbook's order: a script that a page brings once something is ticked.
pub fn script(input: &SiteInput) -> String {
    let pages = input.handbook.pages.iter().zip(input.composed);
    let sheets: Map<String, Value> = pages
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
