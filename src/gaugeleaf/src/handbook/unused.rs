//! Files of a handbook that nobody meets.

use std::collections::BTreeSet;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::files::HandbookFiles;
use crate::handbook::offered::called;

/// Files that no page offers.
pub fn unused(files: &HandbookFiles, shown: &BTreeSet<&String>) -> Vec<Finding> {
    let offered = files.bytes.keys().filter(|path| {
        path.starts_with("content/") && called(path).is_some() && !shown.contains(path)
    });
    offered
        .map(|path| {
            let name = path.rsplit('/').next().unwrap_or(path);
            Finding::warning(
                Code::UnusedFile,
                path,
                0..0,
                format!("no page offers `{name}`"),
            )
            .help("offer it on a page, or delete it")
        })
        .collect()
}
