//! What changed between two published editions, through the program.

use std::fs;
use std::process::Output;

use gaugeleaf::compare::read::EditionLedger;
use serde_json::Value;

use crate::support::Folder;

/// The page that each handbook here ends with, its values left to be filled in.
const TEXT: &str = "> **WARNING** Hot line. It burns. Keep off.\n\n1. Read the plate.\n2. Cut at [](value:guide-tube-length.length).\n3. Keep [](value:barrier_distance) off.\n\n![A plan](plan.svg)\n\n- [](value:pressure-rating.lowest_rating) at the most.\n";
const PLAN: &str =
    "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><path d=\"M1 1h7\"/></svg>\n";

/// An equipped handbook, published to `one`.
fn published() -> Folder {
    let folder = Folder::equipped();
    folder.put("content/fit/page.md", format!("# Fit\n\n{TEXT}"));
    folder.put("content/fit/plan.svg", PLAN);
    let front = "# Start\n\nRead [the page](fit/page.md) first.\n";
    folder.put("content/index.md", front);
    publish(&folder, "one");
    folder
}

fn publish(folder: &Folder, to: &str) {
    let output = folder.run(&["publish", "--to", to]);
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{said}");
}

/// Replaces a text of a file, and publishes to `two`.
fn edit(folder: &Folder, path: &str, old: &str, new: &str) {
    let text = fs::read_to_string(folder.path().join(path)).expect("a file");
    assert!(text.contains(old), "{path}: {old}");
    folder.put(path, text.replacen(old, new, 1));
    publish(folder, "two");
}

fn said(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (
        output.status.code(),
        text(&output.stdout),
        text(&output.stderr),
    )
}

/// The answer for machines, and the exit code.
fn answer(folder: &Folder) -> (Option<i32>, Value) {
    let (code, json, complaints) = said(&folder.run(&["compare", "one", "two", "--json"]));
    assert_eq!(complaints, "");
    (code, serde_json::from_str(&json).expect("JSON"))
}

/// Addresses of the cards in an answer, in the order of the alphabet.
fn cards(answer: &Value) -> Vec<String> {
    let cards = answer["cards"].as_array().expect("cards").iter();
    let mut pages: Vec<String> = cards
        .map(|card| card["page"].as_str().expect("an address").to_string())
        .collect();
    pages.sort();
    pages
}

fn ledger(folder: &Folder, edition: &str) -> EditionLedger {
    let bytes = fs::read(folder.path().join(edition).join("ledger.json")).expect("a ledger");
    EditionLedger::read(&bytes).expect("a sound ledger")
}

/// Pages whose fingerprint isn't the same in both.
fn by_fingerprint(folder: &Folder) -> Vec<String> {
    let marks = |edition| {
        let pages = ledger(folder, edition).pages.expect("pages");
        let marks = pages.into_iter().map(|page| (page.page, page.fingerprint));
        marks.collect::<std::collections::BTreeMap<_, _>>()
    };
    let (old, new) = (marks("one"), marks("two"));
    let all: std::collections::BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    let differ = all
        .into_iter()
        .filter(|page| old.get(*page) != new.get(*page));
    differ.cloned().collect()
}

/// What changed on one card of an answer.
fn changes<'a>(answer: &'a Value, page: &str) -> &'a Vec<Value> {
    let mut cards = answer["cards"].as_array().expect("cards").iter();
    let card = cards.find(|card| card["page"] == page);
    card.unwrap_or_else(|| panic!("{page}: {answer:#}"))["changes"]
        .as_array()
        .expect("changes")
}

#[test]
fn the_same_site_has_nothing_to_print_and_exit_code_0() {
    let folder = published();
    publish(&folder, "two");
    let (code, words, complaints) = said(&folder.run(&["compare", "one", "two"]));
    assert_eq!((code, complaints.as_str()), (Some(0), ""), "{words}");
    assert!(
        words.contains("Nothing that a reader acts on changed"),
        "{words}"
    );
    let (code, answer) = answer(&folder);
    assert_eq!((code, &answer["to_print"]), (Some(0), &0.into()));
}

