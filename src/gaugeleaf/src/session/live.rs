//! A handbook looked at again and again: what didn't change isn't made again.
//!
//! Whether a page is still good is told by the states of its own text and of all that it asked for
//! when it was composed (`page/reads.rs`). The site is the one that a fresh publish makes, byte for
//! byte.

use std::collections::BTreeSet;
use std::path::Path;

use gaugeleaf_calc::finding::Finding;

use super::built::BuiltSite;
use super::kept::{Kept, SharedFiles};
use super::look::Look;
use super::refresh::Refreshed;
use crate::handbook::files::{HandbookFiles, read, read_again};
use crate::render::edition::Edition;

/// A handbook that is looked at again and again.
pub struct Session<'e> {
    edition: &'e dyn Edition,
    kept: Kept,
    /// How often it was looked at, which tells one composing of a page from the next.
    turn: u64,
}

impl<'e> Session<'e> {
    pub fn new(edition: &'e dyn Edition) -> Session<'e> {
        Session {
            edition,
            kept: Kept::default(),
            turn: 0,
        }
    }

    /// The site as it was at the last look, faults or none.
    pub fn site(&self) -> &SharedFiles {
        &self.kept.site
    }

    /// Looks at the handbook again; `changed` are the files that changed since the last look, where
    /// they are known. Pages that were edited, and those at the addresses that somebody
    /// is looking at, are handed to `first` before the rest of the site is made.
    pub fn refresh(
        &mut self,
        root: &Path,
        changed: Option<&BTreeSet<String>>,
        watched: &BTreeSet<String>,
        first: &mut dyn FnMut(SharedFiles),
    ) -> Refreshed {
        let again = changed.and_then(|changed| self.read_again(root, changed));
        let (files, findings) = again.unwrap_or_else(|| read(root));
        if files.texts.is_empty() {
            self.kept = Kept::default();
            return Refreshed {
                built: BuiltSite::nothing(findings),
                ..Refreshed::default()
            };
        }
        self.turn += 1;
        self.kept.found.clone_from(&findings);
        let look = Look::new(self.edition, files, &mut self.kept, findings);
        look.refreshed(&mut self.kept, self.turn, watched, first)
    }

    /// The files as they are now, where these alone changed and nothing was wrong with them.
    fn read_again(
        &self,
        root: &Path,
        changed: &BTreeSet<String>,
    ) -> Option<(HandbookFiles, Vec<Finding>)> {
        let found = &self.kept.found;
        if found.iter().any(|finding| changed.contains(&finding.file)) {
            return None;
        }
        let files = read_again(root, &self.kept.files, changed)?;
        Some((files, found.clone()))
    }
}
