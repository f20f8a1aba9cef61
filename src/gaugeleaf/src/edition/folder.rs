//! The last stage, and the only one that writes: all of a site or nothing of it.
//!
//! Everything goes to a folder beside the target first; two renames then put it in
//! its place. A target that holds anything we didn't write is left alone.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::{fs, io};

use serde_json::{Value, json};

use crate::render::files::SiteFiles;
use crate::values::hash::hash;

/// Lists every file of a published site with its hash; also the mark that a folder is ours.
pub const MANIFEST: &str = "manifest.json";

/// Why a site wasn't written. The target is as it was.
#[derive(Debug)]
pub enum Refused {
    /// The target holds this, and we didn't write it.
    NotOurs(PathBuf),
    /// The disk said no, while doing this to that.
    Disk(&'static str, PathBuf, io::Error),
}

impl std::fmt::Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self {
            Refused::NotOurs(path) => write!(
                f,
                "{} wasn't written by gaugeleaf and would be lost: move it away, or publish elsewhere with --to",
                path.display()
            ),
            Refused::Disk(doing, path, error) => {
                write!(f, "can't {doing} {}: {error}", path.display())
            }
        }
    }
}

/// The manifest of a site.
pub fn manifest(site: &SiteFiles) -> Vec<u8> {
    let files: serde_json::Map<String, Value> = site
        .iter()
        .map(|(path, bytes)| (path.clone(), Value::from(hash(bytes))))
        .collect();
    let manifest = json!({ "made_by": "gaugeleaf", "files": files });
    let mut text = serde_json::to_vec_pretty(&manifest).unwrap_or_default();
    text.push(b'\n');
    text
}

/// Puts the site in the target's place.
pub fn write(site: &SiteFiles, target: &Path) -> Result<(), Refused> {
    let target = match target.canonicalize() {
        Ok(real) => real,
        Err(_) => std::path::absolute(target).map_err(|error| disk("find", target, error))?,
    };
    let (Some(parent), Some(name)) = (target.parent(), target.file_name()) else {
        return Err(Refused::NotOurs(target));
    };
    ours(&target)?;
    fs::create_dir_all(parent).map_err(|error| disk("make", parent, error))?;
    let mut prefix = name.to_os_string();
    prefix.push(".");
    let beside = tempfile::Builder::new()
        .prefix(&prefix)
        .tempdir_in(parent)
        .map_err(|error| disk("make a folder in", parent, error))?;
    let fresh = beside.path().join("new");
    for (path, bytes) in site
        .iter()
        .chain([(&MANIFEST.to_string(), &manifest(site))])
    {
        let at = fresh.join(path);
        if let Some(folder) = at.parent() {
            fs::create_dir_all(folder).map_err(|error| disk("make", folder, error))?;
        }
        fs::write(&at, bytes).map_err(|error| disk("write", &at, error))?;
    }
    let old = beside.path().join("old");
    let was_there = target.exists();
    if was_there {
        fs::rename(&target, &old).map_err(|error| disk("replace", &target, error))?;
    }
    if let Err(error) = fs::rename(&fresh, &target) {
        if was_there && let Err(again) = fs::rename(&old, &target) {
            // the old site must not go with the temporary folder
            let kept = beside.keep();
            return Err(disk("put back what is kept in", &kept, again));
        }
        return Err(disk("write", &target, error));
    }
    Ok(())
}

fn disk(doing: &'static str, path: &Path, error: io::Error) -> Refused {
    Refused::Disk(doing, path.to_path_buf(), error)
}

/// Refuses a target with anything in it that our manifest doesn't list.
fn ours(target: &Path) -> Result<(), Refused> {
    if !target.exists() {
        return Ok(());
    }
    if !target.is_dir() {
        return Err(Refused::NotOurs(target.to_path_buf()));
    }
    let listed = listed(target);
    for entry in walkdir::WalkDir::new(target)
        .min_depth(1)
        .sort_by_file_name()
    {
        let entry = entry.map_err(|error| disk("read", target, error.into()))?;
        let inside = entry.path().strip_prefix(target).unwrap_or(entry.path());
        let name = inside.to_string_lossy().replace('\\', "/");
        let known =
            name == MANIFEST || listed.as_ref().is_some_and(|listed| listed.contains(&name));
        if listed.is_none() || !(known || entry.file_type().is_dir()) {
            return Err(Refused::NotOurs(entry.into_path()));
        }
    }
    Ok(())
}

/// The files that a target's manifest lists; none where there is no manifest of ours.
fn listed(target: &Path) -> Option<BTreeSet<String>> {
    let text = fs::read(target.join(MANIFEST)).ok()?;
    let manifest: Value = serde_json::from_slice(&text).ok()?;
    (manifest.get("made_by")? == "gaugeleaf").then_some(())?;
    Some(
        manifest
            .get("files")?
            .as_object()?
            .keys()
            .cloned()
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site(text: &str) -> SiteFiles {
        SiteFiles::from([
            ("index.html".to_string(), text.into()),
            ("a/b.html".to_string(), b"b".to_vec()),
        ])
    }

    #[test]
    fn a_second_publish_replaces_the_first_and_leaves_nothing_beside_it() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let target = folder.path().join("public");
        assert!(write(&site("one"), &target).is_ok());
        assert!(write(&site("two"), &target).is_ok());
        assert_eq!(fs::read_to_string(target.join("index.html"))?, "two");
        assert_eq!(fs::read_dir(folder.path())?.count(), 1);
        Ok(())
    }

    #[test]
    fn a_folder_with_files_of_others_is_left_alone() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        fs::write(folder.path().join("thesis.txt"), "mine")?;
        assert!(matches!(
            write(&site("one"), folder.path()),
            Err(Refused::NotOurs(_))
        ));
        assert_eq!(
            fs::read_to_string(folder.path().join("thesis.txt"))?,
            "mine"
        );
        Ok(())
    }

    #[test]
    fn a_file_added_to_a_published_site_stops_the_next_publish() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let target = folder.path().join("public");
        assert!(write(&site("one"), &target).is_ok());
        fs::write(target.join("notes.txt"), "mine")?;
        assert!(matches!(
            write(&site("two"), &target),
            Err(Refused::NotOurs(_))
        ));
        assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
        Ok(())
    }

    #[test]
    fn the_manifest_lists_every_file_with_its_hash() {
        let text = String::from_utf8(manifest(&site("one"))).unwrap_or_default();
        assert!(
            text.contains(&format!("\"index.html\": \"{}\"", hash(b"one"))),
            "{text}"
        );
    }
}
