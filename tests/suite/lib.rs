//! Tests that cross crates: what the parts promise each other, and what every file must keep.
//!
//! One crate, so that there is one program to link. Browser tests live in `tests/browser`.

#[cfg(test)]
mod calculators;
#[cfg(test)]
mod catalogue;
#[cfg(test)]
mod codes;
#[cfg(test)]
mod contract;
#[cfg(test)]
mod cries;
#[cfg(test)]
mod demonstration;
#[cfg(test)]
mod engine;
#[cfg(test)]
mod examples;
#[cfg(test)]
mod figures;
#[cfg(test)]
mod host;
pub mod layers;
#[cfg(test)]
mod named;
#[cfg(test)]
mod printed;
#[cfg(test)]
mod reference;
#[cfg(test)]
mod search;
#[cfg(test)]
mod search_rules;
#[cfg(test)]
mod shown;
#[cfg(test)]
mod sides;
#[cfg(test)]
mod spoken;
#[cfg(test)]
mod supply;
#[cfg(test)]
mod texts;
#[cfg(test)]
mod tidy;
#[cfg(test)]
mod wasm;

/// The repository's root.
#[cfg(test)]
fn root() -> &'static std::path::Path {
    std::path::Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}
