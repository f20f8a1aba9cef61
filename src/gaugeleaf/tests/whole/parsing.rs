//! A page's Markdown is parsed once, whatever reads it.
//!
//! The count is the process's, so it is taken in one that runs this test alone.

use std::process::Command;

use gaugeleaf::markdown::tree::pages_parsed;

use crate::support::Folder;

/// Set in the process that counts.
const COUNTS: &str = "GAUGELEAF_COUNTS_PAGES";

#[test]
fn a_page_is_parsed_once_for_its_outline_the_writing_rules_and_its_print() {
    if std::env::var_os(COUNTS).is_some() {
        return counted();
    }
    let own = "parsing::a_page_is_parsed_once_for_its_outline_the_writing_rules_and_its_print";
    let output = Command::new(std::env::current_exe().expect("this program"))
        .args([own, "--exact"])
        .env(COUNTS, "1")
        .output()
        .expect("it runs");
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "{said}");
    // under another name no test would have run
    assert!(said.contains("1 passed"), "{said}");
}

fn counted() {
    let question = "```question\nask = \"Who?\"\nright = \"anyone\"\nwrong = [\"the lead\", \"nobody\", \"crew\"]\n```\n";
    let folder = Folder::with(&format!("1. Stop.\n\n{question}"));
    folder.put(
        "content/fit/test.md",
        "```page\norder = 90\n```\n\n# Test\n\n```test fit\n```\n",
    );
    let before = pages_parsed();
    let built = folder.build();
    let pages = built.sources.keys().filter(|path| path.ends_with(".md"));
    assert!(
        built.site.contains_key("fit/test.html"),
        "{:?}",
        built.findings
    );
    assert_eq!(pages_parsed() - before, pages.count());
}
