//! No entry stands in the table of findings' codes that nobody gives.

use std::collections::BTreeSet;

use gaugeleaf_finding::entries;

use crate::layers::survey;
use crate::root;

#[test]
fn every_code_of_the_table_is_given_to_some_finding() {
    let crates = survey(root());
    let references = crates.iter().flat_map(|one| &one.references);
    let given: BTreeSet<&str> = references
        .filter_map(|reference| reference.name.rsplit_once("Code::"))
        .map(|(_, code)| code)
        .collect();
    let idle = entries()
        .iter()
        .filter(|entry| !given.contains(format!("{:?}", entry.code).as_str()));
    let idle: Vec<&str> = idle.map(|entry| entry.code.name()).collect();
    assert!(
        idle.is_empty(),
        "nothing is called so, take it from src/finding/codes.toml: {idle:?}"
    );
}
