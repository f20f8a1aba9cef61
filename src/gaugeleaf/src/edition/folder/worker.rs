//! What holds a published site on a phone: a worker that knows every file by its mark.
//!
//! It is written last, from what was written, so that it can name no file that isn't there.

use std::collections::BTreeMap;
use std::io;
use std::path::Path;

use serde_json::json;
use walkdir::WalkDir;

use super::refused::Refused;
use crate::session::Worker;
use crate::values::hash::{hash, small_mark};

/// At the site's root: a browser lets a worker answer for what lies beneath it.
pub const WORKER: &str = "worker.js";

/// What a phone needn't hold: no page reads it, and it is for programs on a desk. The ledger's pages
/// are held; its file for programs is a seventh of the demonstration's bytes.
const NOT_HELD: [&str; 2] = ["ledger.json", "schemas/"];

/// Letters of what an edition is called on a phone; people are shown the first eight.
const NAME: usize = 16;

/// A file as the worker knows it.
pub struct HeldFile {
    mark: String,
    length: u64,
}

impl HeldFile {
    pub fn of(bytes: &[u8]) -> HeldFile {
        HeldFile {
            mark: small_mark(bytes),
            length: bytes.len() as u64,
        }
    }
}

/// The worker, with what it holds. What it is called by hangs on every byte of that, by the marks of the
/// manifest.
pub fn script(
    worker: &Worker,
    files: &BTreeMap<String, HeldFile>,
    marks: &BTreeMap<String, String>,
) -> Vec<u8> {
    let held = || files.iter().filter(|(path, _)| is_held(path));
    let all: String = held()
        .map(|(path, _)| format!("{path} {}\n", marks.get(path).map_or("", String::as_str)))
        .collect();
    let length: u64 = held().map(|(_, file)| file.length).sum();
    let list: BTreeMap<&String, String> = held()
        .map(|(path, file)| (path, format!("{}.{}", file.mark, file.length)))
        .collect();
    let said = json!({
        "id": worker.id,
        "revision": worker.revision,
        "mark": hash(all.as_bytes()).get(..NAME),
        "size": megabytes(length),
        "files": list,
    });
    let says = format!("self.gaugeleafHeld={said};\n");
    [says.as_bytes(), &worker.script].concat()
}

/// Holds the list to the disk: every file, and as long as it is listed.
///
/// # Errors
/// What is there and isn't listed, is listed and isn't there, or is of another length.
pub fn proved(folder: &Path, files: &BTreeMap<String, HeldFile>) -> Result<(), Refused> {
    let wrong = |at: &Path, why: &str| Err(Refused::disk("prove", at, io::Error::other(why)));
    let mut found = 0;
    for entry in WalkDir::new(folder).min_depth(1) {
        let entry = entry.map_err(|error| Refused::disk("read", folder, error.into()))?;
        if entry.file_type().is_dir() {
            continue;
        }
        let inside = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        let name = inside.to_string_lossy().replace('\\', "/");
        let Some(file) = files.get(&name) else {
            return wrong(entry.path(), "it was not written by this publish");
        };
        let data = entry.metadata();
        let data = data.map_err(|error| Refused::disk("read", entry.path(), error.into()))?;
        if data.len() != file.length {
            return wrong(entry.path(), "it is not as long as it was written");
        }
        found += 1;
    }
    match found == files.len() {
        true => Ok(()),
        false => wrong(folder, "a file that was written is not there"),
    }
}

fn is_held(path: &str) -> bool {
    !NOT_HELD.iter().any(|start| path.starts_with(start))
}

/// As people say what a phone has room for; rounded up.
fn megabytes(length: u64) -> String {
    let tenths = length.div_ceil(100_000);
    format!("{}.{}\u{a0}MB", tenths / 10, tenths % 10)
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::values::hash::mark;

    type Texts = [(&'static str, &'static str)];

    const SITE: &Texts = &[
        ("fit/a b.html", "a"),
        ("index.html", "abc"),
        ("ledger.json", "{}"),
        ("schemas/page.json", "{}"),
    ];

    fn held(files: &Texts) -> BTreeMap<String, HeldFile> {
        let held = files.iter();
        held.map(|(path, text)| (path.to_string(), HeldFile::of(text.as_bytes())))
            .collect()
    }

    fn said(files: &Texts) -> serde_json::Value {
        let marks = files.iter();
        let marks = marks.map(|(path, text)| (path.to_string(), mark(text.as_bytes())));
        let worker = Worker {
            script: b"f();".to_vec(),
            id: "yard".to_string(),
            revision: "3".to_string(),
        };
        let script = script(&worker, &held(files), &marks.collect());
        let script = String::from_utf8(script).expect("UTF-8");
        let said = script.strip_prefix("self.gaugeleafHeld=");
        let said = said.and_then(|said| said.strip_suffix(";\nf();"));
        serde_json::from_str(said.expect("the list, then the script")).expect("JSON")
    }

    #[test]
    fn the_worker_lists_what_a_reader_may_open_with_its_mark_and_its_length() {
        let said = said(SITE);
        let list = json!({ "fit/a b.html": "550d7456.1", "index.html": "32d153ff.3" });
        assert_eq!(said["files"], list);
        assert_eq!(said["size"], "0.1\u{a0}MB");
        assert_eq!(
            (&said["id"], &said["revision"]),
            (&json!("yard"), &json!("3"))
        );
    }

    #[test]
    fn one_letter_of_one_page_is_another_edition_and_a_file_for_machines_is_none() {
        let before = said(SITE)["mark"].clone();
        assert_eq!(said(SITE)["mark"], before);
        let page = [&[("fit/a b.html", "b")], &SITE[1..]].concat();
        assert_ne!(said(&page)["mark"], before);
        let moved = [&[("fit/c.html", "a")], &SITE[1..]].concat();
        assert_ne!(said(&moved)["mark"], before);
        let machines = [&SITE[..2], &[("ledger.json", "[]")]].concat();
        assert_eq!(said(&machines)["mark"], before);
    }

    #[test]
    fn a_list_that_is_not_what_lies_on_the_disk_is_refused() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir(folder.path().join("fit")).expect("a folder made");
        let files = &SITE[..2];
        let write = |path: &str, text: &str| fs::write(folder.path().join(path), text);
        for (path, text) in files {
            write(path, text).expect("written");
        }
        let proved = |files| proved(folder.path(), &held(files)).map_err(|no| no.to_string());
        assert_eq!(proved(files), Ok(()));
        let more = proved(&SITE[..3]).expect_err("listed and not there");
        assert!(
            more.contains("a file that was written is not there"),
            "{more}"
        );
        let fewer = proved(&SITE[1..2]).expect_err("there and not listed");
        assert!(
            fewer.contains("it was not written by this publish"),
            "{fewer}"
        );
        write("index.html", "ab").expect("written");
        let shorter = proved(files).expect_err("cut off");
        assert!(
            shorter.contains("it is not as long as it was written"),
            "{shorter}"
        );
    }
}
