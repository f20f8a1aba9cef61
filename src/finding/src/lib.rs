//! Findings: what is wrong with an input, where, and what to write instead.
//!
//! A finding is a fact (code, place, words); how it is shown is the business of
//! whoever shows it: the terminal, the page or a machine.

mod cause;
mod code;
mod excerpt;
mod finding;
#[cfg(feature = "meanings")]
mod meaning;
mod nearest;
mod place;
mod placed;
pub mod settings;

pub use cause::fold;
pub use code::Code;
pub use excerpt::Excerpt;
pub use finding::{Finding, Level, Ties};
#[cfg(feature = "meanings")]
pub use meaning::{CodeEntry, CodeExample, entries};
pub use nearest::{edits, nearest};
pub use place::{line_column, widened};
pub use placed::Placed;
