//! Kits: one set of equipment, with the values that it fixes and where each was read.

mod fields;
mod reader;
mod row;
#[cfg(test)]
mod tests;

use std::ops::Range;

use gaugeleaf_finding::{Excerpt, Finding, Placed, settings};

use crate::catalog::Catalog;
use crate::names::Names;
pub use fields::FIELDS;
use reader::KitReader;

/// One set of equipment.
#[derive(Debug, Clone, PartialEq)]
pub struct Kit {
    pub name: String,
    /// Where its file says the name.
    pub span: Range<usize>,
    pub title: String,
    pub file: String,
    pub ratings: Names<KitRating>,
}

/// What a kit fixes, as its source has it.
#[derive(Debug, Clone, PartialEq)]
pub struct KitRating {
    /// As written, with its place in the kit's file; where a row gives it, that of the row.
    pub text: Placed<String>,
    pub source: String,
    /// The day on which somebody read it there, as `2026-11-20`; empty where nobody says.
    pub read: String,
    pub by: String,
}

/// Reads a kit's file; what is wrong with it is found in that file, whatever it speaks of.
pub fn load(path: &str, text: &str, catalog: &Catalog) -> (Option<Kit>, Vec<Finding>) {
    let mut findings = Vec::new();
    let body = Excerpt::whole(text);
    let kit = settings::read(path, &body, FIELDS, &mut findings, |settings| {
        let mut reader = KitReader::new(catalog);
        settings.tables_by_name("rating", |entry, name| reader.entry(entry, &name));
        let (name, title) =
            settings.table("kit", |head| (head.text("name"), head.plain("title")))?;
        let name = name.filter(|name| !name.value.trim().is_empty())?;
        Some(Kit {
            name: name.value,
            span: name.span,
            title,
            file: path.to_string(),
            ratings: reader.ratings,
        })
    });
    (kit, findings)
}
