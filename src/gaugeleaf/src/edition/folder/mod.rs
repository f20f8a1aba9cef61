//! The last stage, and the only one that writes: all of a site or nothing of it.
//!
//! Everything goes to a folder beside the target first, file by file as each is made; one step then
//! puts it in its place. A target that holds anything we didn't write is left alone.

mod exchange;
mod files;
mod manifest;
mod refused;
mod signals;
mod staging;
mod target;
mod worker;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::{fs, io};

use crate::render::files::SiteSink;
use crate::session::Worker;
use crate::values::hash::mark;

use manifest::{MANIFEST, SiteManifest};
use staging::StagingFolder;
use worker::{HeldFile, WORKER};

pub use refused::Refused;

/// A site on its way to the target: its files are written beside it as they come, from any thread.
/// Dropped unfinished, it leaves nothing.
pub struct Staging {
    target: PathBuf,
    /// It lies in the handbook's folder, and so is this handbook's, whatever it was called.
    own: bool,
    folder: Arc<StagingFolder>,
    state: Mutex<StagingState>,
}

#[derive(Default)]
struct StagingState {
    /// Of each file that was written, for the manifest.
    marks: BTreeMap<String, String>,
    /// Of each, for the worker.
    held: BTreeMap<String, HeldFile>,
    folders: BTreeSet<String>,
    /// The first thing that the disk refused; nothing is written after it.
    refused: Option<Refused>,
}

impl Staging {
    /// Makes ready to write, after whoever else is publishing to the same target, which is told.
    ///
    /// # Errors
    /// The target holds what we didn't write, belongs to the handbook, or can't be read.
    pub fn begin(target: &Path, handbook: &Path, waits: &dyn Fn()) -> Result<Staging, Refused> {
        let target = target::find(target, handbook)?;
        let own = target.starts_with(target::real(handbook)?);
        let folder = StagingFolder::claim(&target, waits).or_else(|refused| {
            // beside what isn't ours there may be no room for us either
            target::ours(&target)?;
            Err(refused)
        })?;
        let staging = Staging {
            target,
            own,
            folder: Arc::new(folder),
            state: Mutex::default(),
        };
        // only now does no other publish change what is there
        target::ours(&staging.target)?;
        Ok(staging)
    }

    /// Leaves nothing either when the system asks the program to end: Ctrl+C, a terminal that closes.
    ///
    /// # Errors
    /// The system says no.
    pub fn clear_on_signal(&self) -> io::Result<()> {
        signals::clear_on_signal(Arc::clone(&self.folder))
    }

    fn state(&self) -> MutexGuard<'_, StagingState> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn write(&self, path: &str, bytes: &[u8]) -> Result<(), Refused> {
        let fresh = self.folder.fresh();
        let at = fresh.join(path);
        // a handbook with faults is being written too, before they are told
        let inside = |part| matches!(part, Component::Normal(_));
        if !Path::new(path).components().all(inside) {
            let error = io::ErrorKind::InvalidInput.into();
            return Err(Refused::disk("write", &at, error));
        }
        let folder = path.rsplit_once('/').map_or("", |(folder, _)| folder);
        if !self.state().folders.contains(folder) {
            let whole = fresh.join(folder);
            let made = self.folder.work(|| fs::create_dir_all(&whole));
            made.map_err(|error| Refused::disk("make", &whole, error))?;
            self.state().folders.insert(folder.to_string());
        }
        let written = self.folder.work(|| fs::write(&at, bytes));
        written.map_err(|error| Refused::disk("write", &at, error))
    }

    /// Puts the site of the handbook with this title in the target's place. Where it says so, a site that
    /// somebody changed, or another handbook's, is replaced too.
    ///
    /// # Errors
    /// The disk refused, or what is in the target would be lost.
    pub fn finish(self, handbook: &str, worker: &Worker, replace: bool) -> Result<(), Refused> {
        let mut state = std::mem::take(&mut *self.state());
        if let Some(refused) = state.refused {
            return Err(refused);
        }
        worker::proved(&self.folder.fresh(), &state.held)?;
        let script = worker::script(worker, &state.held, &state.marks);
        self.write(WORKER, &script)?;
        state.marks.insert(WORKER.to_string(), mark(&script));
        let manifest = SiteManifest {
            handbook: Some(handbook.to_string()),
            marks: state.marks,
        };
        self.write(MANIFEST, &manifest.bytes())?;
        let (fresh, target) = (self.folder.fresh(), &self.target);
        files::flush_all(&fresh).map_err(|(at, error)| Refused::disk("flush", &at, error))?;
        let published = target::ours(target)?;
        if let Some(published) = published.filter(|_| !replace) {
            target::as_published(target, &published)?;
            if !self.own {
                target::of_handbook(target, &published, handbook)?;
            }
        }
        let old = self.folder.old();
        if let Err(error) = self.folder.finish(|| exchange::put(&fresh, target, &old)) {
            let put_back = self.folder.clear();
            put_back.map_err(|again| {
                Refused::disk("put back what is kept in", self.folder.path(), again)
            })?;
            return Err(Refused::disk("replace", target, error));
        }
        // the new site is there for every reader: that its name is on the disk is the system's to do
        let _ = files::flush_folder(target.parent().unwrap_or(target));
        Ok(())
    }
}

/// A listener to signals holds the folder too, so it can't be left to that to clear itself.
impl Drop for Staging {
    fn drop(&mut self) {
        let _ = self.folder.clear();
    }
}

impl SiteSink for Staging {
    fn put(&self, path: &str, bytes: Vec<u8>) {
        if self.state().refused.is_some() {
            return;
        }
        let (mark, written) = (mark(&bytes), self.write(path, &bytes));
        let held = HeldFile::of(&bytes);
        let mut state = self.state();
        match written {
            Ok(()) => {
                state.marks.insert(path.to_string(), mark);
                state.held.insert(path.to_string(), held);
            }
            Err(refused) => {
                state.refused.get_or_insert(refused);
            }
        }
    }
}

#[cfg(test)]
mod tests;
