//! What is issued when: the history, the fingerprints on the pages, the codes on the cards.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Output;

use serde_json::Value;

use crate::support::{Folder, HEAD, PAGE, errors};

const DRAWING: &str =
    "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 8 8\"><path d=\"M0 0h8v8z\"/></svg>";

fn words(output: &Output) -> String {
    let all = [&output.stdout[..], &output.stderr[..]].concat();
    String::from_utf8_lossy(&all).into_owned()
}

/// Issues the handbook of a folder; gives the exit code and what was said.
fn issued(folder: &Folder, day: &str) -> (Option<i32>, String) {
    let output = folder.run(&["publish", "--issue", day]);
    (output.status.code(), words(&output))
}

fn history(folder: &Folder) -> Vec<Value> {
    let text = std::fs::read_to_string(folder.path().join("history.jsonl")).unwrap_or_default();
    let lines = text.lines();
    lines
        .map(|line| serde_json::from_str(line).expect("an issue"))
        .collect()
}

/// The addresses of the pages in an issue.
fn urls(issue: &Value) -> Vec<String> {
    issue["pages"]
        .as_object()
        .expect("pages")
        .keys()
        .cloned()
        .collect()
}

/// Each page's fingerprint, as the ledger has it.
fn fingerprints(folder: &Folder) -> BTreeMap<String, String> {
    let built = folder.build();
    assert!(errors(&built).is_empty(), "{:?}", errors(&built));
    let ledger: Value = serde_json::from_slice(&built.site["ledger.json"]).expect("a ledger");
    let pages = ledger["pages"].as_array().expect("pages").iter();
    let text = |page: &Value, key: &str| page[key].as_str().expect("a text").to_string();
    pages
        .map(|page| (text(page, "page"), text(page, "fingerprint")))
        .collect()
}

#[test]
fn an_issue_lists_what_changed_and_its_pages_say_since_when() {
    let folder = Folder::with("Prose.\n");
    let (code, said) = issued(&folder, "2026-11-01");
    assert_eq!(code, Some(0), "{said}");
    let first = history(&folder);
    assert_eq!(first.len(), 1);
    assert!(urls(&first[0]).contains(&"fit/page.html".to_string()));
    let page = || String::from_utf8_lossy(&folder.build().site["fit/page.html"]).into_owned();
    assert!(
        page().contains("Issued 2026-11-01 in revision A"),
        "{}",
        page()
    );

    // what the page says is what it was
    folder.put("content/fit/page.md", format!("{PAGE}\n\n\nProse.\n"));
    let (code, said) = issued(&folder, "2026-11-02");
    assert_eq!((code, history(&folder).len()), (Some(0), 1), "{said}");
    assert!(
        said.contains("Nothing has changed since the issue of 2026-11-01"),
        "{said}"
    );

    let changed = format!("{}\nProse.\n", PAGE.replace("CAUTION", "WARNING"));
    folder.put("content/fit/page.md", changed);
    assert!(page().contains("Not issued"), "{}", page());
    let (code, said) = issued(&folder, "2026-11-03");
    assert_eq!((code, history(&folder).len()), (Some(2), 1), "{said}");
    assert!(
        said.contains("1 page changed, and revision A was issued on 2026-11-01"),
        "{said}"
    );

    folder.put(
        "handbook.toml",
        handbook_of(&folder).replace("\"A\"", "\"B\""),
    );
    let (code, said) = issued(&folder, "2026-10-31");
    assert_eq!((code, history(&folder).len()), (Some(2), 1), "{said}");
    assert!(
        said.contains("the last issue is of 2026-11-01, after 2026-10-31"),
        "{said}"
    );

    let (code, said) = issued(&folder, "2026-11-03");
    assert_eq!(code, Some(0), "{said}");
    let all = history(&folder);
    assert_eq!(urls(&all[1]), ["fit/page.html"]);
    assert_eq!(all[0], first[0]);
    let public = std::fs::read_to_string(folder.public("fit/page.html")).expect("published");
    assert!(
        public.contains("Issued 2026-11-03 in revision B"),
        "{public}"
    );
    let cards = std::fs::read_to_string(folder.public("scripts/cards.js")).expect("published");
    assert!(
        cards.contains("WARNING Sharp edge.") && cards.contains("CAUTION Sharp edge."),
        "{cards}"
    );
}

