//! Targets that put bytes to whatever reads bytes from outside: a guided fuzzer chooses them by the
//! thousand a second (`tests/run fuzz`), the tests here a few by mutation from a fixed seed.
//!
//! A target is a plain function that panics where something doesn't hold. What once made one panic
//! lies in `kept/TARGET/`, and is put to it again by every run of the tests.

mod demonstration;
mod html;
#[cfg(test)]
mod mutation;
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
        3_000,
    ),
    of(
        "formula",
        calculators::formula,
        calculators::formulas,
        2_000,
    ),
    of("catalog", calculators::catalog, calculators::catalogs, 40),
    of("kit", calculators::kit, calculators::kits, 300),
    of("page", handbook::page, handbook::pages, 60),
    of(
        "settings",
        handbook::settings,
        handbook::settings_seeds,
        200,
    ),
    of("words", handbook::words, handbook::words_seeds, 40),
    of("query", search::query, search::queries, 400),
    of("question", engine::question, engine::questions, 150),
    of("index", search::index, search::indexes, 60),
    of(
        "packed",
        calculators::packed,
        calculators::packed_seeds,
        100,
    ),
    of("call", engine::call, engine::calls, 300),
    of("link", engine::link, engine::links, 150),
    of("ledger", handbook::ledger, handbook::ledgers, 1_000),
];

/// Where a target's kept inputs lie.
pub fn kept(target: &str) -> PathBuf {
    demonstration::root().join("tests/fuzz/kept").join(target)
}
