//! What a crew measures, round by round: the measurements of one file of the catalog are taken
//! on one way about the exchanger.

use std::collections::BTreeMap;

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::named::{NamedQuantity, Role};

use crate::language::tell;

/// The measurements of one file of the catalog, in its order.
pub struct Round<'c> {
    pub title: String,
    pub measurements: Vec<&'c NamedQuantity>,
}

/// Every round; the exchanger comes first, as a job begins with it.
pub fn rounds(catalog: &Catalog) -> Vec<Round<'_>> {
    let mut files: BTreeMap<&str, Vec<&NamedQuantity>> = BTreeMap::new();
    for named in catalog.named.values() {
        if named.role == Role::Measurement {
            files.entry(&named.field.file).or_default().push(named);
        }
    }
    let mut rounds: Vec<Round<'_>> = files
        .into_iter()
        .map(|(file, mut measurements)| {
            measurements.sort_by_key(|named| named.field.span.start);
            Round {
                title: title(file),
                measurements,
            }
        })
        .collect();
    let exchanger = tell::exchanger();
    rounds.sort_by_key(|round| round.title != exchanger);
    rounds
}

/// A file's name as a heading: `water-measurements.toml` is "Water".
fn title(file: &str) -> String {
    let stem = file.rsplit('/').next().unwrap_or(file);
    let stem = stem.strip_suffix(".toml").unwrap_or(stem);
    let words = stem.replace("measurements", "").replace('-', " ");
    let mut letters = words.trim().chars();
    letters.next().map_or_else(tell::exchanger, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
