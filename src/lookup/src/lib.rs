//! The search index of a handbook: built once by the generator, queried in the page.
//!
//! It finds documents (a page, a heading, a step, a table row …) by the words of
//! their title, place and text, forgives slips of the thumb, and treats numbers and
//! sizes as exact. It must never contain: HTML, calculators, units, I/O, clocks,
//! randomness, wire formats. It never panics, whatever the bytes or the query.
//!
//! ```
//! use gaugeleaf_lookup::{Document, DocumentKind, Index, SearchWords, build};
//!
//! let documents = [Document {
//!     title: "Set the hose stop".into(),
//!     place: "Check › Stops".into(),
//!     url: "check/stops.html#set".into(),
//!     kind: DocumentKind::Heading,
//!     text: "Close the stop until it drags on the hose.".into(),
//!     also: vec!["back-out preventer".into()],
//!     ..Document::default()
//! }];
//! let built = build(&documents, &SearchWords::default());
//! let mut index = Index::open(built.index)?;
//! index.take_texts(&built.texts)?;
//! let found = index.search("hosestop", 10);
//! assert_eq!(found.hits[0].url, "check/stops.html#set");
//! # Ok::<(), gaugeleaf_lookup::OpenError>(())
//! ```

mod alike;
mod build;
mod bytes;
mod calls;
mod excerpt;
mod fold;
mod index;
mod judge;
mod kind;
mod lengths;
mod number;
mod plan;
mod postings;
mod query;
mod room;
mod said;
mod sayings;
mod score;
mod slips;
mod sound;
mod spelling;
mod stem;
mod store;
mod terms;
mod token;

pub use build::{Document, IndexFiles, SearchWords, build};
pub use index::{Index, OpenError};
pub use kind::DocumentKind;
pub use query::{Hit, Meaning, SearchResult};
