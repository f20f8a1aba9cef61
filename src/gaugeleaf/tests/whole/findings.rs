//! What is wrong with a handbook, and where a reader of the findings is told it is.

use std::fs;

use crate::support::*;

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
        // the same letters stand in two places: the place is carried from the parse
        (
            "[](value:length.length)\n",
            at("unknown-value", 1, 10, "length"),
        ),
        (
            "[a b](value:pitch-span.skip?tube_pitch=1in&b=b)\n",
            at("unknown-input", 1, 44, "b"),
        ),
        (
            "```chart chart\n```\n",
            at("unknown-calculator", 1, 10, "chart"),
        ),
        ("```test test\n```\n", at("unknown-phase", 1, 9, "test")),
        ("[x.md](x.md 'x.md')\n", at("missing-page", 1, 8, "x.md")),
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
        own("unknown-setting", "handbook.toml", 5),
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

/// A pipe would be waited for until somebody writes into it.
#[cfg(unix)]
#[test]
fn pipes_and_sockets_are_not_waited_for() {
    let folder = Folder::new();
    folder.put("themes/look.css", "");
    let at = |path: &str| folder.path().join(path);
    let pipes = [
        "content/fit/pipe.svg",
        "content/fit/pipe.md",
        "themes/pipe.css",
    ];
    for path in pipes {
        let made = std::process::Command::new("mkfifo").arg(at(path)).status();
        assert!(made.expect("mkfifo").success());
    }
    let socket = "content/fit/socket.md";
    let _heard = std::os::unix::net::UnixListener::bind(at(socket)).expect("a socket");
    let built = folder.build();
    for path in pipes.into_iter().chain([socket]) {
        let told = built.findings.iter().find(|one| one.file == path);
        let told = told.unwrap_or_else(|| panic!("{path}: {:?}", built.findings));
        assert_eq!(told.code.name(), "unreadable");
        assert!(told.message.ends_with("it is a pipe, a socket or a device"));
        let help = told.help.as_deref();
        assert_eq!(help, Some("take it out of the handbook's folder"));
    }
}

#[test]
fn a_circle_of_calculators_is_the_one_finding_of_each() {
    let folder = Folder::new();
    let calculator = |name: &str, from: &str| {
        let figure = "figure = \"guide-tube-length.svg\"";
        let own = gaugeleaf_calc::builtin()
            .into_iter()
            .find(|file| file.path.ends_with("guide-tube-length.toml"))
            .expect("built in");
        let text = own
            .text
            .replace(
                "name = \"guide-tube-length\"",
                &format!("name = \"{name}\""),
            )
            .replace("from = \"channel_depth\"", &format!("from = \"{from}\""))
            .replace(figure, "");
        folder.put(&format!("calculators/{name}.toml"), text);
    };
    calculator("one", "two.length");
    calculator("two", "one.length");
    let found: Vec<_> = errors(&folder.build())
        .into_iter()
        .map(|found| (found.0, found.1))
        .collect();
    let circle = |name: &str| ("circle", format!("calculators/{name}.toml"));
    assert_eq!(found, [circle("one"), circle("two")]);
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
fn a_file_that_no_page_offers_is_told_and_not_published() {
    let folder = Folder::new();
    folder.put("content/fit/log.pdf", b"%PDF-1.7\n");
    folder.put("content/fit/log.key", b"x");
    let built = folder.build();
    let told: Vec<(&str, &str)> = built
        .findings
        .iter()
        .filter(|finding| finding.code.name() == "unused-file")
        .map(|finding| (finding.code.name(), finding.message.as_str()))
        .collect();
    assert_eq!(
        told,
        [
            ("unused-file", "nothing is made from `log.key`"),
            ("unused-file", "no page offers `log.pdf`"),
        ]
    );
    assert!(!built.site.contains_key("fit/log.pdf"));
}

#[test]
fn a_fault_where_nothing_is_written_still_has_letters_to_stand_under() {
    let folder =
        Folder::with("Push on by [](value:) and [](value:hex-across-flats.wrench?=1in).\n");
    folder.put(
        "content/fit/other.md",
        "```page\norder =\n```\n\n# Other\n\nText.\n",
    );
    folder.put("calculators/bare.toml", "name =\n");
    folder.put(
        "calculators/open.svg",
        "<!-- a rail -->\n<svg xmlns=\"http://www.w3.org/2000/svg\">\n<g/>\n",
    );
    let found = errors(&folder.build());
    let at = |file: &str| {
        let own = found.iter().filter(|found| found.1 == file);
        own.map(|found| (found.0, found.4.as_str()))
            .collect::<Vec<_>>()
    };
    assert_eq!(at("content/fit/other.md"), [("bad-settings", "=")]);
    assert_eq!(
        at("calculators/bare.toml"),
        [("unknown-setting", "name"), ("bad-settings", "=")]
    );
    assert_eq!(at("calculators/open.svg"), [("figure", ">")]);
    assert_eq!(
        at("content/fit/page.md"),
        [
            ("bad-value-link", "value:"),
            ("unknown-column", "value:hex-across-flats.wrench?=1in")
        ]
    );
}

#[test]
fn a_page_that_takes_a_made_pages_name_is_the_one_to_blame() {
    let folder = Folder::new();
    folder.put("content/search.md", "# Search\n\nText.\n");
    let found = errors(&folder.build());
    let taken: Vec<_> = found
        .iter()
        .map(|found| (found.0, found.1.as_str()))
        .collect();
    assert_eq!(taken, [("name-taken", "content/search.md")]);
}
