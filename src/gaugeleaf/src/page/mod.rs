//! A page's Markdown becomes HTML: events with their ranges pass through a chain
//! of small stages, each in its own file and each testable on a line of text.
//!
//! Ranges are kept to the end, so that every stage can say where a fault stands.

pub mod compose;
pub mod desk;
pub mod fences;
pub mod footnotes;
pub mod hazards;
pub mod headings;
pub mod images;
pub mod inline;
pub mod keys;
pub mod kind;
pub mod links;
pub mod listings;
pub mod picture;
pub mod raw_html;
pub mod sections;
pub mod sign_off;
pub mod steps;
pub mod tables;
pub mod terms;
#[cfg(test)]
pub mod testing;
pub mod value;
pub mod value_links;
pub mod value_target;
pub mod views;
pub mod working;
