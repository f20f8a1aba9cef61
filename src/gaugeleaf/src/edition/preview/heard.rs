//! What the system's watcher says of a handbook's folder, as far as it concerns the handbook.

use std::path::Path;
use std::sync::mpsc::Sender;

use notify::event::{Event, EventKind, ModifyKind};

use crate::handbook::walk::inside;

/// What the system tells.
#[derive(Debug, PartialEq, Eq)]
pub enum SystemWord {
    /// Something may have changed.
    Look,
    /// This file, or all files below it, changed, whatever the stamps say.
    Changed(String),
    /// One of the handbook's folders came or went, and must be watched anew.
    Moved(String),
    /// Not everything will be told.
    Trouble(String),
}

/// Passes on what concerns the handbook.
pub fn hear(root: &Path, event: notify::Result<Event>, tell: &Sender<SystemWord>) {
    let tell = |told| drop(tell.send(told));
    let event = match event {
        // building reads every file, which must not have us build again
        Ok(event) if event.kind.is_access() => return,
        Ok(event) => event,
        Err(error) => return tell(SystemWord::Trouble(error.to_string())),
    };
    if event.paths.is_empty() || event.need_rescan() {
        tell(SystemWord::Look);
    }
    for at in &event.paths {
        if let Some(path) = inside(root, at).filter(|path| concerns(path)) {
            tell(meaning(event.kind, path, at));
        }
    }
}

/// Whether a path may be a file of the handbook, or a folder of such.
fn concerns(path: &str) -> bool {
    let mut parts = path.split('/');
    matches!(
        parts.next(),
        Some("calculators" | "content" | "handbook.toml" | "themes")
    ) && parts.all(|part| !part.starts_with('.'))
}

/// What an event says of a path.
fn meaning(kind: EventKind, path: String, at: &Path) -> SystemWord {
    match kind {
        EventKind::Create(_) | EventKind::Remove(_) | EventKind::Modify(ModifyKind::Name(_)) => {
            let is_start = !path.contains('/') || path == "calculators/catalog";
            if is_start && path != "handbook.toml" {
                SystemWord::Moved(path)
            } else {
                SystemWord::Changed(path)
            }
        }
        // rights and times; what matters of them is in the stamps
        EventKind::Modify(ModifyKind::Metadata(_)) => SystemWord::Look,
        // of a folder this says that something in it came or went, which has its own event
        _ if at.is_dir() => SystemWord::Look,
        _ => SystemWord::Changed(path),
    }
}
