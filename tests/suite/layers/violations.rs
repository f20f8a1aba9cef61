//! What the rules say of an invented crate that keeps them, and of each way not to.

use super::invented::{invented, parsed};
use super::order::faults;
use super::picture::{draw, placed};
use super::rows::rows;
use super::rules::{forbidden, missing, round, unused};
use super::survey::Surveyed;
use super::table::Table;
use super::types::defined_twice;

/// A table with two rooms; what a test changes of it is given.
fn table(low: &str, high: &str, more: &str) -> Table {
    Table::parse(&format!(
        r#"
[[crate]]
name = "in-vented"
what = "a crate"
knows = []
rooms = [
  {{ name = "low", what = "below", knows = {low} }},
  {{ name = "high", what = "above", knows = {high} }},
]
{more}"#
    ))
    .unwrap_or_else(|fault| panic!("{fault}"))
}

/// A crate with two rooms.
fn rooms(low: &str, high: &str) -> [Surveyed; 1] {
    [invented(&[
        ("lib.rs", "mod low;\nmod high;"),
        ("low.rs", low),
        ("high.rs", high),
    ])]
}

const LOW: &str = "pub fn f() {}";
const HIGH: &str = "pub fn g() { crate::low::f() }";
const BACK: &str = r#"[[exception]]
crate = "in-vented"
rooms = ["low", "high"]
until = "f needs no g"
since = 2026-11-26
"#;

fn all(table: &Table, crates: &[Surveyed]) -> Vec<String> {
    let round = crates.iter().flat_map(|one| round(table, one)).collect();
    [
        faults(table),
        missing(table, crates),
        forbidden(table, crates),
        unused(table, crates),
        round,
    ]
    .concat()
}

/// The test fails unless there is one fault, which holds all the parts.
fn told(faults: &[String], parts: &[&str]) {
    let [fault] = faults else {
        panic!("{faults:#?}");
    };
    for part in parts {
        assert!(fault.contains(part), "{fault}\nlacks {part}");
    }
}

