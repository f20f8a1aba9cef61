//! What records of people are held against: what each role wants, and the hazards and the values of the
//! pages that its tests and tasks are about. A device that keeps a record can tell which of them a later
//! revision has changed.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value, json};

use crate::handbook::page::Page;
use crate::page::compose::ComposedPage;
use crate::page::training::{Shown, Training};
use crate::site::input::SiteInput;
use crate::values::hash::hash;
use crate::values::ledger::{self, Use};

/// By page, and for each test, task and role: a script that a page brings when it needs it.
pub fn script(input: &SiteInput) -> String {
    let pages = &input.handbook.pages;
    let url = |path: &str| pages.at(path).map(|page| page.url.clone());
    let trained: Vec<(&Page, &[Training])> = pages
        .iter()
        .zip(input.composed)
        .map(|(page, composed)| (page, composed.value.training.as_slice()))
        .filter(|(_, training)| !training.is_empty())
        .collect();
    let wanted: BTreeSet<String> = trained
        .iter()
        .flat_map(|(_, training)| shown(training))
        .flat_map(|one| &one.pages)
        .filter_map(|path| url(path))
        .collect();
    let grounds: BTreeMap<&str, Value> = pages
        .iter()
        .zip(input.composed)
        .filter(|(page, _)| wanted.contains(&page.url))
        .map(|(page, composed)| {
            (
                page.url.as_str(),
                ground(page, &composed.value, &composed.uses),
            )
        })
        .collect();
    let (mut all_shown, mut roles) = (Map::new(), Map::new());
    for (page, training) in trained {
        let beneath: BTreeSet<String> = shown(training)
            .flat_map(|one| &one.pages)
            .filter_map(|path| url(path))
            .collect();
        if !beneath.is_empty() {
            let sets = shown(training).map(|one| one.set.clone());
            let said = beneath.iter().map(|url| grounds[url.as_str()].to_string());
            let said: String = sets.chain(said).collect();
            let mark = &hash(said.as_bytes())[..8];
            let title = &page.outline.title;
            let one = json!({ "title": title, "mark": mark, "pages": beneath });
            all_shown.insert(page.url.clone(), one);
        }
        for one in training {
            if let Training::Role(terms) = one {
                roles.insert(page.url.clone(), json!(terms.map(url)));
            }
        }
    }
    let grounds = json!({ "shown": all_shown, "roles": roles, "pages": grounds });
    format!("globalThis.gaugeleafGrounds = {grounds};\n")
}

fn shown(training: &[Training]) -> impl Iterator<Item = &Shown> {
    training.iter().filter_map(|one| match one {
        Training::Shown(shown) => Some(shown),
        Training::Role(_) => None,
    })
}

/// The hazards of a page by their hashes, and its values as they are printed.
fn ground(page: &Page, composed: &ComposedPage, uses: &[Use]) -> Value {
    let hazards: Map<String, Value> = composed
        .hazards
        .iter()
        .map(|(id, said)| (hash(said.as_bytes())[..8].to_string(), json!([id, said])))
        .collect();
    let once = ledger::once(uses);
    let mut alike: BTreeMap<&str, usize> = BTreeMap::new();
    for one in &once {
        *alike.entry(&one.name).or_default() += 1;
    }
    let values: Map<String, Value> = once
        .iter()
        .map(|one| {
            // The same output of other inputs is another value.
            let name = if alike[one.name.as_str()] > 1 {
                format!("{}: {}", one.name, one.given)
            } else {
                one.name.clone()
            };
            (name, json!([one.label, one.text]))
        })
        .collect();
    json!({ "title": page.outline.title, "hazards": hazards, "values": values })
}
