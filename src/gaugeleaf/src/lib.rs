//! The generator: a folder of Markdown and TOML becomes a handbook's site.
//!
//! The way goes in one direction, and only its first and last stages touch the disk:
//! [`read`] a folder, resolve its [`graph`] of quantities, [`compose`] its pages,
//! render the [`site`], [`write`](mod@write) it all or not at all. Every stage returns its
//! findings beside its result, so that one broken page doesn't hide the next.
//!
//! ```
//! use gaugeleaf::publish::{Purpose, build};
//! let built = build(std::path::Path::new("no-such-folder"), Purpose::Publish);
//! assert_eq!(built.findings[0].code, "no-handbook");
//! ```

mod carry;
pub mod command;
pub mod compose;
pub mod handbook;
pub mod markdown;
pub mod picture;
pub mod preview;
pub mod prose;
pub mod publish;
pub mod report;
pub mod settings;
pub mod site;
pub mod theme;
pub mod values;
pub mod write;
