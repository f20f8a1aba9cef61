//! The body of a block: a text that knows its place in its file.

pub use gaugeleaf_calc::finding::Excerpt;
