//! A page's Markdown is parsed once, whatever reads it.
//!
//! The count is the process's, so this file holds one test alone.

use gaugeleaf::markdown::tree::pages_parsed;

mod support;

use support::Folder;

#[test]
fn a_page_is_parsed_once_for_its_outline_the_writing_rules_and_its_print() {
    let question = "```question\nask = \"Who?\"\nright = \"anyone\"\nwrong = [\"the lead\", \"nobody\"]\n```\n";
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
