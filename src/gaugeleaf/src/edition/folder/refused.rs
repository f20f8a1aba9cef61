//! Why a site wasn't written, in words that say what to do.

use std::io;
use std::path::{Path, PathBuf};

/// Why a site wasn't written. The target is as it was.
#[derive(Debug)]
pub enum Refused {
    /// This is there, and we didn't write it.
    NotOurs(PathBuf),
    /// We wrote this, and somebody changed it since.
    Edited(PathBuf),
    /// The target holds the site of the handbook with this title.
    OfAnother(PathBuf, String),
    /// The target lies where the handbook itself is read from.
    Inside(PathBuf, PathBuf),
    /// The target is a link to what isn't there.
    LinkToNothing(PathBuf, PathBuf),
    /// The disk said no, while doing this to that.
    Disk(&'static str, PathBuf, io::Error),
}

impl Refused {
    pub fn disk(doing: &'static str, path: &Path, error: io::Error) -> Refused {
        Refused::Disk(doing, path.to_path_buf(), error)
    }
}

impl std::fmt::Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self {
            Refused::NotOurs(path) => write!(
                f,
                "{} wasn't written by gaugeleaf and would be lost: move it away, or publish elsewhere with --to",
                path.display()
            ),
            Refused::Edited(path) => write!(
                f,
                "{} was changed after it was published, and would be lost: keep a copy of it and publish with --replace, or publish elsewhere with --to",
                path.display()
            ),
            Refused::OfAnother(path, title) => write!(
                f,
                "{} holds the site of another handbook, \"{title}\": publish elsewhere with --to, or with --replace if this one takes its place",
                path.display()
            ),
            Refused::Inside(path, folder) => write!(
                f,
                "{} lies in {}, where the handbook is read from: publish elsewhere with --to",
                path.display(),
                folder.display()
            ),
            Refused::LinkToNothing(path, to) => write!(
                f,
                "{} is a link to {}, which isn't there: make that folder, or remove the link",
                path.display(),
                to.display()
            ),
            Refused::Disk(doing, path, error) => {
                write!(f, "can't {doing} {}: {error}", path.display())
            }
        }
    }
}
