//! The first stage, and the only one that reads the disk: a folder becomes a
//! [`HandbookFiles`], a plain map of paths to contents.
//!
//! Nothing is understood here beyond "is it a file we know, and is it text";
//! what can't be read is a finding and left out.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use gaugeleaf_calc::defined;
use gaugeleaf_calc::finding::{Code, Finding, Level};
use rayon::prelude::*;

use crate::handbook::places::EQUIPMENT;
use crate::handbook::walk::LARGEST;
use crate::handbook::{folders, walk};

/// Everything a handbook's folder holds that concerns us, by path inside it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct HandbookFiles {
    /// `handbook.toml`, pages, phases, catalog files and themes, without a byte order mark.
    pub texts: BTreeMap<String, String>,
    /// Pictures, and whatever else a theme brings.
    pub bytes: BTreeMap<String, Vec<u8>>,
}

impl HandbookFiles {
    /// The texts under a folder, as (path, text).
    pub fn texts_under<'h>(&'h self, folder: &'h str) -> impl Iterator<Item = (&'h str, &'h str)> {
        self.texts
            .iter()
            .filter(move |(path, _)| path.starts_with(folder))
            .map(|(path, text)| (path.as_str(), text.as_str()))
    }
}

/// Reads a handbook's folder.
pub fn read(root: &Path) -> (HandbookFiles, Vec<Finding>) {
    let mut files = HandbookFiles::default();
    let mut findings = Vec::new();
    if !root.is_dir() {
        findings.push(no_folder(root));
        return (files, findings);
    }
    findings.extend(folders::near_misses(root));
    let found = walk::files(root, &mut findings).into_par_iter();
    let read = found.map(|found| (std::fs::read(&found.at), found));
    for (bytes, found) in read.collect::<Vec<_>>() {
        let bytes = match bytes {
            Ok(bytes) => bytes,
            Err(error) => {
                findings.push(walk::unreadable(&found.path, &error));
                continue;
            }
        };
        if found.is_text {
            match text(&found.path, bytes, &mut findings) {
                Some(text) => files.texts.insert(found.path, text),
                None => continue,
            };
        } else {
            files.bytes.insert(found.path, bytes);
        }
    }
    for finding in findings.iter_mut().filter(|one| one.level == Level::Error) {
        finding.ties.breaks.extend(lost(&finding.file));
    }
    if !files.texts.contains_key("handbook.toml")
        && !findings
            .iter()
            .any(|finding| finding.file == "handbook.toml")
    {
        findings.push(
            Finding::error(Code::NoHandbook, "handbook.toml", 0..0, "there is no handbook.toml in this folder")
                .help("go to the handbook's folder, name it after the command, or write handbook.toml with a title"),
        );
    }
    (files, findings)
}

/// The folder's files after these were written anew; none where more than that may have happened, and
/// the folder has to be read again.
pub fn read_again(
    root: &Path,
    known: &HandbookFiles,
    changed: &BTreeSet<String>,
) -> Option<HandbookFiles> {
    let mut files = known.clone();
    for path in changed {
        let at = root.join(path);
        let data = at.symlink_metadata().ok()?;
        if !data.is_file() || data.len() > LARGEST {
            return None;
        }
        let bytes = std::fs::read(&at).ok()?;
        if let Some(held) = files.texts.get_mut(path) {
            *held = text(path, bytes, &mut Vec::new())?;
        } else {
            *files.bytes.get_mut(path)? = bytes;
        }
    }
    Some(files)
}

/// What nobody finds where a file can't be read: the file, and what the catalog calls by its name.
fn lost(path: &str) -> Vec<String> {
    let name = path
        .strip_prefix("calculators/")
        .or_else(|| path.strip_prefix(EQUIPMENT))
        .and_then(|path| path.rsplit('/').next()?.strip_suffix(".toml"));
    let name = name.map(str::to_string);
    std::iter::once(path.to_string()).chain(name).collect()
}

fn no_folder(root: &Path) -> Finding {
    let named = root.display();
    let (message, help) = if root.exists() {
        (
            format!("{named} is a file, and a handbook is a folder"),
            "name the folder that holds handbook.toml",
        )
    } else {
        (
            format!("there is no folder {named}"),
            "check how the folder is spelt, and from where it is reached",
        )
    };
    Finding::error(Code::NoHandbook, "handbook.toml", 0..0, message).help(help)
}

/// A file's text; a byte order mark is dropped, bytes that aren't UTF-8 are a finding.
fn text(path: &str, bytes: Vec<u8>, findings: &mut Vec<Finding>) -> Option<String> {
    match String::from_utf8(bytes) {
        Ok(text) => Some(match text.strip_prefix('\u{FEFF}') {
            Some(rest) => rest.to_string(),
            None => text,
        }),
        Err(error) => {
            let good = error.utf8_error().valid_up_to();
            let bytes = error.as_bytes();
            let line = bytes[..good].iter().filter(|byte| **byte == b'\n').count() + 1;
            let byte = bytes.get(good).copied().unwrap_or_default();
            findings.push(
                Finding::error(
                    Code::NotUtf8,
                    path,
                    0..0,
                    format!("this file isn't UTF-8 text: line {line} holds the byte {byte:#04x}"),
                )
                .help("save the file as UTF-8")
                .breaks(
                    defined(&String::from_utf8_lossy(bytes))
                        .into_iter()
                        .filter(|_| path.starts_with("calculators/") || path.starts_with(EQUIPMENT))
                        .map(|thing| thing.name),
                ),
            );
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_byte_order_mark_is_dropped_and_wrong_bytes_are_named_with_their_line() {
        let mut findings = Vec::new();
        assert_eq!(
            text("a.md", b"\xEF\xBB\xBF# A".to_vec(), &mut findings).as_deref(),
            Some("# A")
        );
        assert_eq!(text("a.md", b"ok\nb\xFFd".to_vec(), &mut findings), None);
        assert_eq!(
            findings[0].message,
            "this file isn't UTF-8 text: line 2 holds the byte 0xff"
        );
    }

    #[test]
    fn files_written_anew_are_read_again_and_whatever_else_came_to_pass_asks_for_the_folder() {
        let folder = tempfile::tempdir().expect("a folder");
        let root = folder.path();
        let put = |path: &str, bytes: &[u8]| std::fs::write(root.join(path), bytes).expect("there");
        std::fs::create_dir(root.join("content")).expect("made");
        put("handbook.toml", b"title = \"A\"");
        put("content/index.md", b"# A");
        put("content/dot.gif", b"GIF89a");
        let (known, findings) = read(root);
        assert_eq!(findings, []);
        let again = |paths: &[&str]| {
            let paths = paths.iter().map(|path| (*path).to_string());
            read_again(root, &known, &paths.collect())
        };
        put("content/index.md", b"\xEF\xBB\xBF# B");
        put("content/dot.gif", b"GIF87a");
        let whole = again(&["content/index.md", "content/dot.gif"]);
        assert_eq!(whole, Some(read(root).0));
        put("content/new.md", b"# New");
        assert_eq!(again(&["content/new.md"]), None);
        put("content/index.md", b"\xFF");
        assert_eq!(again(&["content/index.md"]), None);
        put("content/dot.gif", &vec![0; LARGEST as usize + 1]);
        assert_eq!(again(&["content/dot.gif"]), None);
        std::fs::remove_file(root.join("content/dot.gif")).expect("removed");
        assert_eq!(again(&["content/dot.gif"]), None);
    }
}
