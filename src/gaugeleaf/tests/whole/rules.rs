//! The writing rules on a whole handbook: what stops a publish, and what is only told.

use crate::support::*;

/// A page that keeps every rule.
const SOUND: &str = "```page\norder = 20\npeople = [\"lead\"]\ntools = [\"tape\"]\nreview = 2027-06-01\n```\n\n# Fill\n\n\
    > **WARNING** Water under pressure. It can cut to the bone. Stay behind the barrier.\n\n\
    1. Open the fill valve.\n2. Rack the hose.\n";

fn sound() -> Folder {
    let folder = Folder::equipped();
    let head = "order = 10\npeople = [\"lead\"]\ntools = [\"cutter\"]\nreview = 2027-06-01\n";
    folder.put("content/fit/page.md", PAGE.replace("order = 10\n", head));
    folder.put("content/fit/fill.md", SOUND);
    folder
}

#[test]
fn a_quantity_typed_into_a_procedure_stops_a_publish_where_it_stands() {
    assert_eq!(
        one_error("1. Cut\r\n   “½” at 9/16 in.\n"),
        ("typed-quantity", 2, 11, "9/16 in".to_string())
    );
}

#[test]
fn a_warning_stops_no_publish_and_fails_a_strict_inspection() {
    let folder = sound();
    folder.put("content/fit/fill.md", SOUND.replace("Rack", "Marvel at"));
    assert_eq!(folder.run(&["inspect"]).status.code(), Some(0));
    let strict = folder.run(&["inspect", "--strict"]);
    let said = String::from_utf8_lossy(&strict.stderr).into_owned();
    assert_eq!(strict.status.code(), Some(1), "{said}");
    assert!(said.contains("fill.md:13:4  warning  step-verb"), "{said}");
    assert_eq!(folder.run(&["publish"]).status.code(), Some(0));
}

#[test]
fn a_handbook_that_keeps_the_rules_passes_strictly_and_adds_words_of_its_own() {
    let folder = sound();
    folder.put(
        "content/rules.toml",
        "verbs = [\"marvel\"]\npressure = [\"marvel at\"]\n",
    );
    folder.put("content/fit/fill.md", SOUND.replace("Rack", "Marvel at"));
    let strict = folder.run(&["inspect", "--strict"]);
    assert_eq!(
        strict.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&strict.stderr)
    );
    folder.put(
        "content/fit/lift.md",
        SOUND
            .replace("order = 20", "order = 30")
            .replace("> **WARNING** ", "")
            .replace("Rack", "Marvel at")
            .replace("Open", "Shut"),
    );
    let codes: Vec<_> = errors(&folder.build())
        .into_iter()
        .map(|found| found.0)
        .collect();
    assert_eq!(codes, ["no-hazard-before"]);
}

#[test]
fn a_code_is_explained_on_the_command_line() {
    let folder = Folder::new();
    let said = folder.run(&["why", "typed-quantity"]);
    assert_eq!(said.status.code(), Some(0));
    assert!(String::from_utf8_lossy(&said.stdout).contains("not so:"));
    assert_eq!(
        folder.run(&["why", "typed-quantities"]).status.code(),
        Some(2)
    );
}
