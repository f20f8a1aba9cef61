//! The folder beside a target in which a site is made.
//!
//! Its name is the target's, and whoever holds the lock in it owns it: what a program left that was
//! killed is told from what another is writing, and is cleared by whoever comes next.

use std::fs::{self, File};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::sync::{PoisonError, RwLock, RwLockWriteGuard};

use fs4::{FileExt, TryLockError};
use same_file::Handle;

use super::exchange::there;
use super::files::remove_all;
use super::refused::Refused;

/// Added to the target's name.
const ENDING: &str = ".publishing";

/// Made first and removed last: the mark that the folder is ours.
const LOCK: &str = "gaugeleaf.lock";

/// The site on its way, and what is cleared next.
const FRESH: &str = "new";

/// The site that was replaced, while nothing stands in its place yet.
const OLD: &str = "old";

/// The folder beside a target, until it is cleared.
pub struct StagingFolder {
    target: PathBuf,
    path: PathBuf,
    claim: RwLock<Option<Claim>>,
}

/// The right to write there.
struct Claim {
    lock: File,
    made: MadeFolders,
}

/// Folders that weren't there, the deepest first. They go with what wasn't finished.
struct MadeFolders(Vec<PathBuf>);

impl Drop for MadeFolders {
    fn drop(&mut self) {
        for folder in &self.0 {
            let _ = fs::remove_dir(folder);
        }
    }
}

impl StagingFolder {
    /// Makes the folder, or takes over what was left of one. Where another program is writing there,
    /// this is told once, and waited for.
    pub fn claim(target: &Path, waits: &dyn Fn()) -> Result<StagingFolder, Refused> {
        let parent = target.parent().unwrap_or(target);
        let missing = parent.ancestors().take_while(|folder| !folder.exists());
        let made = MadeFolders(missing.map(Path::to_path_buf).collect());
        fs::create_dir_all(parent).map_err(|error| Refused::disk("make", parent, error))?;
        let mut name = target.file_name().unwrap_or_default().to_os_string();
        name.push(ENDING);
        let folder = parent.join(name);
        let lock = locked(&folder, waits)?;
        let claimed = StagingFolder {
            target: target.to_path_buf(),
            path: folder,
            claim: RwLock::new(Some(Claim { lock, made })),
        };
        let emptied = claimed.empty();
        emptied.map_err(|error| Refused::disk("clear", &claimed.path, error))?;
        Ok(claimed)
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Where the site is made.
    pub fn fresh(&self) -> PathBuf {
        self.path.join(FRESH)
    }

    pub fn old(&self) -> PathBuf {
        self.path.join(OLD)
    }

    /// Does a part of the work, unless all was cleared.
    pub fn work<T>(&self, part: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
        match *self.claim.read().unwrap_or_else(PoisonError::into_inner) {
            Some(_) => part(),
            None => Err(ErrorKind::Interrupted.into()),
        }
    }

    /// Does the last part, which nothing clears in the middle of; what was made on the way then stays.
    pub fn finish(&self, part: impl FnOnce() -> io::Result<()>) -> io::Result<()> {
        let mut claim = self.writing();
        let claim = claim.as_mut().ok_or(ErrorKind::Interrupted)?;
        part()?;
        claim.made.0.clear();
        Ok(())
    }

    fn writing(&self) -> RwLockWriteGuard<'_, Option<Claim>> {
        self.claim.write().unwrap_or_else(PoisonError::into_inner)
    }

    /// Removes the folder. A site whose place is empty is put back first.
    pub fn clear(&self) -> io::Result<()> {
        self.cleared().1
    }

    /// The same, and lets nobody work on while the guard is held.
    pub fn cleared(&self) -> (impl Drop + use<'_>, io::Result<()>) {
        let mut guard = self.writing();
        let done = guard.take().map_or(Ok(()), |claim| self.remove(claim));
        (guard, done)
    }

    fn remove(&self, claim: Claim) -> io::Result<()> {
        self.empty()?;
        fs::remove_file(self.path.join(LOCK))?;
        // some systems remove a file that is open only when it is closed
        drop(claim.lock);
        // whoever waited may have begun anew in it
        let _ = fs::remove_dir(&self.path);
        Ok(())
    }

    /// Leaves the lock alone in the folder.
    fn empty(&self) -> io::Result<()> {
        let (fresh, old) = (self.fresh(), self.old());
        if there(&old) && !there(&self.target) {
            fs::rename(&old, &self.target)?;
        }
        remove_all(&fresh)?;
        if there(&old) {
            // half removed it must never be taken for a site to put back
            fs::rename(&old, &fresh)?;
            remove_all(&fresh)?;
        }
        Ok(())
    }
}

/// The lock of a folder, which is made if it isn't there.
fn locked(folder: &Path, waits: &dyn Fn()) -> Result<File, Refused> {
    let at = folder.join(LOCK);
    let refused = |error| Refused::disk("lock", &at, error);
    let mut told = false;
    loop {
        let fresh = match fs::create_dir(folder) {
            Ok(()) => true,
            Err(error) if error.kind() == ErrorKind::AlreadyExists => false,
            Err(error) => return Err(Refused::disk("make", folder, error)),
        };
        let Some(lock) = opened(folder, &at)? else {
            // cleared by another between two looks
            continue;
        };
        match FileExt::try_lock(&lock) {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                if !told {
                    waits();
                    told = true;
                }
                FileExt::lock(&lock).map_err(refused)?;
            }
            // where nothing can be locked, only who made the folder knows that it is alone
            Err(TryLockError::Error(error)) if fresh && error.kind() == ErrorKind::Unsupported => {}
            Err(TryLockError::Error(error)) => return Err(refused(error)),
        }
        // the one that was waited for may have removed it
        let held = lock.try_clone().and_then(Handle::from_file);
        if Handle::from_path(&at).ok() == Some(held.map_err(refused)?) {
            return Ok(lock);
        }
    }
}

/// The lock's file in a folder of ours; none where the folder is gone.
fn opened(folder: &Path, at: &Path) -> Result<Option<File>, Refused> {
    let gone = |error: &io::Error| error.kind() == ErrorKind::NotFound;
    let read = |error| Refused::disk("read", folder, error);
    match folder.symlink_metadata() {
        Ok(data) if !data.is_dir() => return Err(Refused::NotOurs(folder.to_path_buf())),
        Err(error) if gone(&error) => return Ok(None),
        _ => {}
    }
    let was_there = there(at);
    let entries = match fs::read_dir(folder) {
        Err(error) if gone(&error) => return Ok(None),
        entries => entries.map_err(read)?,
    };
    for entry in entries {
        let entry = entry.map_err(read)?;
        let name = entry.file_name();
        // what is ours stands beside its lock, which another may be making or removing
        let of_a_site = name == FRESH || name == OLD;
        let ours = name == LOCK || (of_a_site && (was_there || there(at)));
        if !ours {
            return Err(Refused::NotOurs(entry.path()));
        }
    }
    let opened = File::options()
        .create(true)
        .truncate(false)
        .write(true)
        .open(at);
    match opened {
        Err(error) if gone(&error) => Ok(None),
        opened => opened
            .map(Some)
            .map_err(|error| Refused::disk("write", at, error)),
    }
}
