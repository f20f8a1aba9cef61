//! Every file that a site holds, known before any is made: two of one name are told, and
//! inspecting needs no more.

use std::collections::{BTreeMap, BTreeSet};

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::addresses::{calculator_url, table_url};
use crate::site::age;
use crate::site::input::SiteInput;
use crate::site::ledger_pages;
use crate::site::schemas;

/// What every site holds, whatever its handbook.
const ALWAYS: [&str; 17] = [
    "calculators/index.html",
    "tables/index.html",
    "card.html",
    "search.html",
    "not-found.html",
    "handbook.webmanifest",
    "ledger.html",
    "ledger.json",
    "scripts/cards.js",
    "scripts/catalog.js",
    "scripts/drawings.js",
    "scripts/edition.js",
    "scripts/grounds.js",
    "scripts/meanings.js",
    "scripts/sheets.js",
    "scripts/search-index.js",
    "scripts/search-texts.js",
];

/// A file of the site, and the handbook's file that it comes from; a word without a slash where the
/// generator makes it by itself.
pub struct SitePath {
    pub path: String,
    pub from: String,
}

/// All of them; of two with one name, both.
pub fn paths(input: &SiteInput) -> Vec<SitePath> {
    let mut paths = Vec::new();
    let mut add = |path: String, from: &str| {
        let from = from.to_string();
        paths.push(SitePath { path, from });
    };
    let (handbook, catalog) = (input.handbook, &input.graph.catalog);
    for page in &handbook.pages {
        add(page.url.clone(), &page.path);
    }
    for phase in &handbook.phases {
        let from = format!("content/{}/phase.toml", phase.slug);
        add(format!("{}/index.html", phase.slug), &from);
    }
    for calculator in catalog.calculators.values() {
        add(calculator_url(&calculator.name), &calculator.file);
    }
    for table in catalog.tables.values() {
        add(table_url(&table.name), &table.file);
    }
    for path in ALWAYS {
        add(path.to_string(), "generator");
    }
    for code in age::code::urls(input) {
        add(code, "generator");
    }
    for part in ledger_pages::parts(input) {
        add(part.url, "generator");
    }
    for path in shown(input) {
        add(
            path.strip_prefix("content/").unwrap_or(path).to_string(),
            path,
        );
    }
    for path in input.theme.asset_paths() {
        add(path, "themes");
    }
    for name in schemas::names() {
        add(format!("schemas/{name}"), "generator");
    }
    paths
}

/// The handbook's files that some page shows or offers.
pub fn shown<'m>(input: &SiteInput<'m>) -> BTreeSet<&'m String> {
    let composed = input.composed.iter();
    composed.flat_map(|page| &page.needs.files).collect()
}

/// Files of one name, as disks that don't tell case apart see them: the handbook's file is to blame.
pub fn taken(paths: &[SitePath]) -> Vec<Finding> {
    let mut taken: BTreeMap<String, &str> = BTreeMap::new();
    let mut findings = Vec::new();
    for SitePath { path, from } in paths {
        let Some(other) = taken.insert(path.to_lowercase(), from) else {
            continue;
        };
        // what the generator makes has no file, and the page that takes its place has
        let (at, message) = if from.contains('/') {
            let message = format!("{path} is made from {other} already");
            (from.as_str(), message)
        } else {
            let message = format!("{path} is made by the generator itself");
            (other, message)
        };
        let finding = Finding::error(Code::NameTaken, at, 0..0, message);
        findings.push(finding.help("give this file another name"));
    }
    findings
}
