//! What becomes of a site: a folder on disk, or pages that a preview serves.

pub mod addresses;
pub mod folder;
pub mod history;
pub mod preview;
