//! A site as files.

use std::collections::BTreeMap;

/// A site: every file's path and bytes.
pub type SiteFiles = BTreeMap<String, Vec<u8>>;
