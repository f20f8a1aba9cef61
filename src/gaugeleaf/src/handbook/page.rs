//! The phases and pages of a handbook.

use crate::handbook::outline::Outline;

/// One stage of the work.
#[derive(Debug, Clone, Default)]
pub struct Phase {
    pub slug: String,
    pub title: String,
    pub purpose: String,
    pub order: i64,
}

/// One Markdown file and what its head says.
#[derive(Debug, Clone)]
pub struct Page {
    /// Its path inside the handbook.
    pub path: String,
    /// Its address in the site.
    pub url: String,
    /// The index of its phase.
    pub phase: Option<usize>,
    pub outline: Outline,
}

impl Page {
    /// What leads from this page to the site's root.
    pub fn root(&self) -> &'static str {
        if self.url.contains('/') { "../" } else { "" }
    }

    pub fn is_front(&self) -> bool {
        self.url == "index.html"
    }
}
