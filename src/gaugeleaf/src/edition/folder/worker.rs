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
use crate::values::hash::{short_hash, small_mark};

/// At the site's root: a browser lets a worker answer for what lies beneath it.
pub const WORKER: &str = "worker.js";

/// What a phone needn't hold: no page reads it, and it is for programs on a desk. The ledger's pages
/// are held; its file for programs alone weighs as much as a third of all pages.
const NOT_HELD: [&str; 2] = ["ledger.json", "schemas/"];

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
        "mark": short_hash(all.as_bytes()),
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