#[test]
fn a_changed_rating_names_the_pages_that_the_fingerprints_name_and_is_their_reason() {
    let folder = published();
    let kit = "content/equipment/yard-drive.toml";
    edit(
        &folder,
        kit,
        "valve_rating = { value = \"14000 psi\"",
        "valve_rating = { value = \"13900 psi\"",
    );
    let (code, answer) = answer(&folder);
    assert_eq!(code, Some(1));
    assert_eq!(cards(&answer), by_fingerprint(&folder));
    assert!(cards(&answer).contains(&"fit/page.html".to_string()));
    let value = &changes(&answer, "fit/page.html")[0];
    assert_eq!(value["kind"], "value");
    assert_eq!(value["name"], "pressure-rating.lowest_rating");
    let because = value["because"][0].as_u64().expect("a cause") as usize;
    let cause = &answer["causes"][because];
    // though no page of this handbook prints it by itself
    assert_eq!(
        (&cause["kind"], &cause["name"]),
        (&"rating".into(), &"valve_rating".into())
    );
    let from = cause["from"].as_str().expect("from what");
    assert!(
        from.replace('\u{202f}', " ").contains("14 000 psi"),
        "{cause}"
    );
    // a list item that prints it is the same but for it
    let item = &changes(&answer, "fit/page.html")[1];
    assert_eq!(
        (&item["kind"], &item["reads"][0]["name"]),
        (&"item".into(), &value["name"])
    );
}

#[test]
fn a_changed_hazard_is_told_first_with_both_texts() {
    let folder = published();
    edit(&folder, "content/fit/page.md", "It burns.", "It can kill.");
    let (code, words, _) = said(&folder.run(&["compare", "one/ledger.json", "two"]));
    assert_eq!(code, Some(1));
    let pages = by_fingerprint(&folder);
    assert_eq!(pages, ["fit/page.html"]);
    let all = ledger(&folder, "two").pages.expect("pages").len();
    for part in [
        format!("1 of {all} cards to print anew."),
        "Both call themselves revision A".to_string(),
        "    Hazard changed\n      was     WARNING Hot line. It burns. Keep off.\n      now     WARNING Hot line. It can kill. Keep off.".to_string(),
    ] {
        assert!(words.contains(&part), "{part}\n{words}");
    }
    let marks = ["one", "two"].map(|edition| {
        let pages = ledger(&folder, edition).pages.expect("pages");
        let page = pages.into_iter().find(|page| page.page == "fit/page.html");
        page.expect("the page").fingerprint
    });
    assert!(words.contains(&format!("fit/page.html  {} -> {}", marks[0], marks[1])));
    assert!(
        words.lines().all(|line| line.chars().count() <= 80),
        "{words}"
    );
}

#[test]
fn a_step_in_front_and_another_picture_are_told_and_no_step_behind_them() {
    let folder = published();
    folder.put("content/fit/plan.svg", PLAN.replace("h7", "h6"));
    edit(
        &folder,
        "content/fit/page.md",
        "1. Read the plate.",
        "1. Stop.\n1. Read the plate.",
    );
    let (_, answer) = answer(&folder);
    let told: Vec<[&str; 2]> = changes(&answer, "fit/page.html")
        .iter()
        .map(|one| [&one["kind"], &one["is"]].map(|text| text.as_str().expect("a word")))
        .collect();
    assert_eq!(
        told,
        [
            ["step", "added"],
            ["step", "renumbered"],
            ["picture", "changed"]
        ]
    );
}

