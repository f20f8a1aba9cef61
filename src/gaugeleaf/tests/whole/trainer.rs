//! The listings of the trainer's pages: each works as it stands, in a handbook with
//! the other listings of its page.
//!
//! A Markdown listing is put on a page of a phase. Any other listing that opens with a
//! comment naming a file becomes that file. The word after the language says where a
//! listing is only part of something (`fragment`) or shows what not to write (`bad`).

use std::fs;
use std::path::Path;

use gaugeleaf::blocks::registry::KINDS;
use gaugeleaf::page::kind::names;
use gaugeleaf::report::offending;
use gaugeleaf::session::BuiltSite;
use gaugeleaf_calc::finding::Finding;

use crate::support::Folder;

/// A listing: its language, the word after it, and its text.
struct Listing {
    language: String,
    mark: String,
    text: String,
}

/// The fenced listings of a page that stand by themselves.
fn listings(page: &str) -> Vec<Listing> {
    let mut found = Vec::new();
    let mut open: Option<(usize, Listing)> = None;
    for line in page.split_inclusive('\n') {
        let ticks = line.len() - line.trim_start_matches('`').len();
        let info = line[ticks..].trim();
        match &mut open {
            Some((fence, _)) if ticks >= *fence && info.is_empty() => {
                found.extend(open.take().map(|(_, listing)| listing));
            }
            Some((_, listing)) => listing.text.push_str(line),
            None if ticks >= 3 => {
                let mut words = info.split_whitespace().map(str::to_string);
                let listing = Listing {
                    language: words.next().unwrap_or_default(),
                    mark: words.next().unwrap_or_default(),
                    text: String::new(),
                };
                open = Some((ticks, listing));
            }
            None => {}
        }
    }
    found
}

/// The file that a listing names in its first line.
fn file_of(listing: &Listing) -> Option<&str> {
    let first = listing.text.lines().next()?;
    let name = first.trim_matches(|c: char| " #/*<>!-{}".contains(c));
    let folders = ["content/", "calculators/", "themes/"];
    let named = folders.iter().any(|folder| name.starts_with(folder)) || name == "handbook.toml";
    named.then_some(name)
}

/// What is wrong with a handbook.
fn faults(built: &BuiltSite) -> Vec<String> {
    // a listing that is no whole page has no head, and one that is no whole handbook lacks values
    let partly = [
        "no-review",
        "no-people",
        "no-tools",
        "own-open",
        "nothing-set",
    ];
    let headless = |finding: &&Finding| partly.contains(&finding.code.name());
    built
        .findings
        .iter()
        .filter(|finding| !headless(finding))
        .map(|finding| {
            let said = offending(finding, &built.sources);
            format!(
                "{} {}: {} ({said})",
                finding.file,
                finding.code.name(),
                finding.message
            )
        })
        .collect()
}

/// The trainer's pages: file name and text.
fn pages() -> Vec<(String, String)> {
    let content = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../content");
    let mut pages = vec![content.join("writing.md")];
    let folder = fs::read_dir(content.join("trainer")).expect("the trainer's pages");
    pages.extend(folder.map(|entry| entry.expect("an entry").path()));
    pages.sort();
    let read = |path: std::path::PathBuf| {
        let name = path
            .file_name()
            .map(|name| name.to_string_lossy().into_owned());
        (
            name.unwrap_or_default(),
            fs::read_to_string(path).expect("text"),
        )
    };
    pages.into_iter().map(read).collect()
}

/// A page for a listing in Markdown, which may lack a title.
fn page(listing: &Listing, number: usize) -> String {
    let titled = listing.text.starts_with("# ") || listing.text.contains("\n# ");
    if titled {
        return listing.text.clone();
    }
    format!("# Listing {number}\n\n{}", listing.text)
}

#[test]
fn every_listing_of_the_trainers_pages_works_as_it_stands() {
    let mut tried = 0;
    let mut all: Vec<String> = Vec::new();
    for (name, text) in pages() {
        let folder = Folder::new();
        folder.put(
            "content/index.md",
            "# Start\n\n## First rules\n\n## How to read a page\n",
        );
        // a page that shows equipment has its own
        if !text.contains("# content/equipment/") {
            folder.equip();
        }
        for (number, listing) in listings(&text).iter().enumerate() {
            let marked = ["fragment", "bad"].contains(&listing.mark.as_str());
            match listing.language.as_str() {
                _ if marked => continue,
                "markdown" => folder.put(
                    &format!("content/fit/listing-{number}.md"),
                    page(listing, number),
                ),
                "toml" | "xml" | "css" | "html" => {
                    let file = file_of(listing);
                    let file = file.unwrap_or_else(|| {
                        panic!("{name}: a listing names no file:\n{}", listing.text)
                    });
                    folder.put(file, &listing.text);
                }
                _ => continue,
            }
            tried += 1;
        }
        all.extend(
            faults(&folder.build())
                .iter()
                .map(|fault| format!("{name}: {fault}")),
        );
    }
    assert!(all.is_empty(), "{}", all.join("\n"));
    assert!(tried > 25, "only {tried} listings were tried");
}

#[test]
fn every_kind_of_block_is_shown_in_a_listing() {
    let pages = pages();
    for name in names(&KINDS) {
        let shown = pages.iter().any(|(_, text)| {
            let mut lines = text.lines().map(str::trim_start);
            lines.any(|line| {
                let said = line
                    .strip_prefix("```")
                    .and_then(|info| info.split_whitespace().next());
                said == Some(name)
            })
        });
        assert!(shown, "show a {name} block in content/trainer");
    }
}

#[test]
fn a_listing_marked_bad_has_a_fault() {
    for (name, text) in pages() {
        for listing in listings(&text)
            .iter()
            .filter(|listing| listing.mark == "bad")
        {
            let folder = Folder::new();
            folder.put("content/fit/listing.md", page(listing, 0));
            assert!(
                !faults(&folder.build()).is_empty(),
                "{name}:\n{}",
                listing.text
            );
        }
    }
}
