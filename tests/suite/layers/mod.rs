//! Who knows whom: every file of every crate, read for the paths in it.
//!
//! A file knows another when a path in its code, or a `use` line of its own, leads to something
//! that is defined there. What was decided:
//! - The file that defines a name is charged, however many `mod.rs` hand it on.
//! - `mod child;` and a `pub use` of something below are a table of contents, not knowledge.
//!   A `pub use` of something from elsewhere is.
//! - An import of a module, or of everything in one, stands for the names that are reached
//!   through it. The module's own file is charged when none is found.
//! - A type's methods belong to the file that defines the type. A call with a dot isn't seen.
//! - Macros are read as they stand: paths among their tokens count, paths that they make don't.
//! - Tests are apart: what is under `#[cfg(test)]` is not read, nor are `tests`, `examples` and
//!   build scripts.

mod apart;
mod code;
mod manifest;
mod names;
mod order;
mod picture;
mod rings;
mod rows;
mod rules;
mod survey;
mod table;
mod tokens;
mod tree;
mod types;

#[cfg(test)]
mod invented;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod violations;

pub use apart::without_tests;
pub use code::Reference;
pub use order::faults;
pub use picture::redraw;
pub use rings::{Ring, rings};
pub use rows::rows;
pub use rules::{forbidden, missing, round, unused};
pub use survey::{Surveyed, survey};
pub use table::{TABLE, Table};
pub use types::defined_twice;
