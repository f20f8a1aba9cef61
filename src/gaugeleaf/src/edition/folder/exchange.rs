//! Puts one folder in another's place, and on the disk for good.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

/// Puts a fresh site in the target's place: in one step where the system has it, so that a reader finds
/// the one or the other. The old one is then where the fresh one was.
///
/// Elsewhere the old one is moved out of the way first, and stays there if the second step fails.
pub fn put(fresh: &Path, target: &Path, old: &Path) -> io::Result<()> {
    if !there(target) {
        return fs::rename(fresh, target);
    }
    match exchange(fresh, target) {
        Err(error) if error.kind() == io::ErrorKind::Unsupported => {
            in_two_steps(fresh, target, old)
        }
        done => done,
    }
}

fn in_two_steps(fresh: &Path, target: &Path, old: &Path) -> io::Result<()> {
    fs::rename(target, old)?;
    fs::rename(fresh, target)
}

/// Whether anything is there, a link to nothing too.
pub fn there(path: &Path) -> bool {
    path.symlink_metadata().is_ok()
}

#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    use rustix::io::Errno;
    renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE).map_err(|error| match error {
        // an older kernel, or a file system that can't
        Errno::INVAL | Errno::NOSYS | Errno::NOTSUP => io::ErrorKind::Unsupported.into(),
        other => other.into(),
    })
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
fn exchange(_one: &Path, _other: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Asks the system to have a folder and all in it on the disk: after a power cut a site must not have
/// empty files. What couldn't be flushed is named.
pub fn flush_all(folder: &Path) -> Result<(), (PathBuf, io::Error)> {
    let mut folders = Vec::new();
    let mut files = Vec::new();
    for entry in walkdir::WalkDir::new(folder) {
        let entry = entry.map_err(|error| (folder.to_path_buf(), error.into()))?;
        let part = if entry.file_type().is_dir() {
            &mut folders
        } else {
            &mut files
        };
        part.push(entry.into_path());
    }
    let named = |at: &PathBuf, done: io::Result<()>| done.map_err(|error| (at.clone(), error));
    files
        .par_iter()
        .try_for_each(|at| named(at, flush_file(at)))?;
    folders
        .par_iter()
        .try_for_each(|at| named(at, flush_folder(at)))
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_old_site_is_where_the_fresh_one_was_or_out_of_the_way() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let at = |name: &str| folder.path().join(name);
        for (put, left) in [
            (put as fn(&Path, &Path, &Path) -> io::Result<()>, "new"),
            (in_two_steps, "old"),
        ] {
            for (name, text) in [("new", "fresh"), ("public", "before")] {
                fs::create_dir(at(name))?;
                fs::write(at(name).join("a"), text)?;
            }
            put(&at("new"), &at("public"), &at("old"))?;
            assert_eq!(fs::read_to_string(at("public/a"))?, "fresh");
            // a system without the one step takes two
            let left = if there(&at(left)) { left } else { "old" };
            assert_eq!(fs::read_to_string(at(left).join("a"))?, "before");
            fs::remove_dir_all(at("public"))?;
            fs::remove_dir_all(at(left))?;
            assert_eq!(fs::read_dir(folder.path())?.count(), 0);
        }
        Ok(())
    }
}
