//! The one reader of settings, for the handbook's files and the blocks of its pages.

pub use gaugeleaf_calc::finding::Placed;
pub use gaugeleaf_calc::finding::settings::{
    Assigned, Field, Need, OTHERS, Only, Settings, Takes, read,
};
