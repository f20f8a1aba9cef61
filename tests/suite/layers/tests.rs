//! The repository's code against its table, and the guide's picture.

use std::fs;
use std::sync::LazyLock;

use super::manifest::manifests;
use super::order::faults;
use super::picture::{GUIDE, draw, placed};
use super::rules::{forbidden, missing, round, unused};
use super::survey::{Surveyed, survey};
use super::table::Table;
use super::tree::{Crate, read};
use super::types::defined_twice;
use crate::root;

static CRATES: LazyLock<Vec<Surveyed>> = LazyLock::new(|| survey(root()));

static TABLE: LazyLock<Table> = LazyLock::new(|| Table::load(root()));

fn none(faults: &[String]) {
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn the_table_holds_no_circle() {
    none(&faults(&TABLE));
}

#[test]
fn every_crate_and_every_room_has_a_row() {
    none(&missing(&TABLE, &CRATES));
}

#[test]
fn no_room_knows_what_the_table_does_not_allow() {
    none(&forbidden(&TABLE, &CRATES));
}

#[test]
fn every_permission_of_the_table_is_used() {
    none(&unused(&TABLE, &CRATES));
}

#[test]
fn no_more_than_two_files_know_each_other_in_a_circle() {
    let faults = CRATES.iter().flat_map(|one| round(&TABLE, one));
    none(&faults.collect::<Vec<_>>());
}

#[test]
fn every_types_name_is_defined_once() {
    let crates = manifests(root()).into_iter();
    let crates = crates.filter(|one| one.name != env!("CARGO_PKG_NAME"));
    let crates: Vec<Crate> = crates.map(|one| read(root(), one)).collect();
    assert!(crates.len() > 1);
    none(&defined_twice(&crates));
}

#[test]
fn the_guides_picture_is_drawn_from_the_table() {
    let guide = fs::read_to_string(root().join(GUIDE)).expect("a guide");
    let drawn = placed(&guide, &draw(&TABLE)).expect("marks around the picture");
    assert!(
        guide == drawn,
        "{GUIDE} shows an older table: run cargo run -p gaugeleaf-tests --example layers -- --draw"
    );
}
