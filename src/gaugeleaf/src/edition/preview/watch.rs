//! Notices that a handbook's files changed, by looking.

use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use crate::handbook::walk::stamps;

const PAUSE: Duration = Duration::from_millis(150);

/// What the files were when they were last looked at.
pub type FileStates = Vec<(PathBuf, Option<SystemTime>, u64)>;

/// Looks at the files. This must come before they are read: what changes in between
/// is then seen as a change.
pub fn look(root: &Path) -> FileStates {
    stamps(root)
}

/// Calls `changed` after each change since `known`, for ever.
pub fn each_change(root: &Path, mut known: FileStates, mut changed: impl FnMut()) {
    loop {
        std::thread::sleep(PAUSE);
        let now = stamps(root);
        if now != known {
            known = now;
            changed();
        }
    }
}
