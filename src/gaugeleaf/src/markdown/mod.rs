//! Markdown as events with their places; no page is known here, and no theme.

pub mod escape;
pub mod event;
pub mod excerpt;
pub mod ids;
pub mod nesting;
pub mod parse;
pub mod place;
pub mod signal;
