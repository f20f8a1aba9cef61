//! Whole handbooks in temporary folders: what is published, what stops it, and what
//! a reader of the findings is told.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use gaugeleaf::publish::{Built, Purpose, build};
use gaugeleaf::report::offending;
use gaugeleaf_calc::finding::line_column;

const HEAD: &str =
    "title = \"Test yard\"\nrevision = \"A\"\ncaution = \"Local rules come first.\"\n";
const FRONT: &str = "# Start\n\nRead [the page](fit/page.md#do-it) first.\n";
const PHASE: &str = "title = \"Fit\"\norder = 10\npurpose = \"Fit it.\"\n";
const PAGE: &str = "```page\norder = 10\n```\n\n# Fit\n\nCut to [21 in](value:guide-tube-length.length?stock_length=12in&channel_depth=9in).\n\n\
    ## Do it\n\n> **CAUTION** Sharp edge. It cuts. Wear gloves.\n\n1. Cut.\n";

/// A handbook's folder that is gone with the value.
struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Folder {
        let folder = Folder(tempfile::tempdir().expect("a temporary folder"));
        folder.put("handbook.toml", HEAD);
        folder.put("content/index.md", FRONT);
        folder.put("content/fit/phase.toml", PHASE);
        folder.put("content/fit/page.md", PAGE);
        folder
    }

    /// A handbook whose one inner page goes on with this text.
    fn with(text: &str) -> Folder {
        let folder = Folder::new();
        folder.put("content/fit/page.md", format!("{PAGE}\n{text}"));
        folder
    }

    fn path(&self) -> &Path {
        self.0.path()
    }

    fn put(&self, path: &str, text: impl AsRef<[u8]>) {
        let at = self.path().join(path);
        fs::create_dir_all(at.parent().expect("a folder")).expect("a folder made");
        fs::write(at, text).expect("a file written");
    }

    fn build(&self) -> Built {
        build(self.path(), Purpose::Publish)
    }

    fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_gaugeleaf"))
            .args(arguments)
            .current_dir(self.path())
            .output()
            .expect("the program runs")
    }

    fn public(&self, path: &str) -> PathBuf {
        self.path().join("public").join(path)
    }
}

/// Code, file, line, column and offending text of every error.
fn errors(built: &Built) -> Vec<(&'static str, String, usize, usize, String)> {
    let errors = built
        .findings
        .iter()
        .filter(|finding| finding.code != "no-engine");
    errors
        .map(|finding| {
            let text = built.sources.get(&finding.file).map_or("", String::as_str);
            let (line, column) = line_column(text, finding.span.start);
            (
                finding.code,
                finding.file.clone(),
                line,
                column,
                offending(finding, &built.sources).to_string(),
            )
        })
        .collect()
}

fn one_error(text: &str) -> (&'static str, usize, usize, String) {
    let found = errors(&Folder::with(text).build());
    assert_eq!(found.len(), 1, "{text:?}: {found:?}");
    let (code, file, line, column, offending) = found.into_iter().next().expect("one");
    assert_eq!(file, "content/fit/page.md");
    // the lines of the page that every handbook here begins with
    (code, line - PAGE.lines().count() - 1, column, offending)
}

#[test]
fn a_sound_handbook_is_published_with_its_ledger_and_search() {
    let built = Folder::new().build();
    assert_eq!(errors(&built), []);
    for path in [
        "index.html",
        "fit/index.html",
        "fit/page.html",
        "calculators/guide-tube-length.html",
        "tables/index.html",
        "search.html",
        "ledger.html",
        "ledger.json",
        "scripts/engine.js",
        "scripts/catalog.js",
        "scripts/search-index.js",
        "styles/handbook.css",
    ] {
        assert!(built.site.contains_key(path), "{path}");
    }
    let page = String::from_utf8_lossy(&built.site["fit/page.html"]).into_owned();
    for part in [
        "<h1>Fit</h1>",
        "id=\"do-it\"",
        "id=\"step-1\"",
        "21\u{A0}in</a>",
        "hazard caution",
        "Local rules come first.",
    ] {
        assert!(page.contains(part), "{part}");
    }
    let ledger: serde_json::Value =
        serde_json::from_slice(&built.site["ledger.json"]).expect("JSON");
    let value = &ledger["values"][0];
    assert_eq!(
        (
            value["text"].as_str(),
            value["line"].as_u64(),
            value["column"].as_u64()
        ),
        (Some("21 in"), Some(7), Some(8))
    );
    assert_eq!(value["inputs"]["channel_depth"], "9 in");
}

#[test]
fn two_publishes_of_the_same_input_are_the_same_bytes() {
    let folder = Folder::new();
    assert_eq!(folder.build().site, folder.build().site);
}

