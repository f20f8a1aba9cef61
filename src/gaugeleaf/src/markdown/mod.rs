//! Markdown as a tree with its places; no page is known here, and no theme.

pub mod compact;
pub mod escape;
pub mod ids;
pub mod parse;
pub mod place;
pub mod signal;
pub mod steps;
pub mod tree;
