//! The phases and pages of a handbook.

use gaugeleaf_calc::finding::Finding;

use crate::handbook::addresses::page_url;
use crate::handbook::kind::BlockShapes;
use crate::handbook::outline::{Outline, outline};
use crate::markdown::tree::{self, Tree};

/// One stage of the work.
#[derive(Debug, Clone, Default)]
pub struct Phase {
    pub slug: String,
    pub title: String,
    pub purpose: String,
    pub order: i64,
}

/// One Markdown file, parsed, and what its head says.
#[derive(Debug, Clone)]
pub struct Page {
    /// Its path inside the handbook.
    pub path: String,
    /// Its address in the site.
    pub url: String,
    /// The index of its phase.
    pub phase: Option<usize>,
    pub tree: Tree,
    pub outline: Outline,
}

impl Page {
    /// Parses a page's text; what is wrong with its head is added to the findings.
    pub fn read(
        path: &str,
        text: &str,
        phase: Option<usize>,
        shapes: &BlockShapes,
        findings: &mut Vec<Finding>,
    ) -> Page {
        let tree = tree::of_page(text);
        Page {
            path: path.to_string(),
            url: page_url(path),
            phase,
            outline: outline(path, text, &tree, shapes, findings),
            tree,
        }
    }

    pub fn is_front(&self) -> bool {
        self.url == "index.html"
    }
}
