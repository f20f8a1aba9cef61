//! Compares units and tables with values that nobody here computed. Each file in
//! `tests/reference` names its source and the reason for its tolerance.

use std::collections::BTreeMap;
use std::path::Path;

use gaugeleaf_calc::formula::Value;
use gaugeleaf_calc::quantity::{Want, read};
use gaugeleaf_calc::unit::Unit;
use gaugeleaf_calc::water::Water;
use gaugeleaf_calc::{Catalog, builtin};

/// The rows of a reference file, by column name.
fn rows(name: &str) -> Vec<BTreeMap<String, String>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("reference")
        .join(name);
    let text = std::fs::read_to_string(path).unwrap();
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    let rows: Vec<_> = lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            assert_eq!(cells.len(), header.len(), "{line}");
            std::iter::zip(&header, cells)
                .map(|(key, cell)| (key.to_string(), cell.to_string()))
                .collect()
        })
        .collect();
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

fn number(row: &BTreeMap<String, String>, key: &str) -> f64 {
    row[key].parse().unwrap()
}

fn close(ours: f64, theirs: f64, tolerance: f64) -> bool {
    (ours - theirs).abs() <= tolerance * theirs.abs()
}

fn entry(catalog: &Catalog, table: &str, column: &str, keys: &[(&str, Value)]) -> f64 {
    match catalog.tables[table].entry(column, keys).unwrap().value() {
        Value::Number(si) => si,
        other => panic!("{table}.{column} holds {other:?}"),
    }
}

fn length(text: &str) -> f64 {
    read(text, &Want::of(Unit::parse("in").unwrap()))
        .unwrap()
        .si
}

#[test]
fn units_agree_with_a_general_purpose_unit_library() {
    for row in rows("units.csv") {
        let unit = Unit::parse(&row["unit"]).unwrap();
        let ours = unit.to_si_as(number(&row, "value"), unit.natural_kind());
        assert!(close(ours, number(&row, "si"), 1e-12), "{row:?}: {ours}");
    }
}

#[test]
fn pipe_sizes_agree_with_a_fluid_mechanics_library() {
    let (catalog, _) = Catalog::load(&builtin());
    for row in rows("pipe-sizes.csv") {
        let keys = [
            ("size", Value::Number(length(&row["size"]))),
            ("schedule", Value::Choice(row["schedule"].clone())),
        ];
        for column in ["od", "wall", "bore"] {
            let ours = entry(&catalog, "pipe-sizes", column, &keys);
            assert!(
                close(ours, number(&row, column), 0.006),
                "{row:?} {column}: {ours}"
            );
        }
    }
}

#[test]
fn wrench_sizes_agree_with_the_standards() {
    let (catalog, _) = Catalog::load(&builtin());
    for row in rows("hex-across-flats.csv") {
        let keys = [("bolt", Value::Number(length(&row["bolt"])))];
        let ours = entry(&catalog, &row["table"], &row["column"], &keys);
        assert!(close(ours, length(&row["size"]), 1e-12), "{row:?}: {ours}");
    }
}

#[test]
fn waters_properties_agree_with_the_iapws_formulations() {
    for row in rows("water.csv") {
        let water = Water::at(number(&row, "temperature"), number(&row, "pressure")).unwrap();
        for (column, ours) in [
            ("density", water.density()),
            ("viscosity", water.viscosity()),
            ("heat_capacity", water.heat_capacity()),
            ("expansion", water.expansion()),
        ] {
            assert!(
                close(ours, number(&row, column), 1e-6),
                "{row:?} {column}: {ours}"
            );
        }
    }
}

#[test]
fn tube_gauges_agree_with_a_fluid_mechanics_library() {
    let (catalog, _) = Catalog::load(&builtin());
    for row in rows("tube-gauges.csv") {
        let keys = [("gauge", Value::Number(number(&row, "gauge")))];
        let ours = entry(&catalog, "tube-gauges", &row["column"], &keys);
        assert!(close(ours, number(&row, "size"), 1e-4), "{row:?}: {ours}");
    }
}

#[test]
fn flange_bolting_agrees_with_the_standard() {
    let (catalog, _) = Catalog::load(&builtin());
    for row in rows("flange-bolting.csv") {
        let keys = [
            ("size", Value::Number(length(&row["size"]))),
            ("class", Value::Choice(row["class"].clone())),
        ];
        let ours = |column| entry(&catalog, "flange-bolting", column, &keys);
        assert!(
            close(ours("bolt_circle"), number(&row, "bolt_circle"), 5e-4),
            "{row:?}"
        );
        assert!(
            close(ours("bolts"), number(&row, "bolts"), 1e-12),
            "{row:?}"
        );
        for column in ["hole", "bolt"] {
            assert!(
                close(ours(column), length(&row[column]), 1e-12),
                "{row:?} {column}"
            );
        }
    }
}

/// Drawn points, not formulas: the nearest tube straight along and straight
/// across a row of each layout, found among the points of the lattice itself.
/// The lattices are those of the TEMA layout angles (from memory).
#[test]
fn spacings_agree_with_the_nearest_points_of_each_lattice() {
    let (catalog, _) = Catalog::load(&builtin());
    let third = std::f64::consts::FRAC_PI_3;
    for (layout, first, second) in [
        ("30", 0.0, third),
        ("60", -third / 2.0, third / 2.0),
        ("90", 0.0, std::f64::consts::FRAC_PI_2),
        (
            "45",
            -std::f64::consts::FRAC_PI_4,
            std::f64::consts::FRAC_PI_4,
        ),
    ] {
        let mut points = Vec::new();
        for a in -6i32..=6 {
            for b in -6i32..=6 {
                let (a, b) = (f64::from(a), f64::from(b));
                points.push((
                    a * first.cos() + b * second.cos(),
                    a * first.sin() + b * second.sin(),
                ));
            }
        }
        let nearest = |along: fn(&(f64, f64)) -> f64, across: fn(&(f64, f64)) -> f64| {
            let ahead = points
                .iter()
                .filter(|point| across(point).abs() < 1e-9 && along(point) > 1e-9);
            ahead.map(along).fold(f64::INFINITY, f64::min)
        };
        for (direction, expected) in [
            ("along-row", nearest(|point| point.0, |point| point.1)),
            ("across-rows", nearest(|point| point.1, |point| point.0)),
        ] {
            let given = [
                ("tube_pitch", "1 in"),
                ("layout", layout),
                ("direction", direction),
            ]
            .map(|(name, text)| gaugeleaf_calc::Argument::new(name, text));
            let answer = catalog
                .calculate("pitch-span", &given, &gaugeleaf_calc::Job::new())
                .unwrap();
            let Some(Value::Number(ours)) = answer.values.get("spacing") else {
                panic!("no spacing for {layout} {direction}: {:?}", answer.problems);
            };
            assert!(
                close(*ours, expected * 0.0254, 1e-12),
                "{layout} {direction}: {ours}"
            );
        }
    }
}
