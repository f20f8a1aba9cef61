//! What a phone holds of a published site: the worker's list, held to the disk.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use gaugeleaf::values::hash::small_mark;
use serde_json::Value;
use walkdir::WalkDir;

use crate::support::*;

/// What a worker says that it holds.
fn said(site: &Path) -> Value {
    let script = fs::read_to_string(site.join("worker.js")).expect("a worker");
    let (said, _) = script.split_once(";\n").expect("its list comes first");
    let said = said.strip_prefix("self.gaugeleafHeld=").expect("its list");
    serde_json::from_str(said).expect("JSON")
}

fn listed(site: &Path) -> BTreeMap<String, String> {
    serde_json::from_value(said(site)["files"].clone()).expect("paths and marks")
}

/// The published demonstration, with files put in place of its own.
fn demonstration(own: &[(&str, String)]) -> Folder {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let folder = Folder(tempfile::tempdir().expect("a folder"));
    let head = fs::read_to_string(root.join("handbook.toml")).expect("its settings");
    folder.put("handbook.toml", head);
    for entry in WalkDir::new(root.join("content")) {
        let entry = entry.expect("an entry");
        if entry.file_type().is_file() {
            let path = entry.path().strip_prefix(&root).expect("inside");
            let bytes = fs::read(entry.path()).expect("a file");
            folder.put(&path.to_string_lossy(), bytes);
        }
    }
    for (path, text) in own {
        folder.put(path, text.clone());
    }
    let output = folder.run(&[]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    folder
}

#[test]
fn the_demonstrations_list_is_its_files_on_disk_with_their_marks_and_reaches_every_page() {
    let folder = demonstration(&[]);
    let site = folder.public("");
    let listed = listed(&site);
    let mut found = BTreeMap::new();
    for entry in WalkDir::new(&site) {
        let entry = entry.expect("an entry");
        if entry.file_type().is_file() {
            let path = entry.path().strip_prefix(&site).expect("inside");
            let path = path.to_string_lossy().replace('\\', "/");
            let bytes = fs::read(entry.path()).expect("a file");
            found.insert(path, format!("{}.{}", small_mark(&bytes), bytes.len()));
        }
    }
    let left: BTreeSet<String> = found.keys().cloned().collect();
    let left = left.into_iter().filter(|path| !listed.contains_key(path));
    let left: Vec<String> = left.filter(|path| !path.starts_with("schemas/")).collect();
    assert_eq!(left, ["ledger.json", "manifest.json", "worker.js"]);
    found.retain(|path, _| listed.contains_key(path));
    assert_eq!(listed, found);
    assert!(listed.len() > 300, "{}", listed.len());
    assert!(listed.contains_key("handbook.webmanifest") && listed.contains_key("not-found.html"));
}

#[test]
fn another_text_on_one_page_is_another_edition_in_which_all_else_is_the_same() {
    let page = "content/index.md";
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let text = fs::read_to_string(root.join(page)).expect("the front page");
    let before = demonstration(&[]);
    let again = demonstration(&[]);
    let after = demonstration(&[(page, format!("{text}\nRead it twice.\n"))]);
    let mark = |folder: &Folder| said(&folder.public(""))["mark"].clone();
    assert_eq!(mark(&before), mark(&again));
    assert_ne!(mark(&before), mark(&after));
    let (before, after) = (listed(&before.public("")), listed(&after.public("")));
    let differs = after
        .iter()
        .filter(|(path, mark)| before.get(*path) != Some(*mark));
    let differs: Vec<&String> = differs.map(|(path, _)| path).collect();
    assert!(differs.len() < 12, "{differs:?}");
    assert!(differs.iter().any(|path| path.ends_with("index.html")));
}