#[test]
fn a_card_names_who_keeps_it_and_who_approved_what_was_issued() {
    let folder = Folder::new();
    let head = format!("owner = \"the trainer\"\napprover = \"the site lead\"\n{HEAD}");
    folder.put("handbook.toml", head);
    let foot = || String::from_utf8_lossy(&folder.build().site["fit/page.html"]).into_owned();
    assert!(foot().contains("Kept by the trainer") && !foot().contains("Approved by"));
    assert_eq!(issued(&folder, "2026-11-01").0, Some(0));
    assert!(foot().contains("Approved by the site lead"), "{}", foot());
    let own = "order = 10\nowner = \"the fitter\"\napprover = \"the yard\"";
    folder.put("content/fit/page.md", PAGE.replace("order = 10", own));
    assert!(foot().contains("Kept by the fitter"));
    // whom it names now has approved nothing yet
    assert!(
        foot().contains("Not issued") && !foot().contains("Approved by"),
        "{}",
        foot()
    );
    let text = handbook_of(&folder).replace("revision = \"A\"", "revision = \"B\"");
    folder.put("handbook.toml", text);
    assert_eq!(issued(&folder, "2026-11-02").0, Some(0));
    assert!(foot().contains("Approved by the yard"), "{}", foot());
    let register = String::from_utf8_lossy(&folder.build().site["card.html"]).into_owned();
    assert!(register.contains("Kept by the fitter") && register.contains("Kept by the trainer"));
    folder.put("content/fit/page.md", PAGE.replace("Cut.", "Saw."));
    assert!(
        foot().contains("Not issued") && !foot().contains("Approved by"),
        "{}",
        foot()
    );
}

fn handbook_of(folder: &Folder) -> String {
    std::fs::read_to_string(folder.path().join("handbook.toml")).expect("a handbook")
}

#[test]
fn a_page_that_goes_and_a_handbook_with_errors() {
    let folder = Folder::new();
    folder.put(
        "content/fit/other.md",
        "```page\norder = 20\n```\n\n# Other\n\n1. Cut.\n",
    );
    assert_eq!(issued(&folder, "2026-11-01").0, Some(0));
    std::fs::remove_file(folder.path().join("content/fit/other.md")).expect("removed");
    folder.put("handbook.toml", HEAD.replace("\"A\"", "\"B\""));
    assert_eq!(issued(&folder, "2026-11-02").0, Some(0));
    assert_eq!(
        history(&folder)[1]["gone"],
        serde_json::json!(["fit/other.html"])
    );

    folder.put("content/fit/page.md", "# Fit\n\n[none](none.md)\n");
    let (code, said) = issued(&folder, "2026-11-03");
    assert_eq!((code, history(&folder).len()), (Some(1), 2), "{said}");
    assert!(said.contains("Nothing was issued or published."), "{said}");
}

#[test]
fn what_a_reader_acts_on_changes_its_page_and_no_other() {
    let folder = Folder::new();
    let text = "| a | b |\n|---|---|\n| c | d |\n\n![A square](square.svg)\n\n- Never alone.\n\nLet go.[^a] Read [the start](../index.md).\n\n[^a]: At once.\n\n```checks\nitems = [ { do = \"Gauge\", want = \"zero\" } ]\ndone = \"x\"\n```\n";
    let put = |text: &str| folder.put("content/fit/page.md", format!("{PAGE}\n{text}"));
    folder.put("content/fit/square.svg", DRAWING);
    put(text);
    let before = fingerprints(&folder);
    let apart: BTreeSet<&String> = before.values().collect();
    assert_eq!(apart.len(), before.len(), "no two pages share one");

    for (from, to) in [
        ("| c |", "| e |"),
        ("| a |", "| kPa |"),
        ("Let go.", "Hold on."),
        ("At once.", "Later."),
        ("(../index.md)", "(page.md)"),
        ("A square", "No square"),
        ("# Fit", "# Do not fit"),
        ("order = 10", "order = 10\ntools = [\"glasses\"]"),
        ("Never alone", "Always two"),
        ("zero", "still"),
        ("Sharp", "Hot"),
        ("1. Cut.", "1. Saw."),
    ] {
        let whole = format!("{PAGE}\n{text}");
        assert!(whole.contains(from));
        folder.put("content/fit/page.md", whole.replace(from, to));
        assert_eq!(
            changed(&before, &fingerprints(&folder)),
            ["fit/page.html"],
            "{from}"
        );
    }
    put(text);
    folder.put("content/fit/square.svg", DRAWING.replace("h8v8z", "h8v7z"));
    assert_eq!(changed(&before, &fingerprints(&folder)), ["fit/page.html"]);
    folder.put("content/fit/square.svg", DRAWING);
    // other line ends, other search words and another room between the lines are no other card
    folder.put("content/fit/square.svg", DRAWING.replace("><", ">\r\n<"));
    let drawn = fingerprints(&folder);
    folder.put("content/fit/square.svg", DRAWING.replace("><", ">\n<"));
    assert_eq!(drawn, fingerprints(&folder));
    folder.put("content/fit/square.svg", DRAWING);
    let page = format!("{PAGE}\n\n{text}\n\n");
    let words = "order = 10\nalso = [\"fitting\"]";
    folder.put("content/fit/page.md", page.replace("order = 10", words));
    assert_eq!(
        changed(&before, &fingerprints(&folder)),
        Vec::<&String>::new()
    );
}

