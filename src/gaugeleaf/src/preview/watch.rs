//! Notices that a handbook's files changed, by looking.

use std::path::Path;
use std::time::Duration;

use crate::read::stamps;

const PAUSE: Duration = Duration::from_millis(300);

/// Calls `changed` after each change to the handbook's files, for ever.
pub fn each_change(root: &Path, mut changed: impl FnMut()) {
    let mut known = stamps(root);
    loop {
        std::thread::sleep(PAUSE);
        let now = stamps(root);
        if now != known {
            known = now;
            changed();
        }
    }
}
