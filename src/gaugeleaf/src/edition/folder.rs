//! The last stage, and the only one that writes: all of a site or nothing of it.
//!
//! Everything goes to a folder beside the target first, file by file as each is made; two renames
//! then put it in its place. A target that holds anything we didn't write is left alone.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path, PathBuf};
use std::sync::{Mutex, MutexGuard, OnceLock, PoisonError};
use std::{fs, io};

use serde_json::{Value, json};

use crate::render::files::SiteSink;
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

/// The manifest of a site, by its files' hashes.
fn manifest(hashes: &BTreeMap<String, String>) -> Vec<u8> {
    let manifest = json!({ "made_by": "gaugeleaf", "files": hashes });
    let mut text = serde_json::to_vec_pretty(&manifest).unwrap_or_default();
    text.push(b'\n');
    text
}

/// A site on its way to the target: its files are written beside it as they come, from any thread.
/// Dropped unfinished, it leaves nothing; before the first file it makes nothing.
pub struct Staging {
    target: PathBuf,
    beside: OnceLock<Result<StagingFolder, (&'static str, PathBuf, io::ErrorKind)>>,
    state: Mutex<StagingState>,
}

/// The folder beside the target.
struct StagingFolder {
    folder: tempfile::TempDir,
    /// The folders over it that weren't there, the deepest first.
    made: Vec<PathBuf>,
}

#[derive(Default)]
struct StagingState {
    /// Of each file that was written, for the manifest.
    hashes: BTreeMap<String, String>,
    folders: BTreeSet<String>,
    /// The first thing that the disk refused; nothing is written after it.
    refused: Option<Refused>,
}

impl Staging {
    /// Makes ready to write.
    ///
    /// # Errors
    /// The target holds what we didn't write, or can't be read.
    pub fn begin(target: &Path) -> Result<Staging, Refused> {
        let target = match target.canonicalize() {
            Ok(real) => real,
            Err(_) => std::path::absolute(target).map_err(|error| disk("find", target, error))?,
        };
        if target.parent().is_none() || target.file_name().is_none() {
            return Err(Refused::NotOurs(target));
        }
        ours(&target)?;
        Ok(Staging {
            target,
            beside: OnceLock::new(),
            state: Mutex::default(),
        })
    }

    fn state(&self) -> MutexGuard<'_, StagingState> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The site's folder while it is made.
    fn fresh(&self) -> Result<PathBuf, Refused> {
        match self.beside.get_or_init(|| beside(&self.target)) {
            Ok(beside) => Ok(beside.folder.path().join("new")),
            Err((doing, path, kind)) => Err(disk(doing, path, io::Error::from(*kind))),
        }
    }

    fn write(&self, path: &str, bytes: &[u8]) -> Result<(), Refused> {
        let fresh = self.fresh()?;
        let at = fresh.join(path);
        // a handbook with faults is being written too, before they are told
        let inside = |part| matches!(part, Component::Normal(_));
        if !Path::new(path).components().all(inside) {
            return Err(disk("write", &at, io::ErrorKind::InvalidInput.into()));
        }
        let folder = path.rsplit_once('/').map_or("", |(folder, _)| folder);
        if !self.state().folders.contains(folder) {
            let whole = fresh.join(folder);
            fs::create_dir_all(&whole).map_err(|error| disk("make", &whole, error))?;
            self.state().folders.insert(folder.to_string());
        }
        fs::write(&at, bytes).map_err(|error| disk("write", &at, error))
    }

    /// Puts the site in the target's place.
    ///
    /// # Errors
    /// The disk refused, or somebody wrote into the target in the meantime.
    pub fn finish(self) -> Result<(), Refused> {
        let state = std::mem::take(&mut *self.state());
        if let Some(refused) = state.refused {
            return Err(refused);
        }
        self.write(MANIFEST, &manifest(&state.hashes))?;
        ours(&self.target)?;
        let fresh = self.fresh()?;
        let Staging {
            target, mut beside, ..
        } = self;
        let Some(Ok(mut beside)) = beside.take() else {
            return Err(disk("find", &fresh, io::ErrorKind::NotFound.into()));
        };
        let old = beside.folder.path().join("old");
        let was_there = target.exists();
        if was_there {
            fs::rename(&target, &old).map_err(|error| disk("replace", &target, error))?;
        }
        if let Err(error) = fs::rename(&fresh, &target) {
            if was_there && let Err(again) = fs::rename(&old, &target) {
                // the old site must not go with the temporary folder
                beside.folder.disable_cleanup(true);
                return Err(disk(
                    "put back what is kept in",
                    beside.folder.path(),
                    again,
                ));
            }
            return Err(disk("write", &target, error));
        }
        beside.made.clear();
        Ok(())
    }
}

fn beside(target: &Path) -> Result<StagingFolder, (&'static str, PathBuf, io::ErrorKind)> {
    let parent = target.parent().unwrap_or(target);
    let missing = parent.ancestors().take_while(|folder| !folder.exists());
    let made = missing.map(Path::to_path_buf).collect();
    fs::create_dir_all(parent).map_err(|error| ("make", parent.to_path_buf(), error.kind()))?;
    let mut prefix = target.file_name().unwrap_or_default().to_os_string();
    prefix.push(".");
    let folder = tempfile::Builder::new()
        .prefix(&prefix)
        .tempdir_in(parent)
        .map_err(|error| ("make a folder in", parent.to_path_buf(), error.kind()))?;
    Ok(StagingFolder { folder, made })
}

/// What wasn't finished takes the folders with it that were made for it.
impl Drop for StagingFolder {
    fn drop(&mut self) {
        if !self.made.is_empty() {
            let _ = fs::remove_dir_all(self.folder.path());
        }
        for folder in &self.made {
            let _ = fs::remove_dir(folder);
        }
    }
}

impl SiteSink for Staging {
    fn put(&self, path: &str, bytes: Vec<u8>) {
        if self.state().refused.is_some() {
            return;
        }
        let (hash, written) = (hash(&bytes), self.write(path, &bytes));
        let mut state = self.state();
        match written {
            Ok(()) => {
                state.hashes.insert(path.to_string(), hash);
            }
            Err(refused) => {
                state.refused.get_or_insert(refused);
            }
        }
    }
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