fn changed<'m>(
    old: &'m BTreeMap<String, String>,
    new: &BTreeMap<String, String>,
) -> Vec<&'m String> {
    let other = old.iter().filter(|(url, mark)| new.get(*url) != Some(mark));
    other.map(|(url, _)| url).collect()
}

#[test]
fn a_revision_is_issued_once_and_a_history_that_is_no_file_is_told() {
    let folder = Folder::new();
    let revise =
        |to: &str| folder.put("handbook.toml", HEAD.replace("\"A\"", &format!("\"{to}\"")));
    assert_eq!(issued(&folder, "2026-11-01").0, Some(0));
    for (revision, verb) in [("B", "Saw."), ("A", "File."), ("B ", "File.")] {
        revise(revision);
        folder.put("content/fit/page.md", PAGE.replace("Cut.", verb));
        let (code, said) = issued(&folder, "2026-11-02");
        let once = revision == "B";
        assert_eq!(code, Some(if once { 0 } else { 2 }), "{said}");
        assert!(once || said.contains("was issued on 2026-11-0"), "{said}");
    }
    assert_eq!(history(&folder).len(), 2);
    let at = folder.path().join("history.jsonl");
    std::fs::remove_file(&at).expect("removed");
    std::fs::create_dir(&at).expect("made");
    let (code, said) = issued(&folder, "2026-11-03");
    assert_eq!(code, Some(1), "{said}");
    assert!(
        said.contains("bad-history") && said.contains("this is no file"),
        "{said}"
    );
}

#[test]
fn no_two_pages_of_the_demonstration_share_a_fingerprint() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let edition = gaugeleaf::edition::addresses::FolderEdition;
    let built = gaugeleaf::session::build(&root, &edition);
    let ledger: Value = serde_json::from_slice(&built.site["ledger.json"]).expect("a ledger");
    let pages = ledger["pages"].as_array().expect("pages");
    let marks: BTreeSet<&str> = pages
        .iter()
        .filter_map(|page| page["fingerprint"].as_str())
        .collect();
    assert!(pages.len() > 150);
    assert_eq!(marks.len(), pages.len());
}

#[test]
fn a_code_leads_to_the_address_of_the_site_with_the_cards_fingerprint() {
    let folder = Folder::new();
    assert!(
        !folder
            .build()
            .site
            .keys()
            .any(|path| path.starts_with("codes/"))
    );
    for odd in [
        "yard",
        "https://",
        "ftp://yard.example",
        "https://yard.example/a b",
        "https://yard.example/?a=1",
    ] {
        folder.put("handbook.toml", format!("address = \"{odd}\"\n{HEAD}"));
        let found = errors(&folder.build());
        let codes: Vec<&str> = found.iter().map(|one| one.0).collect();
        assert_eq!(codes, ["bad-address"], "{odd}");
    }
    folder.put(
        "handbook.toml",
        format!("address = \"https://yard.example/book\"\n{HEAD}"),
    );
    let marks = fingerprints(&folder);
    let built = folder.build();
    for (url, mark) in &marks {
        assert!(
            built.site.contains_key(&format!("codes/{mark}.svg")),
            "{url}"
        );
    }
    let page = String::from_utf8_lossy(&built.site["fit/page.html"]).into_owned();
    let mark = &marks["fit/page.html"];
    assert!(
        page.contains(&format!("src=\"../codes/{mark}.svg\"")),
        "{page}"
    );
    assert!(
        page.contains("https://yard.example/book/card.html"),
        "{page}"
    );
}
