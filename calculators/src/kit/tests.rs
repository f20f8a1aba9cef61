//! Kits with a slip in each of their parts.

use std::sync::LazyLock;

use super::*;
use crate::builtin;
use crate::source::SourceFile;
use crate::testing::with_hoses;

/// The built-in catalog, with a yard's own table of hoses.
static CATALOG: LazyLock<Catalog> = LazyLock::new(|| with_hoses(HOSES));

const HOSES: &str = r#"[table]
name = "hose-sizes"
title = "Hoses"
source = "hose log"
columns = [
  { name = "bore", label = "Bore", unit = "mm", print = "1", rating = "hose_bore" },
  { name = "layers", label = "Layers", unit = "count", rating = "hose_layers" },
  { name = "od", label = "Hose", unit = "in", print = "0.001", rating = "hose_od" },
  { name = "ferrule", label = "Ferrule", unit = "mm", print = "0.1", rating = "ferrule_od" },
  { name = "rating", label = "Rating", unit = "psi", print = "1", rating = "lance_rating" },
  { name = "roller", label = "Rollers", text = true },
]
key = ["bore", "layers"]
rows = [
  ["4 mm", "2", "0.311", "10.2 mm", "15000 psi", "smooth"],
  ["4 mm", "4", "0.378", "12 mm", "150000 psi", "grooved"],
]
"#;

const HEAD: &str = "[kit]\nname = \"blue\"\ntitle = \"Blue drive\"\n\n[rating]\n";

/// The kit, and each fault as its code and the words that it stands at.
fn read(ratings: &str) -> (Kit, Vec<(&'static str, String)>) {
    let text = format!("{HEAD}{ratings}");
    let (kit, findings) = load("content/equipment/blue.toml", &text, &CATALOG);
    let faults = findings
        .into_iter()
        .map(|one| (one.code.name(), text[one.span].to_string()));
    (kit.expect("a kit"), faults.collect())
}

fn faults(ratings: &str) -> Vec<(&'static str, String)> {
    read(ratings).1
}

#[test]
fn a_rating_has_its_value_its_source_and_who_read_it_when() {
    let (kit, faults) = read(
        "pump_flow = { value = \"8.1 gal/min\", source = \"plate\", read = 2026-11-20, by = \"lead\" }\n\
         lances = { value = 2, source = \"count\", read = \"2026-11-21\" }\n",
    );
    assert_eq!(faults, []);
    assert_eq!(
        (kit.name.as_str(), kit.title.as_str()),
        ("blue", "Blue drive")
    );
    let flow = &kit.ratings["pump_flow"];
    assert_eq!(flow.text.value, "8.1 gal/min");
    assert_eq!(
        (flow.source.as_str(), flow.read.as_str(), flow.by.as_str()),
        ("plate", "2026-11-20", "lead")
    );
    assert_eq!(kit.ratings["lances"].read, "2026-11-21");
    assert_eq!(kit.ratings["lances"].text.value, "2");
}

#[test]
fn a_row_gives_every_rating_that_its_columns_name() {
    let ratings = "hose = { table = \"hose-sizes\", bore = \"4 mm\", layers = 2, by = \"lead\" }\n";
    let (kit, faults) = read(ratings);
    assert_eq!(faults, []);
    let texts: Vec<(&str, &str)> = kit
        .ratings
        .iter()
        .map(|(name, one)| (name.as_str(), one.text.value.as_str()))
        .collect();
    // a bare number of a column in inches, for a rating in millimetres
    assert_eq!(
        texts,
        [
            ("ferrule_od", "10.2 mm"),
            ("hose_bore", "4 mm"),
            ("hose_layers", "2"),
            ("hose_od", "0.311 in"),
            ("lance_rating", "15000 psi"),
        ]
    );
    let hose = &kit.ratings["hose_od"];
    assert_eq!(hose.source, "Hoses, Bore 4 mm, Layers 2: hose log");
    assert_eq!(hose.by, "lead");
    let text = format!("{HEAD}{ratings}");
    assert!(text[hose.text.span.clone()].starts_with("{ table"));
}

#[test]
fn what_is_no_rating_is_told_with_where_it_belongs() {
    assert_eq!(
        faults("pump_flaw = { value = \"8 gal/min\", source = \"plate\" }\n"),
        [("unknown-value", "pump_flaw".to_string())]
    );
    assert_eq!(
        faults("tube_od = { value = \"1 in\", source = \"plate\" }\n"),
        [("misplaced-value", "tube_od".to_string())]
    );
    assert_eq!(
        faults("lances = { value = 2, source = \"count\", red = 2026-11-20 }\n")
            .iter()
            .map(|one| one.0)
            .collect::<Vec<_>>(),
        ["wrong-kind"]
    );
    assert_eq!(
        faults("lances = { value = 2, source = \"count\", bye = \"lead\" }\n"),
        [("unknown-setting", "bye".to_string())]
    );
}

#[test]
fn a_value_outside_its_limits_is_found_at_the_trainers_own_line() {
    let flow = |value: &str, more: &str| {
        format!("pump_flow = {{ value = \"{value}\", source = \"plate\"{more} }}\n")
    };
    let (kit, found) = read(&flow("8100 gal/min", ""));
    assert_eq!(found, [("bad-input", "\"8100 gal/min\"".to_string())]);
    assert!(kit.ratings.is_empty());
    assert_eq!(faults(&flow("8 psi", ""))[0].0, "bad-input");
    let (kit, found) = read(&flow("81 gal/min", ""));
    assert_eq!(found, [("doubtful-input", "\"81 gal/min\"".to_string())]);
    assert_eq!(kit.ratings["pump_flow"].text.value, "81 gal/min");
    assert_eq!(faults(&flow("81 gal/min", ", confirmed = true")), []);
    assert_eq!(
        faults("pump_flow = { value = \"8 gal/min\" }\n")[0].0,
        "missing-setting"
    );
    // in a row, at the row
    let row = "hose = { table = \"hose-sizes\", bore = \"4 mm\", layers = 4 }\n";
    let (kit, found) = read(row);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].0 == "bad-input" && found[0].1.starts_with("{ table"));
    assert_eq!(kit.ratings.len(), 4);
}

