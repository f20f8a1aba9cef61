//! One small handbook with several faults, as each format tells it.
//!
//! What is expected stands in `tests/snapshots`, one file a format: these are texts that others
//! read, and a change to one is to be looked at whole. To write them anew, run the test with
//! `SNAPSHOTS=write`, and read what git says.

use serde_json::Value;

use crate::support::{Folder, compare};

/// A person's and a machine's faults: in a page after letters of several bytes, in the catalog,
/// in a file that is no text, and in one whose name is no address.
fn broken() -> Folder {
    let folder = Folder::with(
        "Set ½ the gap as [the front page](../indeks.md) says.\n\n\
         1. The valve should be shut.\n\n\
         ```calculator pitch-span\ntube_pich = \"1 in\"\n```\n",
    );
    folder.put(
        "calculators/spare.toml",
        "[[rating]]\nname = \"spare\"\nlabl = \"Spare\"\nlabel = \"Spare\"\nunit = \"in\"\n\
         print = \"1/8\"\nround = \"down\"\nvalue = \"3 in\"\nsource = \"plate\"\n",
    );
    folder.put("content/fit/old.md", b"# Gr\xf6\xdfe\n");
    folder.put("content/fit/Old page.md", "# Old\n\nText.\n");
    folder
}

/// What an inspection says: to a person on one channel, to a machine on the other.
fn inspected(options: &[&str]) -> String {
    let output = broken().run(&[&["inspect"], options].concat());
    assert_eq!(output.status.code(), Some(1));
    let said = [output.stdout, output.stderr].concat();
    String::from_utf8(said).expect("UTF-8")
}

#[test]
fn a_person_reads_place_words_line_and_help() {
    let said = inspected(&[]);
    compare("terminal.txt", &said);
    assert_eq!(inspected(&["--format", "terminal"]), said);
}

#[test]
fn a_machine_reads_an_object_a_line_by_either_name() {
    let said = inspected(&["--json"]);
    compare("lines.jsonl", &said);
    assert_eq!(inspected(&["--format", "lines"]), said);
}

#[test]
fn a_code_host_reads_a_log_with_all_that_sarif_requires() {
    let said = inspected(&["--format", "sarif"]);
    compare("log.sarif", &said);
    let log: Value = serde_json::from_str(&said).expect("JSON");
    assert_eq!(log["version"], "2.1.0");
    let runs = log["runs"].as_array().expect("runs");
    assert_eq!(runs.len(), 1);
    assert_eq!(runs[0]["columnKind"], "unicodeCodePoints");
    let driver = &runs[0]["tool"]["driver"];
    assert!(driver["name"].is_string());
    let rules = driver["rules"].as_array().expect("rules");
    for rule in rules {
        assert!(rule["id"].is_string() && rule["fullDescription"]["text"].is_string());
    }
    let results = runs[0]["results"].as_array().expect("results");
    assert_eq!(results.len(), inspected(&["--json"]).lines().count());
    for result in results {
        let index = result["ruleIndex"].as_u64().expect("an index");
        let rule = &rules[usize::try_from(index).expect("small")];
        assert_eq!(rule["id"], result["ruleId"]);
        assert!(["error", "warning"].contains(&result["level"].as_str().expect("a level")));
        assert!(!result["message"]["text"].as_str().expect("text").is_empty());
        let place = &result["locations"][0]["physicalLocation"];
        let uri = place["artifactLocation"]["uri"].as_str().expect("a URI");
        assert!(!uri.is_empty() && !uri.contains(' '), "{uri}");
        if let Some(region) = place["region"].as_object() {
            let at = |key: &str| region[key].as_u64().expect("a number");
            let (start, end) = (
                (at("startLine"), at("startColumn")),
                (at("endLine"), at("endColumn")),
            );
            assert!(start.0 >= 1 && start.1 >= 1 && start <= end, "{region:?}");
        }
    }
}
