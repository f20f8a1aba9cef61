//! Compares calculators with values that nobody here computed.
//!
//! Each file in `tests/reference/calculators` opens with comment lines that name
//! the calculator, the source, the relative tolerance and its reason. Columns
//! `in.NAME` hold an input as typed; columns `out.NAME` hold the expected result
//! in SI, `verdict` the worst verdict.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use gaugeleaf_calc::formula::Value;
use gaugeleaf_calc::{Argument, Catalog, Job, builtin};

struct Reference {
    name: String,
    calculator: String,
    tolerance: f64,
    rows: Vec<BTreeMap<String, String>>,
}

fn read(path: &Path) -> Reference {
    let name = path.file_name().unwrap().to_string_lossy().into_owned();
    let text = fs::read_to_string(path).unwrap();
    let head = |key: &str| {
        let line = text
            .lines()
            .find_map(|line| line.strip_prefix(&format!("# {key}: ")));
        line.unwrap_or_else(|| panic!("{name} names no {key}"))
            .to_string()
    };
    assert!(!head("source").is_empty());
    let tolerance = head("tolerance");
    let tolerance = tolerance
        .split_whitespace()
        .next()
        .unwrap()
        .parse()
        .unwrap_or_else(|_| panic!("{name}: the tolerance is a number, then its reason"));
    let mut lines = text
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty());
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    let rows = lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            assert_eq!(cells.len(), header.len(), "{name}: {line}");
            std::iter::zip(&header, cells)
                .map(|(key, cell)| (key.to_string(), cell.to_string()))
                .collect()
        })
        .collect();
    Reference {
        calculator: head("calculator"),
        tolerance,
        rows,
        name,
    }
}

fn all() -> Vec<Reference> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/calculators");
    let mut paths: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "csv"))
        .collect();
    paths.sort();
    paths.iter().map(|path| read(path)).collect()
}

/// Every disagreement of one file's rows.
fn disagreements(catalog: &Catalog, reference: &Reference) -> Vec<String> {
    let mut wrong = Vec::new();
    for row in &reference.rows {
        let given: Vec<Argument> = row
            .iter()
            .filter_map(|(key, text)| {
                Some(Argument {
                    confirmed: true,
                    ..Argument::new(key.strip_prefix("in.")?, text)
                })
            })
            .collect();
        let mut job = Job::new();
        job.shows_defaults = true;
        let Some(answer) = catalog.calculate(&reference.calculator, &given, &job) else {
            return vec![format!(
                "{}: there is no calculator {}",
                reference.name, reference.calculator
            )];
        };
        if let Some(problem) = answer.problems.first() {
            wrong.push(format!("{}: {row:?}: {}", reference.name, problem.message));
            continue;
        }
        for (key, expected) in row {
            let ours = match key.strip_prefix("out.") {
                Some(output) => answer.values.get(output).cloned(),
                None if key == "verdict" => {
                    answer.would().map(|is| Value::Choice(is.word().into()))
                }
                None => continue,
            };
            let agrees = match (&ours, expected.parse::<f64>()) {
                (Some(Value::Number(ours)), Ok(theirs)) => {
                    (ours - theirs).abs() <= reference.tolerance * theirs.abs().max(1e-300)
                }
                (Some(Value::Choice(ours)), _) => ours == expected,
                _ => false,
            };
            if !agrees {
                wrong.push(format!("{}: {row:?}: {key} is {ours:?}", reference.name));
            }
        }
    }
    wrong
}

#[test]
fn every_calculator_agrees_with_its_outside_references() {
    let (catalog, findings) = Catalog::load(&builtin());
    assert_eq!(findings, []);
    let wrong: Vec<String> = all()
        .iter()
        .flat_map(|reference| disagreements(&catalog, reference))
        .collect();
    assert!(
        wrong.is_empty(),
        "{} disagreements:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn every_calculator_has_a_reference_and_the_catalogue_has_600_points() {
    let (catalog, _) = Catalog::load(&builtin());
    let references = all();
    // Checked in `reference.rs`, or made of additions alone.
    let elsewhere = ["guide-tube-length", "hose-stop-range", "pitch-span"];
    let without: Vec<&String> = catalog
        .calculators
        .keys()
        .filter(|name| {
            !references
                .iter()
                .any(|reference| reference.calculator == **name)
        })
        .filter(|name| !elsewhere.contains(&name.as_str()))
        .collect();
    assert!(without.is_empty(), "{without:?} have no reference");
    let points: usize = references
        .iter()
        .flat_map(|reference| &reference.rows)
        .map(|row| row.keys().filter(|key| key.starts_with("out.")).count())
        .sum();
    assert!(points >= 600, "only {points} points");
}
