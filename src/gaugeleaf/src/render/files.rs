//! A site as files, and where they go as each is made.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// A site: every file's path and bytes.
pub type SiteFiles = BTreeMap<String, Vec<u8>>;

/// Takes a site's files, from any thread and in any order.
pub trait SiteSink: Sync {
    fn put(&self, path: &str, bytes: Vec<u8>);
}

/// Holds them all.
#[derive(Debug, Default)]
pub struct HeldFiles(Mutex<SiteFiles>);

impl HeldFiles {
    pub fn files(self) -> SiteFiles {
        self.0.into_inner().unwrap_or_else(PoisonError::into_inner)
    }

    /// Those that came since the last were taken.
    pub fn taken(&self) -> SiteFiles {
        std::mem::take(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl SiteSink for HeldFiles {
    fn put(&self, path: &str, bytes: Vec<u8>) {
        let mut files = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        files.insert(path.to_string(), bytes);
    }
}

/// Wants none: for whoever looks for faults alone.
pub struct NoFiles;

impl SiteSink for NoFiles {
    fn put(&self, _path: &str, _bytes: Vec<u8>) {}
}