#[test]
fn new_and_gone_pages_are_told_and_a_new_revision_is_no_warning() {
    let folder = published();
    let page = fs::read_to_string(folder.path().join("content/fit/page.md")).expect("the page");
    fs::remove_file(folder.path().join("content/fit/page.md")).expect("removed");
    folder.put("content/fit/other.md", page);
    folder.put(
        "content/index.md",
        "# Start\n\nRead [the page](fit/other.md) first.\n",
    );
    edit(
        &folder,
        "handbook.toml",
        "revision = \"A\"",
        "revision = \"B\"",
    );
    let (code, words, _) = said(&folder.run(&["compare", "one", "two"]));
    assert_eq!(code, Some(1));
    for part in [
        "1 of them new; 1 card to take out of use.",
        "New: print\n\n 2. Fit\n    fit/other.html  -> ",
        "Gone: take out of use\n\n 3. Fit\n    fit/page.html  ",
    ] {
        assert!(words.contains(part), "{part}\n{words}");
    }
    assert!(!words.contains("Both call themselves"), "{words}");
}

#[test]
fn the_page_to_print_is_whole_by_itself_and_is_written_over_nothing_else() {
    let folder = published();
    edit(&folder, "content/fit/page.md", "It burns.", "It can kill.");
    let run = |file: &str| said(&folder.run(&["compare", "one", "two", "--page", file]));
    let (code, words, _) = run("changes.html");
    assert_eq!(code, Some(1));
    assert!(
        words.ends_with("The page to print: changes.html\n"),
        "{words}"
    );
    let read = || fs::read_to_string(folder.path().join("changes.html")).expect("the page");
    let html = read();
    for part in [
        "default-src 'none'; style-src 'sha256-",
        "Local rules come first.",
        "It can kill.",
        "class=\"box\"",
    ] {
        assert!(html.contains(part), "{part}");
    }
    for part in ["<script", "<link", "src=", "href="] {
        assert!(!html.contains(part), "{part}");
    }
    // again, over its own
    assert_eq!(run("changes.html").0, Some(1));
    assert_eq!(read(), html);
    let (code, _, complaints) = run("handbook.toml");
    assert_eq!(code, Some(2));
    assert!(complaints.starts_with("handbook.toml: this file isn't a page of a comparison"));
    let (code, _, complaints) = run("nowhere/changes.html");
    assert_eq!(code, Some(2));
    assert!(
        complaints.starts_with("nowhere/changes.html: the page can't be written"),
        "{complaints}"
    );
    assert_eq!(run("one").0, Some(2));
}

#[test]
fn each_input_that_is_no_ledger_is_told_with_where_and_what_to_do() {
    let folder = published();
    folder.put("empty/index.html", "");
    folder.put("broken.json", "{\n  \"version\": 1,\n  \"values\": [\n");
    folder.put("other.json", "{ \"version\": 1, \"files\": {} }");
    folder.put("later.json", "{ \"version\": 3, \"values\": {} }");
    let bare = Folder::new();
    for (input, told, help) in [
        (
            "nothing",
            "nothing: there is no such file or folder",
            "name the folder that",
        ),
        (
            "empty",
            "empty: there is no ledger.json in this folder",
            "name the folder that",
        ),
        (
            ".",
            ".: there is no ledger.json in this folder",
            "this is a handbook, not its site",
        ),
        (
            "broken.json",
            "broken.json:4:0: this is no whole JSON",
            "publish it anew",
        ),
        (
            "other.json",
            "other.json: this is no ledger of a handbook",
            "of a published site",
        ),
        (
            "later.json",
            "later.json: its ledger has version 3",
            "the program that published",
        ),
    ] {
        for line in [["compare", "one", input], ["compare", input, "one"]] {
            let (code, words, complaints) = said(&folder.run(&line));
            assert_eq!((code, words.as_str()), (Some(2), ""), "{input}");
            assert!(complaints.starts_with(told), "{input}: {complaints}");
            assert!(
                complaints.contains(&format!("\n  -> {help}")) || complaints.contains(help),
                "{input}: {complaints}"
            );
        }
    }
    // a handbook that is published where it mostly is
    publish(&bare, "public");
    let (_, _, complaints) = said(&bare.run(&["compare", ".", "public"]));
    assert!(complaints.ends_with("-> name ./public\n"), "{complaints}");
    // both are told at once
    let (_, _, complaints) = said(&folder.run(&["compare", "nothing", "empty"]));
    assert!(complaints.contains("nothing: ") && complaints.contains("empty: "));
}
