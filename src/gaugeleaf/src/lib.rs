//! The generator: a folder of Markdown and TOML becomes a handbook's site.
//!
//! The way goes in one direction, and only its first and last stages touch the disk:
//! read the [`handbook`]'s folder, resolve its graph of [`values`], compose its [`page`]s,
//! render the [`site`], write the [`edition`] whole or not at all. Every stage returns its
//! findings beside its result, so that one broken page doesn't hide the next. [`session`] is
//! where to start reading: it puts the stages in their order.
//!
//! ```
//! use gaugeleaf::session::build;
//! use gaugeleaf::edition::addresses::FolderEdition;
//! let built = build(std::path::Path::new("no-such-folder"), &FolderEdition);
//! assert_eq!(built.findings[0].code.name(), "no-handbook");
//! ```

pub mod blocks;
pub mod command;
pub mod compare;
pub mod edition;
pub mod handbook;
pub mod language;
pub mod markdown;
pub mod page;
pub mod prose;
pub mod render;
pub mod report;
pub mod session;
pub mod site;
pub mod values;