#[test]
fn a_rating_is_given_once() {
    let row = "hose = { table = \"hose-sizes\", bore = \"4 mm\", layers = 2 }\n";
    let alone = "hose_od = { value = \"8 mm\", source = \"calliper\" }\n";
    assert_eq!(
        faults(&format!("{row}{alone}")),
        [("same-rating", "hose_od".to_string())]
    );
    assert_eq!(
        faults(&format!("{alone}{row}")),
        [("same-rating", "hose".to_string())]
    );
}

#[test]
fn a_row_is_one_of_a_table_of_the_yards_own() {
    let row = |row: &str| faults(&format!("hose = {{ {row} }}\n"));
    let at = |code, words: &str| vec![(code, words.to_string())];
    assert_eq!(
        row("table = \"hose-size\", bore = \"4 mm\""),
        at("unknown-value", "\"hose-size\"")
    );
    assert_eq!(
        row("table = \"hose-sizes\", boar = \"4 mm\""),
        at("unknown-column", "boar")
    );
    assert_eq!(
        row("table = \"hose-sizes\", bore = \"4 psi\""),
        at("bad-input", "\"4 psi\"")
    );
    for lost in ["bore = \"4 mm\"", "bore = \"5 mm\", layers = 2"] {
        let lost = format!("table = \"hose-sizes\", {lost}");
        assert_eq!(row(&lost), at("no-such-row", "hose"));
    }
    assert_eq!(row("table = \"hose-sizes\""), at("no-such-row", "hose"));
    assert_eq!(
        row("table = \"pipe-sizes\", size = \"3/8\""),
        at("row-without-ratings", "\"pipe-sizes\"")
    );
    assert!(CATALOG.tables["hose-sizes"].own && CATALOG.tables["hose-sizes"].equipment);
    assert!(!CATALOG.example_tables["hose-sizes"].own);
    let (built_in, _) = Catalog::load(&builtin());
    let text = format!("{HEAD}hose = {{ table = \"hose-sizes\", bore = \"5 mm\", layers = 2 }}\n");
    let (_, findings) = load("a.toml", &text, &built_in);
    assert_eq!(findings[0].code.name(), "example-rows");
}

#[test]
fn a_column_names_a_rating_of_its_own_kind() {
    let found = |rating: &str| {
        let text = HOSES.replace("\"lance_rating\"", &format!("\"{rating}\""));
        let mut files = builtin();
        files.push(SourceFile {
            path: "content/equipment/hose-sizes.toml".to_string(),
            text: text.clone(),
        });
        let (_, findings) = Catalog::load(&files);
        let found = findings
            .into_iter()
            .map(|one| (one.code.name(), text[one.span].to_string()));
        found.collect::<Vec<_>>()
    };
    let at = |code, rating: &str| vec![(code, format!("\"{rating}\""))];
    assert_eq!(found("lance_ratings"), at("unknown-value", "lance_ratings"));
    assert_eq!(found("tube_od"), at("unknown-value", "tube_od"));
    assert_eq!(found("max_pitch"), at("from", "max_pitch"));
    assert_eq!(found("pump_rating"), []);
}
