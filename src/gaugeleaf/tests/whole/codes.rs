//! The codes of findings: each is explained, and its examples do what they say.

use std::collections::BTreeSet;

use gaugeleaf::handbook::files::HandbookFiles;
use gaugeleaf::render::theme::Theme;
use gaugeleaf::values::graph::Graph;
use gaugeleaf_finding::{Code, CodeEntry, CodeExample, Finding, entries};

use crate::support::stages::{equipped, pages};
use crate::support::{FRONT, HEAD, PAGE, PHASE};

/// What is found in a handbook whose one file holds an example.
fn found(place: &str, example: &str, graph: &Graph, theme: &Theme) -> Vec<Finding> {
    let mut files = HandbookFiles::default();
    for (path, text) in [
        ("handbook.toml", HEAD),
        ("content/index.md", FRONT),
        ("content/fit/phase.toml", PHASE),
        ("content/fit/page.md", PAGE),
    ] {
        files.texts.insert(path.to_string(), text.to_string());
    }
    let (path, text) = match place {
        "page" => (
            "content/fit/page.md",
            format!("# Fit\n\n{example}\n## Do it\n"),
        ),
        place => (place, example.to_string()),
    };
    files.texts.insert(path.to_string(), text);
    pages(&files, graph, theme)
}

fn codes(findings: &[Finding]) -> BTreeSet<Code> {
    findings.iter().map(|finding| finding.code).collect()
}

/// The examples that say where they stand.
fn examples() -> impl Iterator<Item = (&'static CodeEntry, &'static CodeExample)> {
    let pairs = entries()
        .iter()
        .flat_map(|entry| entry.examples.iter().map(move |example| (entry, example)));
    pairs.filter(|(_, example)| !example.place.is_empty())
}

#[test]
fn each_bad_example_has_its_fault_and_each_good_one_has_not() {
    let (graph, theme) = (equipped(), Theme::default());
    for (CodeEntry { code, .. }, example) in examples() {
        let found = |text: &str| found(example.place, &text.repeat(example.times), &graph, &theme);
        let (bad, good) = (found(example.bad), found(example.good));
        assert!(codes(&bad).contains(code), "{code}: {bad:?}");
        assert!(!codes(&good).contains(code), "{code}: {good:?}");
    }
}

#[test]
fn what_a_finding_weighs_is_what_the_table_says() {
    let (graph, theme) = (equipped(), Theme::default());
    for (_, example) in examples() {
        let text = example.bad.repeat(example.times);
        for finding in found(example.place, &text, &graph, &theme) {
            let level = finding.code.entry().level;
            assert!(
                level.is_none_or(|level| level == finding.level),
                "{finding:?}"
            );
        }
    }
}
