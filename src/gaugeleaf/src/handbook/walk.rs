//! Which files of a folder belong to the handbook.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use gaugeleaf_calc::finding::{Code, Finding};
use walkdir::{DirEntry, WalkDir};

use crate::handbook::offered;
use crate::handbook::places::{EQUIPMENT, HISTORY_FILE, RULES_FILE, WORDS_FILE};

/// Pictures that a page may show.
const PICTURES: [&str; 6] = ["svg", "png", "jpg", "jpeg", "webp", "gif"];

/// Bytes that a single file may have.
pub const LARGEST: u64 = 4 * 1024 * 1024;

/// The same for a file that a page offers, which nobody has to load to read the page.
pub const LARGEST_OFFERED: u64 = 16 * 1024 * 1024;

/// And the handbook's issues: each adds the pages that it changes.
const LARGEST_HISTORY: u64 = 64 * 1024 * 1024;

/// A file to read.
pub struct FileToRead {
    /// Its path inside the handbook, with forward slashes.
    pub path: String,
    /// Where it is on disk.
    pub at: PathBuf,
    pub is_text: bool,
}

/// The handbook's files in the order of their paths.
pub fn files(root: &Path, findings: &mut Vec<Finding>) -> Vec<FileToRead> {
    let Ok(real_root) = root.canonicalize() else {
        return Vec::new();
    };
    let mut found = Vec::new();
    let history = root.join(HISTORY_FILE);
    // as good as none, it would have every card of the yard unknown
    if history.symlink_metadata().is_ok() && !history.is_file() {
        let message = "this is no file, or a link to none";
        let fault = Finding::error(Code::BadHistory, HISTORY_FILE, 0..0, message);
        findings.push(fault.help("put the file back as it was last committed"));
    }
    for start in starts(root) {
        let start = root.join(start);
        let real_start = start.canonicalize();
        // what is no link itself lies where it seems to, and asking the system for each costs more
        // than all else here
        let real = |entry: &DirEntry| match (&real_start, entry.path().strip_prefix(&start)) {
            (Ok(real), Ok(rest)) if entry.depth() > 0 && !entry.path_is_symlink() => {
                Ok(real.join(rest))
            }
            _ => entry.path().canonicalize(),
        };
        let walk = WalkDir::new(&start).sort_by_file_name().into_iter();
        for entry in walk.filter_entry(|entry| entry.depth() == 0 || !hidden(entry.path())) {
            match entry {
                Ok(entry) if entry.file_type().is_dir() => {}
                Ok(entry) => {
                    let path = inside(root, entry.path());
                    let file = path.and_then(|path| file(path, &real_root, real(&entry), findings));
                    found.extend(file);
                }
                Err(error) => {
                    // a part that isn't there is no fault: a handbook needn't have its own themes
                    if error
                        .io_error()
                        .is_some_and(|e| e.kind() == std::io::ErrorKind::NotFound)
                    {
                        continue;
                    }
                    let path = error
                        .path()
                        .and_then(|at| inside(root, at))
                        .unwrap_or_default();
                    let message = format!("this folder can't be read: {error}");
                    findings.push(Finding::error(Code::Unreadable, &path, 0..0, message));
                }
            }
        }
    }
    found
}

/// Where a handbook's files start. Where `calculators/` is also the crate that
/// computes, only its catalog belongs to the handbook.
pub fn starts(root: &Path) -> [&'static str; 5] {
    let crate_too = root.join("calculators/Cargo.toml").is_file();
    let calculators = if crate_too {
        "calculators/catalog"
    } else {
        "calculators"
    };
    [
        calculators,
        "content",
        "handbook.toml",
        HISTORY_FILE,
        "themes",
    ]
}

fn hidden(path: &Path) -> bool {
    path.file_name()
        .is_some_and(|name| name.as_encoded_bytes().starts_with(b"."))
}

/// A path on disk as one inside the handbook, with forward slashes.
pub fn inside(root: &Path, at: &Path) -> Option<String> {
    let rest = at.strip_prefix(root).ok()?;
    let parts: Vec<_> = rest
        .components()
        .map(|part| part.as_os_str().to_string_lossy())
        .collect();
    Some(parts.join("/"))
}