    fn write(text: &str, target: &Path) -> Result<(), Refused> {
        let staging = Staging::begin(target)?;
        staging.put("index.html", text.into());
        staging.put("a/b.html", b"b".to_vec());
        staging.finish()
    }

    #[test]
    fn a_second_publish_replaces_the_first_and_leaves_nothing_beside_it() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let target = folder.path().join("public");
        assert!(write("one", &target).is_ok());
        assert!(write("two", &target).is_ok());
        assert_eq!(fs::read_to_string(target.join("index.html"))?, "two");
        assert_eq!(fs::read_dir(folder.path())?.count(), 1);
        Ok(())
    }

    #[test]
    fn a_folder_with_files_of_others_is_left_alone() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        fs::write(folder.path().join("thesis.txt"), "mine")?;
        assert!(matches!(
            write("one", folder.path()),
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
        assert!(write("one", &target).is_ok());
        fs::write(target.join("notes.txt"), "mine")?;
        assert!(matches!(write("two", &target), Err(Refused::NotOurs(_))));
        assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
        Ok(())
    }

    #[test]
    fn the_manifest_lists_every_file_with_its_hash() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let target = folder.path().join("public");
        assert!(write("one", &target).is_ok());
        let text = fs::read_to_string(target.join(MANIFEST))?;
        assert!(
            text.contains(&format!("\"index.html\": \"{}\"", hash(b"one"))),
            "{text}"
        );
        Ok(())
    }

    #[test]
    fn what_is_not_finished_leaves_the_old_site_and_nothing_beside_it() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let target = folder.path().join("public");
        assert!(write("one", &target).is_ok());
        let staging = Staging::begin(&target).expect("our own site");
        staging.put("index.html", b"two".to_vec());
        drop(staging);
        assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
        assert_eq!(fs::read_dir(folder.path())?.count(), 1);
        let staging =
            Staging::begin(&folder.path().join("deep/down/public")).expect("nothing there");
        assert!(!folder.path().join("deep").exists());
        staging.put("index.html", b"two".to_vec());
        assert!(folder.path().join("deep").exists());
        drop(staging);
        assert_eq!(fs::read_dir(folder.path())?.count(), 1);
        Ok(())
    }

    #[test]
    fn what_the_disk_refuses_is_told_at_the_end_and_leaves_the_old_site() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let target = folder.path().join("public");
        assert!(write("one", &target).is_ok());
        let staging = Staging::begin(&target).expect("our own site");
        staging.put("a", b"a file".to_vec());
        staging.put("a/b.html", b"no folder".to_vec());
        staging.put("c.html", b"too late".to_vec());
        assert!(matches!(staging.finish(), Err(Refused::Disk(..))));
        assert_eq!(fs::read_to_string(target.join("index.html"))?, "one");
        assert_eq!(fs::read_dir(folder.path())?.count(), 1);
        Ok(())
    }

    #[test]
    fn nothing_is_written_outside_the_site() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        for path in ["../../out.html", "/out.html", "a/../../../out.html"] {
            let staging = Staging::begin(&folder.path().join("public")).expect("nothing there");
            staging.put(path, b"x".to_vec());
            assert!(matches!(staging.finish(), Err(Refused::Disk(..))), "{path}");
        }
        assert_eq!(fs::read_dir(folder.path())?.count(), 0);
        Ok(())
    }

    #[test]
    fn what_comes_into_the_target_while_a_site_is_made_is_not_lost() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let target = folder.path().join("public");
        let staging = Staging::begin(&target).expect("nothing there");
        staging.put("index.html", b"one".to_vec());
        fs::create_dir(&target)?;
        fs::write(target.join("thesis.txt"), "mine")?;
        assert!(matches!(staging.finish(), Err(Refused::NotOurs(_))));
        assert_eq!(fs::read_to_string(target.join("thesis.txt"))?, "mine");
        Ok(())
    }
}
