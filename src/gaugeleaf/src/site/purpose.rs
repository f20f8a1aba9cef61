//! What a site is built for.

/// What a site is built for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    Publish,
    /// As published, and each page asks the preview whether it changed.
    Preview,
}

/// The script that reloads a page; it exists in the preview alone.
pub const RELOAD_SCRIPT: &str = "/.preview/reload.js";