/// A file by its path inside the handbook, and where it really is.
fn file(
    path: String,
    real_root: &Path,
    real: io::Result<PathBuf>,
    findings: &mut Vec<Finding>,
) -> Option<FileToRead> {
    let real = match real {
        Ok(real) => real,
        Err(error) => {
            findings.push(unreadable(&path, &error));
            return None;
        }
    };
    if !real.starts_with(real_root) {
        findings.push(
            Finding::error(
                Code::LeavesTheFolder,
                &path,
                0..0,
                "this link leads out of the handbook's folder",
            )
            .help("copy the file into the handbook"),
        );
        return None;
    }
    let size = match real.metadata() {
        Ok(data) if data.is_dir() => {
            findings.push(
                Finding::error(
                    Code::LinkedFolder,
                    &path,
                    0..0,
                    "this is a link to a folder, which isn't followed",
                )
                .help("copy the folder here"),
            );
            return None;
        }
        // they would be waited for
        Ok(data) if !data.is_file() => {
            let error = io::Error::other("it is a pipe, a socket or a device");
            findings.push(unreadable(&path, &error).help("take it out of the handbook's folder"));
            return None;
        }
        Ok(data) => data.len(),
        Err(error) => {
            findings.push(unreadable(&path, &error));
            return None;
        }
    };
    let is_text = kind(&path, findings)?;
    let most = if path == HISTORY_FILE {
        LARGEST_HISTORY
    } else if offered::called(&path).is_some() {
        LARGEST_OFFERED
    } else {
        LARGEST
    };
    if size > most {
        findings.push(
            Finding::error(
                Code::TooLarge,
                &path,
                0..0,
                format!("this file has {size} bytes, more than {most}"),
            )
            .help("split the page, or make the file smaller"),
        );
        return None;
    }
    Some(FileToRead {
        path,
        at: real,
        is_text,
    })
}

/// Whether a path is text for us; none for files that aren't the handbook's.
fn kind(path: &str, findings: &mut Vec<Finding>) -> Option<bool> {
    let name = path.rsplit('/').next().unwrap_or(path);
    let ending = name
        .rsplit_once('.')
        .map_or("", |(_, ending)| ending)
        .to_ascii_lowercase();
    let wrong = |help: &str| {
        let message = format!("nothing is made from `{name}`");
        let folder = path.rsplit_once('/').map(|(folder, _)| folder);
        let unused = Finding::warning(Code::UnusedFile, path, 0..0, message);
        Some(unused.follows(folder).help(help))
    };
    let finding = match path.split('/').next() {
        Some("handbook.toml" | HISTORY_FILE) => return Some(true),
        Some("content") if name.ends_with(".md") || name == "phase.toml" => return Some(true),
        Some("content") if path.starts_with(EQUIPMENT) && name.ends_with(".toml") => {
            return Some(true);
        }
        Some("content") if path.starts_with(EQUIPMENT) && ending == "toml" => {
            wrong("a kit ends in .toml, in small letters")
        }
        Some("content") if [RULES_FILE, WORDS_FILE].contains(&path) => return Some(true),
        Some("content") if PICTURES.contains(&ending.as_str()) => return Some(false),
        Some("content") if offered::called(name).is_some() => return Some(false),
        Some("content") => wrong(&format!(
            "a page ends in .md, a picture in .svg, .png, .jpg, .webp or .gif, a file to offer in {}",
            offered::endings()
        )),
        Some("calculators") if name.ends_with(".toml") || name.ends_with(".svg") => {
            return Some(true);
        }
        Some("calculators") => wrong("a calculator ends in .toml, its figure in .svg"),
        Some("themes") if ["html", "css", "js"].contains(&ending.as_str()) => return Some(true),
        Some("themes") => return Some(false),
        _ => None,
    };
    findings.extend(finding);
    None
}

/// When a file last changed, and its size.
pub type FileStamp = (Option<SystemTime>, u64);

/// The stamp of each of the handbook's files by its path inside the handbook; the preview
/// compares two of these. Folders have none: their times change with files that aren't ours.
pub fn stamps(root: &Path) -> BTreeMap<String, FileStamp> {
    let mut stamps = BTreeMap::new();
    for start in starts(root) {
        for entry in WalkDir::new(root.join(start))
            .into_iter()
            .filter_entry(|entry| entry.depth() == 0 || !hidden(entry.path()))
            .flatten()
            .filter(|entry| !entry.file_type().is_dir())
        {
            if let Some(path) = inside(root, entry.path()) {
                stamps.insert(path, stamp(entry.path()).unwrap_or_default());
            }
        }
    }
    stamps
}

/// The stamp of one file; none where there is no file.
pub fn stamp(at: &Path) -> Option<FileStamp> {
    let data = std::fs::metadata(at).ok()?;
    Some((data.modified().ok(), data.len()))
}

pub fn unreadable(path: &str, error: &std::io::Error) -> Finding {
    Finding::error(
        Code::Unreadable,
        path,
        0..0,
        format!("this file can't be read: {error}"),
    )
    .help("check the file's permissions")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_are_text_pictures_are_bytes_and_the_rest_is_a_warning() {
        let mut findings = Vec::new();
        assert_eq!(kind("content/fit/a.md", &mut findings), Some(true));
        assert_eq!(kind("content/fit/a.PNG", &mut findings), Some(false));
        assert_eq!(kind("content/fit/a.pdf", &mut findings), Some(false));
        assert!(findings.is_empty());
        let unused = [
            "content/fit/a.key",
            "content/equipment/a.TOML",
            "calculators/a.TOML",
        ];
        for path in unused {
            assert_eq!(kind(path, &mut findings), None, "{path}");
        }
        let codes: Vec<&str> = findings.iter().map(|one| one.code.name()).collect();
        assert_eq!(codes, ["unused-file"; 3]);
    }
}
