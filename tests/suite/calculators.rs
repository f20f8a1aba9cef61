//! Compares calculators with values that nobody here computed.
//!
//! Each file in `tests/reference/calculators` opens with comment lines that name
//! the calculator, the source, the relative tolerance and its reason. A line
//! `# absolute: NAME VALUE` gives one output a tolerance in SI beside it, for what is a
//! small difference of large numbers. Columns:
//!
//! - `in.NAME`: an input as typed. An empty cell gives none, and the calculator's own default holds.
//! - `out.NAME`: the expected result, in SI or a choice; `none` where there must be no such result.
//! - `verdict`: the worst verdict, or `not stop`.
//! - `case`: what the row is about, for whoever reads it.
//!
//! Of an empty cell in `out.NAME` or `verdict` nothing is expected.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use gaugeleaf_calc::calculator::Verdict;
use gaugeleaf_calc::formula::Value;
use gaugeleaf_calc::message::in_english;
use gaugeleaf_calc::{Answer, Argument, Catalog, Job, SourceFile, builtin};

struct Reference {
    name: String,
    calculator: String,
    tolerance: f64,
    /// By output, in SI.
    absolute: BTreeMap<String, f64>,
    /// The cells that say something, by column.
    rows: Vec<BTreeMap<String, String>>,
}

fn parse(name: &str, text: &str) -> Reference {
    let heads = |key: &str| -> Vec<&str> {
        let start = format!("# {key}: ");
        text.lines()
            .filter_map(|line| line.strip_prefix(&start))
            .collect()
    };
    let head = |key: &str| match heads(key)[..] {
        [one] => one,
        _ => panic!("{name} names not one {key}"),
    };
    assert!(!head("source").is_empty());
    let number = |text: &str| -> f64 {
        let read = text.parse();
        read.unwrap_or_else(|_| panic!("{name}: a tolerance is a number, not {text}"))
    };
    let tolerance = head("tolerance").split_whitespace().next().unwrap();
    let mut lines = text
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty());
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    for column in &header {
        let known = column.starts_with("in.") || column.starts_with("out.");
        assert!(
            known || ["verdict", "case"].contains(column),
            "{name}: column {column}"
        );
    }
    let absolute = heads("absolute").into_iter().map(|line| {
        let (output, value) = line.split_once(' ').unwrap();
        let column = format!("out.{output}");
        assert!(header.contains(&&*column), "{name} has no {column}");
        (output.to_string(), number(value))
    });
    let rows = lines.map(|line| {
        let cells: Vec<&str> = line.split(',').collect();
        assert_eq!(cells.len(), header.len(), "{name}: {line}");
        std::iter::zip(&header, cells)
            .filter(|(_, cell)| !cell.is_empty())
            .map(|(key, cell)| (key.to_string(), cell.to_string()))
            .collect()
    });
    Reference {
        name: name.to_string(),
        calculator: head("calculator").to_string(),
        tolerance: number(tolerance),
        absolute: absolute.collect(),
        rows: rows.collect(),
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
    let read = |path: &PathBuf| {
        let name = path.file_name().unwrap().to_string_lossy();
        parse(&name, &fs::read_to_string(path).unwrap())
    };
    paths.iter().map(read).collect()
}

/// What an output came to; `none` is one that the calculator has, without a result here.
fn result_agrees(reference: &Reference, answer: &Answer, output: &str, expected: &str) -> bool {
    let ours = answer.values.get(output);
    if expected == "none" {
        return ours.is_none() && answer.outputs.iter().any(|one| one.name == output);
    }
    match (ours, expected.parse::<f64>()) {
        (Some(Value::Number(ours)), Ok(theirs)) => {
            let absolute = reference.absolute.get(output).copied().unwrap_or(0.0);
            (ours - theirs).abs() <= reference.tolerance * theirs.abs().max(1e-300) + absolute
        }
        (Some(Value::Choice(ours)), _) => ours == expected,
        _ => false,
    }
}

/// The worst of the checks. One that stops does so whatever the others lack.
fn verdict(answer: &Answer) -> Option<Verdict> {
    let stop = Some(Verdict::Stop);
    if answer.checks.iter().any(|check| check.would == stop) {
        return stop;
    }
    answer.would()
}

