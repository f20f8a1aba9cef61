//! Puts one folder in another's place.

use std::path::Path;
use std::{fs, io};

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
