//! The pages of a handbook in reading order, and where each stands among them.

use std::collections::HashMap;
use std::ops::Deref;

use rustc_hash::FxHashMap;

use crate::handbook::files::HandbookFiles;
use crate::handbook::page::Page;
use crate::markdown::tree::Tree;

/// Pages in reading order: the front page, then each phase's pages in order, then loose pages.
#[derive(Debug, Clone, Default)]
pub struct Pages {
    list: Vec<Page>,
    by_path: FxHashMap<String, usize>,
}

impl Pages {
    /// Forgets what the pages were parsed into, once none is composed any more.
    pub fn forget_trees(&mut self) {
        for page in &mut self.list {
            page.tree = Tree::default();
        }
    }

    /// The page of this file.
    pub fn at(&self, path: &str) -> Option<&Page> {
        self.list.get(*self.by_path.get(path)?)
    }
}

/// Pages as they were read, with the texts that they were read from.
#[derive(Debug, Default)]
pub struct ReadPages(HashMap<String, (String, Page)>);

impl ReadPages {
    pub fn new(pages: Pages, files: &mut HandbookFiles) -> ReadPages {
        let mut read = HashMap::new();
        for page in pages.list {
            // on the page that prints the terms, those have addresses too, and may be others now
            if page.outline.glossary.is_none()
                && let Some(text) = files.texts.remove(&page.path)
            {
                read.insert(page.path.clone(), (text, page));
            }
        }
        ReadPages(read)
    }

    /// The page at this path, if it is the same in the same phase.
    pub fn take(&mut self, path: &str, text: &str, phase: Option<usize>) -> Option<Page> {
        let (_, page) = self
            .0
            .remove(path)
            .filter(|(known, page)| known == text && page.phase == phase)?;
        Some(page)
    }
}

impl From<Vec<Page>> for Pages {
    fn from(list: Vec<Page>) -> Pages {
        let paths = list.iter().map(|page| page.path.clone());
        let by_path = paths.enumerate().map(|(at, path)| (path, at)).collect();
        Pages { list, by_path }
    }
}

impl<'p> IntoIterator for &'p Pages {
    type Item = &'p Page;
    type IntoIter = std::slice::Iter<'p, Page>;

    fn into_iter(self) -> Self::IntoIter {
        self.list.iter()
    }
}

impl Deref for Pages {
    type Target = [Page];

    fn deref(&self) -> &[Page] {
        &self.list
    }
}