/// Every disagreement of one file's rows.
fn disagreements(catalog: &Catalog, reference: &Reference) -> Vec<String> {
    let name = &reference.name;
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
                "{name}: there is no calculator {}",
                reference.calculator
            )];
        };
        if let Some(problem) = answer.problems.first() {
            wrong.push(format!("{name}: {row:?}: {}", in_english(&problem.message)));
            continue;
        }
        for (key, expected) in row {
            if let Some(output) = key.strip_prefix("out.") {
                if !result_agrees(reference, &answer, output, expected) {
                    let ours = answer.values.get(output);
                    wrong.push(format!("{name}: {row:?}: {key} is {ours:?}"));
                }
            } else if key == "verdict" {
                let ours = verdict(&answer);
                let agrees = match &**expected {
                    "not stop" => ours != Some(Verdict::Stop),
                    word => ours.is_some_and(|is| is.word() == word),
                };
                if !agrees {
                    wrong.push(format!("{name}: {row:?}: the verdict is {ours:?}"));
                }
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
    let elsewhere = ["guide-tube-length", "pitch-span"];
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

/// A calculator with a result that may be lacking, a choice and two checks.
const SHARE: &str = r#"
[calculator]
name = "share"
title = "Share"
purpose = "For tests."
not_counted = "Nothing."
[[input]]
name = "part"
label = "Part"
unit = "m"
from = "length"
least = "0 m"
most = "99 m"
usual = ["0 m", "99 m"]
[[input]]
name = "whole"
label = "Whole"
unit = "m"
default = "4 m"
least = "0 m"
most = "99 m"
usual = ["0 m", "99 m"]
[[input]]
name = "spare"
label = "Spare"
unit = "m"
from = "length"
least = "0 m"
most = "99 m"
usual = ["0 m", "99 m"]
[[output]]
name = "share"
label = "Share"
unit = "1"
print = "0.01"
only_if = "whole > 0 m"
formula = "part / whole"
[[output]]
name = "larger"
label = "Larger"
choices = [ { name = "first", label = "First" }, { name = "second", label = "Second" } ]
formula = 'if part > whole then "first" else "second"'
[[check]]
name = "part"
case = [ { when = "part > 8 m", is = "stop", because = "too long" }, { is = "go", because = "fits" } ]
[[check]]
name = "spare"
case = [ { when = "spare < part", is = "caution", because = "short" }, { is = "go", because = "enough" } ]
[[example]]
source = "by hand"
given = { part = "1 m", whole = "4 m", spare = "2 m" }
expect = { share = "0.25" }
verdict = "go"
[[example]]
source = "by hand"
given = { part = "3 m", whole = "4 m", spare = "2 m" }
expect = { share = "0.75" }
verdict = "caution"
"#;

/// What an input hangs on that is not given.
const LENGTH: &str = r#"
[[measurement]]
name = "length"
label = "Length"
unit = "m"
least = "0 m"
most = "99 m"
usual = ["0 m", "99 m"]
"#;

/// How many of the rows' cells disagree, in a file of these columns.
fn wrong(columns: &str, rows: &str) -> usize {
    let file = |path: &str, text: &str| SourceFile {
        path: path.into(),
        text: text.into(),
    };
    let (catalog, findings) =
        Catalog::load(&[file("share.toml", SHARE), file("length.toml", LENGTH)]);
    assert_eq!(findings, []);
    let mut head =
        "# calculator: share\n# source: by hand\n# tolerance: 0.01 two figures\n".to_string();
    if columns.contains("out.share") {
        head += "# absolute: share 0.003\n";
    }
    let reference = parse("share.csv", &format!("{head}{columns}\n{rows}\n"));
    disagreements(&catalog, &reference).len()
}

#[test]
fn a_result_agrees_within_the_relative_and_the_absolute_tolerance_together() {
    // A quarter: 0.0025 of it, and 0.003.
    let off = |expected: &str| wrong("in.part,out.share", &format!("1 m,{expected}"));
    assert_eq!(["0.2446", "0.25", "0.2554"].map(off), [0, 0, 0]);
    assert_eq!(
        ["0.2444", "0.2557", "-0.25", "first"].map(off),
        [1, 1, 1, 1]
    );
    assert_eq!(wrong("in.part,out.share", "0 m,0.0029\n0 m,0.0031"), 1);
    assert_eq!(
        wrong("in.part,out.larger", "5 m,first\n1 m,second\n1 m,first"),
        1
    );
}

#[test]
fn an_empty_cell_gives_nothing_and_expects_nothing() {
    // The default of 4 m holds.
    assert_eq!(
        wrong("in.part,in.whole,out.share", "1 m,,0.25\n1 m,2 m,0.5"),
        0
    );
    assert_eq!(wrong("in.part,in.whole,out.share", "1 m,,0.5\n1 m,2 m,"), 1);
    assert_eq!(
        wrong("in.part,in.spare,verdict", "1 m,1 m,\n1 m,1 m,stop"),
        1
    );
    assert_eq!(wrong("in.part,in.spare,out.share,verdict", "1 m,,0.25,"), 0);
}

#[test]
fn none_is_a_result_that_the_calculator_has_but_not_here() {
    let columns = "in.part,in.whole,out.share";
    assert_eq!(wrong(columns, "1 m,0 m,none"), 0);
    assert_eq!(wrong(columns, "1 m,0 m,0.25\n1 m,4 m,none"), 2);
    assert_eq!(wrong("in.part,out.sharp", "1 m,none"), 1);
}

#[test]
fn a_verdict_is_the_worst_and_a_stop_needs_no_other_check() {
    let columns = "in.part,in.spare,verdict";
    let rows = "1 m,1 m,go\n2 m,1 m,caution\n9 m,1 m,stop\n9 m,,stop";
    assert_eq!(wrong(columns, rows), 0);
    assert_eq!(wrong(columns, "1 m,1 m,not stop\n2 m,1 m,not stop"), 0);
    let rows = "2 m,1 m,go\n9 m,1 m,not stop\n9 m,,not stop\n1 m,,go\n1 m,1 m,none";
    assert_eq!(wrong(columns, rows), 5);
}

#[test]
fn what_a_file_does_not_say_clearly_is_refused() {
    let refused = |columns: &str| {
        let columns = columns.to_string();
        std::panic::catch_unwind(move || wrong(&columns, "1 m,0.25")).is_err()
    };
    assert!(!refused("in.part,out.share"));
    assert!(refused("in.part,share"), "a column of no kind");
    let head = "# calculator: share\n# source: by hand\n# tolerance: 0 none\n";
    let unknown = format!("{head}# absolute: shares 1\nin.part,out.share\n");
    let said = std::panic::catch_unwind(|| parse("share.csv", &unknown).rows.len());
    assert!(said.is_err(), "a tolerance for no column");
    assert!(refused("in.part,out.share,verdict"), "a row too short");
}
