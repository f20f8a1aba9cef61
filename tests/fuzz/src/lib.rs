//! Targets that put bytes to whatever reads bytes from outside: a guided fuzzer chooses them by the
//! thousand a second (`tests/run fuzz`), the tests here a few by mutation from a fixed seed.
//!
//! A target is a plain function that panics where something doesn't hold. What once made one panic
//! lies in `kept/TARGET/`, and is put to it again by every run of the tests.

mod demonstration;
mod html;
#[cfg(test)]
mod mutation;
pub mod requests;
mod targets;
#[cfg(test)]
mod tests;

use std::path::PathBuf;

use targets::{calculators, engine, handbook, search};

/// Something that reads bytes.
pub struct Target {
    pub name: &'static str,
    /// Puts bytes to it; panics where something doesn't hold.
    pub put: fn(&[u8]),
    /// What the repository has of the kind.
    pub seeds: fn() -> Vec<Vec<u8>>,
    /// How many mutated seeds the tests put to it.
    pub mutated: usize,
}

const fn of(
    name: &'static str,
    put: fn(&[u8]),
    seeds: fn() -> Vec<Vec<u8>>,
    mutated: usize,
) -> Target {
    Target {
        name,
        put,
        seeds,
        mutated,
    }
}

pub const TARGETS: [Target; 14] = [
    of(
        "quantity",
        calculators::quantity,
        calculators::quantities,
        30_000,
    ),
    of(
        "formula",
        calculators::formula,
        calculators::formulas,
        20_000,
    ),
    of("catalog", calculators::catalog, calculators::catalogs, 60),
    of("kit", calculators::kit, calculators::kits, 600),
    of("page", handbook::page, handbook::pages, 100),
    of(
        "settings",
        handbook::settings,
        handbook::settings_seeds,
        400,
    ),
    of("words", handbook::words, handbook::words_seeds, 200),
    of("query", search::query, search::queries, 200),
    of("question", engine::question, engine::questions, 150),
    of("index", search::index, search::indexes, 3_000),
    of(
        "packed",
        calculators::packed,
        calculators::packed_seeds,
        300,
    ),
    of("call", engine::call, engine::calls, 3_000),
    of("link", engine::link, engine::links, 1_500),
    of("ledger", handbook::ledger, handbook::ledgers, 5_000),
];

/// Where a target's kept inputs lie.
pub fn kept(target: &str) -> PathBuf {
    demonstration::root().join("tests/fuzz/kept").join(target)
}
