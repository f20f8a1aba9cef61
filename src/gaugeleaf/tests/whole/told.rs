//! Every code's fault as a person at a terminal is told it: place, words, line, mark and help.
//!
//! What is expected stands in `tests/snapshots/codes`, a file for each code. To write them anew,
//! run the test with `SNAPSHOTS=write`, and read what git says.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use gaugeleaf::report::emitter::Emitter;
use gaugeleaf::report::terminal::Terminal;
use gaugeleaf_finding::{Code, entries};
use rayon::prelude::*;

use crate::support::cases::{Case, Told, cases};
use crate::support::ranges::fault;

/// Codes that no handbook and no command can have, each with its reason.
const NO_DOOR: [(Code, &str); 1] = [(
    Code::NoEngine,
    "the engine travels in the program; only a program built without it lacks it",
)];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/snapshots/codes")
}

/// What a case's own code says, and what else is found beside it; each in its place.
fn said(case: &Case) -> String {
    let (findings, sources) = match case.told() {
        Told::Words(words) => return words,
        Told::Findings(findings, sources) => (findings, sources),
    };
    for finding in &findings {
        let text = sources.get(&finding.file).map_or("", String::as_str);
        assert_eq!(fault(finding, text), None, "{finding:?}");
    }
    let (own, beside): (Vec<_>, Vec<_>) =
        findings.into_iter().partition(|one| one.code == case.code);
    assert!(!own.is_empty(), "{} isn't found, but {beside:?}", case.code);
    let mut said = Terminal { colour: false }.emit(&own, &sources);
    // the sound page that most handbooks here begin with has no head, and the handbook no kit
    let headless = [
        Code::NoPeople,
        Code::NoReview,
        Code::NoTools,
        Code::NothingSet,
    ];
    let beside: BTreeSet<&str> = beside
        .iter()
        .filter(|one| !headless.contains(&one.code))
        .map(|one| one.code.name())
        .collect();
    if !beside.is_empty() {
        let beside: Vec<&str> = beside.into_iter().collect();
        said.push_str(&format!("beside it: {}\n", beside.join(", ")));
    }
    said
}

#[test]
fn every_code_is_told_in_its_place_as_its_snapshot_says() {
    let cases = cases();
    let texts: Vec<(&str, String)> = cases
        .par_iter()
        .map(|case| (case.code.name(), said(case)))
        .collect();
    let mut told: BTreeMap<String, String> = BTreeMap::new();
    for (code, text) in texts {
        let file = told.entry(format!("{code}.txt")).or_default();
        if !file.is_empty() {
            file.push_str("\n=====\n\n");
        }
        file.push_str(&text);
    }
    if std::env::var_os("SNAPSHOTS").is_some_and(|what| what == "write") {
        fs::create_dir_all(folder()).expect("a folder");
        for (name, text) in &told {
            fs::write(folder().join(name), text).expect("written");
        }
    }
    for (name, text) in &told {
        let expected = fs::read_to_string(folder().join(name)).unwrap_or_default();
        assert!(*text == expected, "{name} differs:\n{text}");
    }
}

#[test]
fn every_code_has_its_snapshot_and_every_snapshot_its_code() {
    let codes: BTreeSet<String> = entries()
        .iter()
        .filter(|entry| !NO_DOOR.iter().any(|(code, _)| *code == entry.code))
        .map(|entry| format!("{}.txt", entry.code))
        .collect();
    let files: BTreeSet<String> = fs::read_dir(folder())
        .expect("a folder")
        .map(|file| {
            file.expect("a file")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    assert_eq!(
        files, codes,
        "SNAPSHOTS=write makes those of new codes; the rest is yours to remove"
    );
    let tried: BTreeSet<String> = cases()
        .iter()
        .map(|case| format!("{}.txt", case.code))
        .collect();
    assert_eq!(tried, codes);
}
