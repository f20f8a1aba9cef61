//! A page's Markdown becomes a tree of what it shows, part by part.
//!
//! Each sort of part has a file of its own, testable on a line of text. What composing leaves
//! behind is its return value; addresses and templates are left to whoever prints the page.

pub mod acted_on;
pub mod begin;
pub mod compose;
pub mod composed;
pub mod consult;
pub mod context;
pub mod fences;
pub mod footnotes;
pub mod hashes;
pub mod hazards;
pub mod images;
pub mod inline;
pub mod kind;
pub mod links;
pub mod listings;
pub mod meanings;
pub mod node;
pub mod number;
pub mod picture;
pub mod raw_html;
pub mod reads;
pub mod route;
pub mod rows;
pub mod said;
pub mod sections;
pub mod sign_off;
pub mod step_links;
pub mod steps;
pub mod terms;
#[cfg(test)]
pub mod testing;
pub mod text;
pub mod ticks;
pub mod training;
pub mod value;
pub mod value_links;
pub mod value_target;
pub mod working;
