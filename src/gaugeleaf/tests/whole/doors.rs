//! One fault has one code, whichever door it comes in by.

use gaugeleaf_finding::Level;
use serde_json::Value;

use crate::support::{Folder, PAGE};

/// Code and level of each finding in a text that a page goes on with.
fn on_a_page(text: &str) -> Vec<(&'static str, Level)> {
    let findings = Folder::with(text).build().findings;
    let own = findings.iter().filter(|one| one.span.start >= PAGE.len());
    own.map(|one| (one.code.name(), one.level)).collect()
}

/// Code and level of each finding about a calculation's arguments.
fn typed(arguments: &[&str]) -> Vec<(String, String)> {
    let output = Folder::new().run(&[&["calculate", "--json"], arguments].concat());
    let lines = String::from_utf8_lossy(&output.stderr).into_owned();
    let text = |value: &Value| value.as_str().unwrap_or_default().to_string();
    lines
        .lines()
        .map(|line| {
            let finding: Value = serde_json::from_str(line).expect("JSON");
            (text(&finding["code"]), text(&finding["level"]))
        })
        .collect()
}

fn own(code: &str, level: &str) -> Vec<(String, String)> {
    vec![(code.to_string(), level.to_string())]
}

#[test]
fn a_misspelt_input_is_unknown_on_a_page_and_on_the_command_line() {
    assert_eq!(
        typed(&["pitch-span", "tube_pich=1in"]),
        own("unknown-input", "error")
    );
    assert_eq!(
        typed(&["pitch-span", "--limit", "tube_pich"]),
        own("unknown-input", "error")
    );
    let block = "```calculator pitch-span\ntube_pich = \"1 in\"\n```\n";
    assert_eq!(on_a_page(block), [("unknown-input", Level::Error)]);
}

#[test]
fn an_unusual_value_is_doubtful_on_a_page_and_on_the_command_line() {
    assert_eq!(
        typed(&[
            "guide-tube-length",
            "stock_length=12in",
            "channel_depth=70in"
        ]),
        own("doubtful-input", "warning")
    );
    let link = "Cut to [](value:guide-tube-length.length?stock_length=12in&channel_depth=70in).\n";
    assert_eq!(on_a_page(link), [("doubtful-input", Level::Warning)]);
    // a reader's widget would want it confirmed
    let block = "```calculator guide-tube-length\nchannel_depth = \"70 in\"\n```\n";
    assert_eq!(on_a_page(block), [("doubtful-input", Level::Error)]);
}

#[test]
fn a_slip_in_a_setting_is_called_the_same_in_a_page_and_in_a_file_of_the_catalog() {
    let in_page = |settings: &str| {
        let page = format!("```page\n{settings}```\n\n# More\n\nText.\n");
        let folder = Folder::new();
        folder.put("content/fit/more.md", page);
        folder.build().findings
    };
    let in_catalog = |rating: &str| {
        let folder = Folder::new();
        folder.put("calculators/more.toml", rating);
        folder.build().findings
    };
    let rating = |lines: &str| {
        format!(
            "[[rating]]\nname = \"spare\"\n{lines}unit = \"in\"\nprint = \"1/8\"\nround = \"down\"\nvalue = \"3 in\"\nsource = \"plate\"\n"
        )
    };
    for (code, page, file) in [
        ("bad-settings", "order = [\n", "name = slope\n".to_string()),
        (
            "unknown-setting",
            "reveiw = 2027-06-01\n",
            rating("label = \"Spare\"\nlabl = \"x\"\n"),
        ),
        (
            "wrong-kind",
            "order = \"ten\"\n",
            rating("label = [\"Spare\"]\n"),
        ),
    ] {
        for findings in [in_page(page), in_catalog(&file)] {
            assert!(
                findings.iter().any(|one| one.code.name() == code),
                "{code}: {findings:?}"
            );
        }
    }
    let missing = in_catalog(&rating(""));
    assert_eq!(missing[0].code.name(), "missing-setting", "{missing:?}");
}
