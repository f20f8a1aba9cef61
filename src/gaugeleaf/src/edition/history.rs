//! The file that keeps what was issued when.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use crate::handbook::places::HISTORY_FILE;

/// The file with a line more, ready to take its place. Whole or not at all: half a line would keep the handbook from being published.
///
/// # Errors
/// The disk says no; the file is as it was.
pub fn with(handbook: &Path, line: &str) -> io::Result<NextHistory> {
    let at = &handbook.join(HISTORY_FILE);
    let mut text = match std::fs::read(at) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Vec::new(),
        read => read?,
    };
    if !text.is_empty() && !text.ends_with(b"\n") {
        text.push(b'\n');
    }
    text.extend_from_slice(line.as_bytes());
    let mut file = NamedTempFile::new_in(handbook)?;
    file.write_all(&text)?;
    file.as_file().sync_all()?;
    #[cfg(unix)]
    {
        // a file that nobody else may read is no part of a shared handbook
        use std::os::unix::fs::PermissionsExt;
        let mode = std::fs::metadata(at).map_or(0o644, |known| known.permissions().mode());
        file.as_file()
            .set_permissions(std::fs::Permissions::from_mode(mode))?;
    }
    Ok(NextHistory {
        file,
        at: at.clone(),
    })
}

/// What waits to take the file's place; gone with the value.
pub struct NextHistory {
    file: NamedTempFile,
    at: PathBuf,
}

impl NextHistory {
    /// Puts it there.
    ///
    /// # Errors
    /// The disk says no; the file is as it was.
    pub fn keep(self) -> io::Result<()> {
        self.file.persist(self.at)?;
        Ok(())
    }
}