#[test]
fn a_text_changed_by_one_digit_stops_the_publish_and_leaves_the_old_site() {
    let folder = Folder::new();
    assert_eq!(folder.run(&[]).status.code(), Some(0));
    let before = fs::read(folder.public("fit/page.html")).expect("published");
    folder.put("content/fit/page.md", PAGE.replace("[21 in]", "[22 in]"));
    folder.put("content/index.md", FRONT.replace("first", "now"));
    let output = folder.run(&[]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1));
    for part in [
        "content/fit/page.md:7:9",
        "`22 in`",
        "`21 in`",
        "Nothing was published.",
    ] {
        assert!(said.contains(part), "{part} in {said}");
    }
    assert_eq!(
        fs::read(folder.public("fit/page.html")).expect("kept"),
        before
    );
    assert!(
        !fs::read_to_string(folder.public("index.html"))
            .expect("kept")
            .contains("now")
    );
}

#[test]
fn a_worked_example_that_fails_stops_the_publish_in_its_own_file() {
    let folder = Folder::new();
    let own = gaugeleaf_calc::builtin()
        .into_iter()
        .find(|file| file.path.ends_with("guide-tube-length.toml"))
        .expect("built in");
    let figure = gaugeleaf_calc::builtin()
        .into_iter()
        .find(|file| file.path.ends_with("guide-tube-length.svg"))
        .expect("built in");
    let wrong = own.text.replacen("length = \"", "length = \"9", 1);
    assert_ne!(wrong, own.text);
    folder.put(&own.path, &wrong);
    folder.put(&figure.path, &figure.text);
    let found = errors(&folder.build());
    assert!(
        found
            .iter()
            .any(|(_, file, line, ..)| *file == own.path && *line > 1),
        "{found:?}"
    );
    assert_eq!(folder.run(&["publish"]).status.code(), Some(1));
    assert!(!folder.public("index.html").exists());
}

#[test]
fn each_fault_of_a_page_is_found_where_it_stands() {
    let at = |code, line, column, text: &str| (code, line, column, text.to_string());
    let cases = [
        (
            "```calculater x\n```\n",
            at("unknown-block", 1, 4, "calculater"),
        ),
        (
            "```calculator pitch-spam\n```\n",
            at("unknown-calculator", 1, 15, "pitch-spam"),
        ),
        (
            "```calculator pitch-span\ntube_pich = \"1 in\"\n```\n",
            at("unknown-input", 2, 1, "tube_pich"),
        ),
        (
            "```calculator pitch-span\ntube_pitch = \"1 psi\"\n```\n",
            at("bad-input", 2, 14, "\"1 psi\""),
        ),
        (
            "- item\n\n  ```calculator pitch-span\n  tube_pitch = \"1 psi\"\n  ```\n",
            at("bad-input", 4, 16, "\"1 psi\""),
        ),
        (
            "```figure pitch-span\ncaption = 4\n```\n",
            at("wrong-kind", 2, 11, "4"),
        ),
        (
            "[](value:pitch-span.skipp)\n",
            at("unknown-output", 1, 21, "skipp"),
        ),
        (
            "[](value:guide-tube-length.length?stock_length=14psi)\n",
            at("bad-input", 1, 48, "14psi"),
        ),
        (
            "[](value:hex-across-flats.wrench?bolt=77in)\n",
            at("no-such-row", 1, 10, "hex-across-flats.wrench?bolt=77in"),
        ),
        (
            "[a](../indeks.md)\n",
            at("missing-page", 1, 5, "../indeks.md"),
        ),
        ("[a](#do-itt)\n", at("missing-heading", 1, 5, "#do-itt")),
        ("![a](none.png)\n", at("missing-picture", 1, 6, "none.png")),
        (
            "![a](https://example.org/a.png)\n",
            at("foreign-picture", 1, 6, "https://example.org/a.png"),
        ),
        ("text <br>\n", at("raw-html", 1, 6, "<br>")),
        (
            "> **WARNNG** x\n",
            at("unknown-signal-word", 1, 3, "**WARNNG**"),
        ),
        (
            "\t\n🔧 é [a](javascript:alert)\n",
            at("bad-link", 2, 9, "javascript:alert"),
        ),
    ];
    for (text, wanted) in cases {
        assert_eq!(one_error(text), wanted, "{text:?}");
    }
}

#[test]
fn lines_that_end_as_on_windows_and_a_byte_order_mark_move_no_column() {
    let folder = Folder::new();
    let page = format!("\u{FEFF}{PAGE}\n[a](gone.md)\n").replace('\n', "\r\n");
    folder.put("content/fit/page.md", page);
    let found = errors(&folder.build());
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        (found[0].0, found[0].2, found[0].3),
        ("missing-page", 15, 5)
    );
}