#[test]
fn code_that_keeps_to_its_table_has_no_fault() {
    assert_eq!(
        all(&table("[]", r#"["low"]"#, ""), &rooms(LOW, HIGH)),
        [""; 0]
    );
}

#[test]
fn a_reference_that_no_row_lists_is_told_with_its_place() {
    told(
        &all(&table("[]", "[]", ""), &rooms(LOW, HIGH)),
        &[
            "in/src/high.rs:1: `crate::low::f` leads to the room `low`",
            "add `low` to the row of `high`",
        ],
    );
}

#[test]
fn references_of_one_file_to_one_room_are_told_once() {
    let twice = "use crate::low::f;\npub fn g() { f() }";
    told(
        &all(&table("[]", "[]", ""), &rooms(LOW, twice)),
        &["in/src/high.rs:1", "(2 references in this file)"],
    );
}

#[test]
fn a_reference_to_what_stands_below_is_told_to_be_turned_round() {
    let low = "\npub fn f() { crate::high::g() }";
    told(
        &all(&table("[]", "[]", ""), &rooms(low, "pub fn g() {}")),
        &[
            "in/src/low.rs:2: `crate::high::g`",
            "`high` stands below",
            "as an argument",
        ],
    );
}

#[test]
fn a_row_that_lists_what_stands_below_it_is_a_fault_of_the_table() {
    told(
        &faults(&table(r#"["high"]"#, "[]", "")),
        &["`low` lists `high`", "row above"],
    );
    told(
        &faults(&table(r#"["low"]"#, "[]", "")),
        &["`low` lists `low`"],
    );
    told(
        &faults(&table(r#"["in-vented"]"#, "[]", "")),
        &["`low` lists `in-vented`"],
    );
}

#[test]
fn a_permission_that_nothing_uses_is_a_fault() {
    told(
        &all(&table("[]", r#"["low"]"#, ""), &rooms(LOW, "")),
        &["`high` may know `low` and doesn't"],
    );
}

#[test]
fn an_exception_holds_while_the_code_needs_it_and_no_longer() {
    let table = table("[]", r#"["low"]"#, BACK);
    let low = "pub fn f() { crate::high::g() }";
    assert_eq!(all(&table, &rooms(low, HIGH)), [""; 0]);
    told(
        &all(&table, &rooms(LOW, HIGH)),
        &[
            "`low` of in-vented no longer knows `high`",
            "delete the exception",
        ],
    );
}

#[test]
fn an_exception_for_what_the_table_could_allow_is_a_fault() {
    let turned = BACK.replace(r#"["low", "high"]"#, r#"["high", "low"]"#);
    told(
        &faults(&table("[]", "[]", &turned)),
        &["it needs no exception"],
    );
    let unknown = BACK.replace("\"low\"", "\"gone\"");
    told(
        &faults(&table("[]", "[]", &unknown)),
        &["an exception names `gone`"],
    );
}

#[test]
fn a_room_without_a_row_and_a_row_without_a_room_are_told() {
    let crates = [invented(&[
        ("lib.rs", "mod low;\nmod new;"),
        ("low.rs", LOW),
        ("new.rs", ""),
    ])];
    let faults = missing(&table("[]", "[]", ""), &crates);
    assert_eq!(faults.len(), 2, "{faults:#?}");
    told(&faults[..1], &["`new` of in-vented has no row"]);
    told(&faults[1..], &["in-vented has no room `high`"]);
    let other = Table::parse("[[crate]]\nname = \"other\"\nwhat = \"\"\nknows = []").unwrap();
    let faults = missing(&other, &crates);
    told(&faults[..1], &["the crate in-vented has no row"]);
    told(&faults[1..], &["the workspace has no crate other"]);
}

#[test]
fn a_root_is_a_room_when_it_does_more_than_list_its_modules() {
    let files = [("lib.rs", "mod low;\npub use low::f;"), ("low.rs", LOW)];
    assert_eq!(invented(&files).rooms().len(), 1);
    let files = [
        ("lib.rs", "mod low;\npub fn g() { low::f() }"),
        ("low.rs", LOW),
    ];
    assert!(invented(&files).rooms().contains("lib"));
}

#[test]
fn a_crate_that_few_may_use_is_refused_to_the_others() {
    let only = "[only]\nother-crate = [\"in-vented/low\"]";
    let table = table("[]", "[]", only);
    let uses = "use other_crate::f;";
    assert_eq!(all(&table, &rooms(uses, "")), [""; 0]);
    let faults = all(&table, &rooms("", uses));
    told(
        &faults[..1],
        &[
            "in/src/high.rs:1",
            "leads to other-crate, which in-vented/low alone may use",
        ],
    );
    told(
        &faults[1..],
        &["`in-vented/low` may know `other-crate` and doesn't"],
    );
}

#[test]
fn a_crate_of_the_workspace_is_refused_to_a_room_that_does_not_list_it() {
    let mut table = table("[]", "[]", "");
    let other = "[[crate]]\nname = \"other-crate\"\nwhat = \"\"\nknows = []";
    table.crates.extend(Table::parse(other).unwrap().crates);
    told(
        &forbidden(&table, &rooms("use other_crate::f;", "")),
        &[
            "in/src/low.rs:1",
            "leads to the crate other-crate, which `low` doesn't know",
        ],
    );
}

#[test]
fn a_ring_of_three_files_is_told_with_what_opens_it_and_may_be_held() {
    let ring = [invented(&[
        ("lib.rs", "mod low;"),
        ("low/mod.rs", "mod a;\nmod b;\npub fn f() { a::f() }"),
        ("low/a.rs", "pub fn f() { super::b::f() }"),
        ("low/b.rs", "pub fn f() { super::f() }"),
    ])];
    let free = table("[]", "[]", "");
    told(
        &round(&free, &ring[0]),
        &[
            "3 files know each other",
            "in/src/low/b.rs",
            "without these it is open",
        ],
    );
    let held = "[[ring]]\ncrate = \"in-vented\"\nfiles = [\"in/src/low/mod.rs\", \"in/src/low/a.rs\", \"in/src/low/b.rs\"]\nuntil = \"\"\nsince = 2026-11-26";
    let held = table("[]", "[]", held);
    assert_eq!(round(&held, &ring[0]), [""; 0]);
    told(&round(&held, &rooms(LOW, HIGH)[0]), &["is open: delete it"]);
}

#[test]
fn two_files_may_know_each_other() {
    let back = "pub fn f() { crate::high::g() }";
    let crates = rooms(back, HIGH);
    assert_eq!(round(&table("[]", "[]", ""), &crates[0]), [""; 0]);
}

#[test]
fn the_picture_marks_what_a_row_knows_and_what_it_should_not() {
    let drawn = draw(&table("[]", r#"["low"]"#, BACK));
    assert!(
        drawn.contains("\n 1 low    \\  !  below\n 2 high   x  \\  above\n"),
        "{drawn}"
    );
    let guide = "a\n<!-- layers -->\nold\n<!-- end of layers -->\nz";
    let placed_in = placed(guide, "new\n").unwrap();
    assert_eq!(
        placed_in,
        "a\n<!-- layers -->\nnew\n<!-- end of layers -->\nz"
    );
    assert!(placed("no marks", "new").is_none());
}

#[test]
fn rows_come_in_an_order_that_the_table_takes() {
    let crates = rooms(LOW, HIGH);
    let printed = rows(&crates[0], &crates);
    let low = printed.find("low\", what = \"\", knows = []").unwrap();
    let high = printed
        .find("high\", what = \"\", knows = [\"low\"]")
        .unwrap();
    assert!(low < high, "{printed}");
}

#[test]
fn a_type_of_a_name_that_another_has_is_named_with_both_files() {
    let one = parsed("one", &[("lib.rs", "mod a;"), ("a.rs", "pub struct Cell;")]);
    let tests = "#[cfg(test)]\nmod tests { struct Cell; }\n";
    let apart = "fn f() { struct Cell; }\nimpl Iterator for Row { type Item = u8; }\n";
    let other = |code: &str| parsed("other", &[("lib.rs", &format!("{tests}{apart}{code}"))]);
    for kind in [
        "struct Cell;",
        "enum Cell {}",
        "trait Cell {}",
        "type Cell = u8;",
    ] {
        told(
            &defined_twice(&[
                parsed("one", &[("lib.rs", "mod a;"), ("a.rs", "pub struct Cell;")]),
                other(kind),
            ]),
            &["Cell", "one/src/a.rs", "other/src/lib.rs"],
        );
    }
    assert!(defined_twice(&[one, other("fn cell() {}")]).is_empty());
}
