//! A folder's files, flushed or removed some at a time.
//!
//! A disk takes what waits together in one go: one file after the other, 300 of them can take a second.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

use walkdir::WalkDir;

/// More than there are cores: each waits for the disk.
const AT_ONCE: usize = 16;

/// Asks the system to have a folder and all in it on the disk: after a power cut a site must not have
/// empty files. What couldn't be flushed is named.
pub fn flush_all(folder: &Path) -> Result<(), (PathBuf, io::Error)> {
    let mut folders = Vec::new();
    let mut files = Vec::new();
    for entry in WalkDir::new(folder) {
        let entry = entry.map_err(|error| (folder.to_path_buf(), error.into()))?;
        let part = if entry.file_type().is_dir() {
            &mut folders
        } else {
            &mut files
        };
        part.push(entry.into_path());
    }
    at_once(&files, flush_file)?;
    at_once(&folders, flush_folder)
}

/// Removes a folder and all in it; one that isn't there is removed.
pub fn remove_all(folder: &Path) -> io::Result<()> {
    let entries = WalkDir::new(folder).into_iter().flatten();
    let files = entries.filter(|entry| !entry.file_type().is_dir());
    let files: Vec<PathBuf> = files.map(walkdir::DirEntry::into_path).collect();
    // what can't be removed is told by what removes the folders
    let _ = at_once(&files, |at| fs::remove_file(at));
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}

/// Does one thing to each, and stops soon after the first that fails.
fn at_once(
    paths: &[PathBuf],
    act: fn(&Path) -> io::Result<()>,
) -> Result<(), (PathBuf, io::Error)> {
    let each = |path: &PathBuf| act(path).map_err(|error| (path.clone(), error));
    let next = AtomicUsize::new(0);
    let all = || {
        while let Some(path) = paths.get(next.fetch_add(1, Ordering::Relaxed)) {
            each(path)?;
        }
        Ok(())
    };
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..AT_ONCE.min(paths.len()))
            .map(|_| scope.spawn(all))
            .collect();
        let done = threads.into_iter().map(|one| match one.join() {
            Ok(done) => done,
            Err(panic) => std::panic::resume_unwind(panic),
        });
        done.collect()
    })
}

#[cfg(unix)]
fn flush_file(at: &Path) -> io::Result<()> {
    // on Apple's systems the disk's own memory is emptied by the folders' flushes, once for all files
    let done = rustix::fs::fsync(&OpenOptions::new().write(true).open(at)?);
    can_flush(done.map_err(io::Error::from))
}

#[cfg(not(unix))]
fn flush_file(at: &Path) -> io::Result<()> {
    can_flush(OpenOptions::new().write(true).open(at)?.sync_all())
}

/// The names in a folder; only some systems let them be flushed by themselves.
pub fn flush_folder(at: &Path) -> io::Result<()> {
    if cfg!(unix) {
        return can_flush(File::open(at)?.sync_all());
    }
    Ok(())
}

/// A file system that knows no flushing has nothing to flush.
fn can_flush(done: io::Result<()>) -> io::Result<()> {
    done.or_else(|error| match error.kind() {
        io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported => Ok(()),
        _ => Err(error),
    })
}