#[test]
fn settings_are_checked_in_every_file_that_has_them() {
    let folder = Folder::new();
    folder.put("handbook.toml", format!("{HEAD}subtitel = \"x\"\n"));
    folder.put(
        "content/fit/phase.toml",
        "title = 4\norder = \"x\"\npurpose = \"p\"\n",
    );
    folder.put(
        "content/fit/page.md",
        PAGE.replace("order = 10", "order = 10\nreveiw = 2027-01-01"),
    );
    folder.put(
        "content/fit/other.md",
        "```page\norder = [\n```\n\n# Other\n\nText.\n",
    );
    let codes: Vec<_> = errors(&folder.build())
        .into_iter()
        .map(|(code, file, line, ..)| (code, file, line))
        .collect();
    let own = |code, file: &str, line| (code, file.to_string(), line);
    for wanted in [
        own("unknown-setting", "handbook.toml", 4),
        own("wrong-kind", "content/fit/phase.toml", 1),
        own("wrong-kind", "content/fit/phase.toml", 2),
        own("unknown-setting", "content/fit/page.md", 3),
    ] {
        assert!(codes.contains(&wanted), "{wanted:?} in {codes:?}");
    }
    assert!(
        codes
            .iter()
            .any(|(code, file, _)| *code == "bad-settings" && file == "content/fit/other.md"),
        "{codes:?}"
    );
}

#[test]
fn files_that_cannot_be_read_are_findings_and_hide_no_others() {
    let folder = Folder::with("[a](gone.md)\n");
    folder.put("content/fit/latin.md", b"# caf\xE9\n");
    folder.put("content/fit/empty.md", "");
    folder.put("content/fit/huge.md", vec![b'a'; 4 * 1024 * 1024 + 1]);
    let codes: Vec<_> = errors(&folder.build())
        .into_iter()
        .map(|found| found.0)
        .collect();
    for code in ["not-utf-8", "empty-page", "too-large", "missing-page"] {
        assert!(codes.contains(&code), "{code} in {codes:?}");
    }
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_out_of_the_folder_is_refused() {
    let folder = Folder::new();
    let outside = tempfile::tempdir().expect("a folder");
    fs::write(outside.path().join("secret.md"), "# Secret\n\nText.\n").expect("written");
    std::os::unix::fs::symlink(
        outside.path().join("secret.md"),
        folder.path().join("content/fit/secret.md"),
    )
    .expect("linked");
    std::os::unix::fs::symlink(outside.path(), folder.path().join("content/more")).expect("linked");
    let built = folder.build();
    let found = errors(&built);
    assert_eq!(
        found
            .iter()
            .filter(|found| found.0 == "leaves-the-folder")
            .count(),
        2,
        "{found:?}"
    );
    assert!(!built.site.contains_key("fit/secret.html"));
}

#[test]
fn a_folder_without_a_handbook_says_what_to_do() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = Command::new(env!("CARGO_BIN_EXE_gaugeleaf"))
        .arg("publish")
        .current_dir(folder.path())
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("no handbook.toml"));
    assert_eq!(fs::read_dir(folder.path()).expect("read").count(), 0);
}

#[test]
fn a_target_with_files_of_others_is_left_alone() {
    let folder = Folder::new();
    folder.put("site/notes.txt", "mine");
    let output = folder.run(&["publish", "--to", "site"]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(
        fs::read_dir(folder.path().join("site"))
            .expect("read")
            .count(),
        1
    );
    // the handbook's own folder is never a target
    assert_eq!(folder.run(&["publish", "--to", "."]).status.code(), Some(2));
    assert!(folder.path().join("handbook.toml").exists());
}

#[test]
fn a_handbooks_own_template_is_used_and_a_broken_one_is_found() {
    let folder = Folder::new();
    folder.put("themes/templates/search.html", "own {{ site.title }}");
    assert_eq!(
        folder.build().site.get("search.html").map(Vec::as_slice),
        Some(&b"own Test yard"[..])
    );
    folder.put("themes/templates/search.html", "own\n{{ site.title");
    let found = errors(&folder.build());
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        (found[0].0, found[0].1.as_str(), found[0].2),
        ("template", "themes/templates/search.html", 2)
    );
}

#[test]
fn inspect_lists_findings_for_machines_and_writes_nothing() {
    let folder = Folder::with("[a](gone.md)\n");
    let output = folder.run(&["inspect", "--json"]);
    assert_eq!(output.status.code(), Some(1));
    let lines = String::from_utf8(output.stdout).expect("text");
    let errors: Vec<serde_json::Value> = lines
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect();
    assert!(
        errors
            .iter()
            .any(|one| one["code"] == "missing-page" && one["text"] == "gone.md"),
        "{lines}"
    );
    assert!(!folder.public("").exists());
}

#[test]
fn no_page_asks_another_host_for_anything() {
    for (path, bytes) in Folder::new().build().site {
        let Ok(text) = String::from_utf8(bytes) else {
            continue;
        };
        for wrong in ["src=\"http", "src=\"//", "url(http", "@import", "style=\""] {
            assert!(
                !path.ends_with(".html") || !text.contains(wrong),
                "{wrong} in {path}"
            );
        }
    }
}

#[test]
fn the_reload_script_is_in_the_preview_alone() {
    let folder = Folder::new();
    let holds = |built: &Built| {
        built
            .site
            .values()
            .any(|bytes| String::from_utf8_lossy(bytes).contains(".preview/"))
    };
    assert!(!holds(&folder.build()));
    assert!(holds(&build(folder.path(), Purpose::Preview)));
}
