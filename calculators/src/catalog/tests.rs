//! The catalog as a whole: the built-in one, and what loading refuses.

use proptest::prelude::*;

use super::*;
use crate::calculator::{PrintedValue, ProblemKind, Verdict};
use crate::ground::Ground;
use crate::testing::{CATALOG, demonstration};
use crate::{Answer, Argument, SourceFile, builtin};
use gaugeleaf_finding::Finding;

fn load(files: &[(&str, &str)]) -> (Catalog, Vec<Finding>) {
    let files: Vec<SourceFile> = files
        .iter()
        .map(|(path, text)| SourceFile {
            path: (*path).into(),
            text: (*text).into(),
        })
        .collect();
    Catalog::load(&files)
}

fn answer(name: &str, given: &[(&str, &str)]) -> Answer {
    let catalog = CATALOG.clone();
    let given: Vec<Argument> = given
        .iter()
        .map(|(name, text)| Argument::new(name, text))
        .collect();
    catalog.calculate(name, &given, &demonstration()).unwrap()
}

fn text(answer: &Answer, output: &str) -> String {
    CATALOG.language.say(&answer.output(output).unwrap().told())
}

/// A small calculator, to break in one place at a time.
const BOX: &str = r#"
[calculator]
name = "box"
title = "Box"
purpose = "For tests."
not_counted = "Nothing."
[[input]]
name = "side"
label = "Side"
unit = "in"
default = "2 in"
least = "1 in"
most = "9 in"
usual = ["1 in", "5 in"]
[[output]]
name = "area"
label = "Area"
unit = "in2"
formula = "side * side"
[[check]]
name = "size"
case = [ { when = "area > 16 in2", is = "stop", because = "{area} is too much." }, { is = "go", because = "fits" } ]
[[example]]
source = "by hand"
given = { side = "3 in" }
expect = { area = "9 in²" }
[[example]]
source = "by hand"
given = { side = "5 in" }
expect = { area = "25 in²" }
verdict = "stop"
"#;

#[track_caller]
fn broken(from: &str, to: &str) -> (String, String) {
    let text = BOX.replacen(from, to, 1);
    assert_ne!(text, BOX);
    let (_, findings) = load(&[("box.toml", &text)]);
    assert!(!findings.is_empty(), "nothing found in {to}");
    (
        text[findings[0].span.clone()].to_string(),
        findings[0].message.clone(),
    )
}

#[test]
fn the_builtin_catalog_loads_without_findings() {
    let (catalog, findings) = Catalog::load(&builtin());
    assert_eq!(findings, []);
    for calculator in catalog.calculators.values() {
        let answer = catalog
            .calculate(&calculator.name, &[], &demonstration())
            .unwrap();
        assert_eq!(answer.problems, [], "{}", calculator.name);
        let drawn = catalog.draw(&answer);
        assert_eq!(
            drawn.is_some(),
            calculator.figure.is_some(),
            "{}",
            calculator.name
        );
    }
}

/// Common practice, no published source: the stock tube and a channel head.
#[test]
fn a_channel_head_lengthens_the_guide_tube_by_its_depth() {
    let answer = answer(
        "guide-tube-length",
        &[("stock_length", "11.5in"), ("channel_depth", "14in")],
    );
    assert_eq!(text(&answer, "length"), "25 1/2 in");
    assert_eq!(text(&answer, "extra"), "14 in");
}

/// Common practice, no published source: guide tubes of half-inch pipe, whose
/// 0.840 in is that of ASME B36.10M.
#[test]
fn tubes_closer_than_the_guide_tubes_are_taken_every_second_one() {
    let given = [
        ("guide_tube_od", "0.84in"),
        ("max_pitch", "2.5in"),
        ("tube_pitch", "0.75in"),
        ("layout", "30"),
    ];
    let run = answer(
        "pitch-span",
        &[&given[..], &[("direction", "along-row")]].concat(),
    );
    assert_eq!(
        (text(&run, "skip"), text(&run, "set_pitch")),
        ("2".into(), "1 1/2 in".into())
    );
    assert_eq!(run.worst(), Some(Verdict::Caution));
    let given = [
        ("guide_tube_od", "0.84in"),
        ("max_pitch", "2.5in"),
        ("tube_pitch", "1.25in"),
        ("layout", "90"),
    ];
    let run = answer(
        "pitch-span",
        &[&given[..], &[("direction", "across-rows")]].concat(),
    );
    assert_eq!(run.checks[0].is, Verdict::Go);
    assert_eq!(text(&run, "set_pitch"), "1 1/4 in");
}

#[test]
fn where_no_pitch_fits_there_is_none_to_set() {
    let run = answer(
        "pitch-span",
        &[
            ("guide_tube_od", "1 in"),
            ("max_pitch", "1.5 in"),
            ("tube_pitch", "1.9 in"),
            ("layout", "90"),
            ("direction", "along-row"),
        ],
    );
    assert_eq!(run.worst(), Some(Verdict::Stop));
    assert_eq!(run.output("set_pitch").unwrap().reading, None);
    assert_eq!(run.output("margin_low").unwrap().reading, None);
}

#[test]
fn a_pressure_for_a_length_is_refused_with_no_result() {
    let run = answer("guide-tube-length", &[("stock_length", "14psi")]);
    assert_eq!(run.problems[0].input, "stock_length");
    assert_eq!(
        CATALOG.language.say(&run.problems[0].message),
        "`14psi` is a pressure, and a length is wanted"
    );
    assert!(run.outputs.is_empty() && run.checks.is_empty() && run.working.is_empty());
    assert_eq!(run.inputs.len(), 1);
}

#[test]
fn an_unknown_input_is_refused_with_its_nearest_neighbour() {
    let run = answer("guide-tube-length", &[("chanel_depth", "4 in")]);
    let help = run.problems[0].help.as_ref().expect("it is there");
    let said = CATALOG.language.say(help);
    assert_eq!(said, "did you mean channel_depth?");
}

#[test]
fn an_unusual_value_passes_only_once_confirmed() {
    let (catalog, _) = load(&[("box.toml", BOX)]);
    let given = |confirmed| {
        [Argument {
            confirmed,
            ..Argument::new("side", "7")
        }]
    };
    let refused = catalog
        .calculate("box", &given(false), &Job::new())
        .unwrap();
    assert_eq!(refused.problems[0].kind, ProblemKind::Doubtful);
    let passed = catalog.calculate("box", &given(true), &Job::new()).unwrap();
    assert_eq!(text(&passed, "area"), "49 in²");
    assert_eq!(passed.doubts.len(), 1);
    let beyond = [Argument {
        confirmed: true,
        ..Argument::new("side", "10")
    }];
    let refused = catalog.calculate("box", &beyond, &Job::new()).unwrap();
    assert_eq!(refused.problems[0].kind, ProblemKind::Refused);
}

#[test]
fn a_jobs_measurement_reaches_every_calculator_that_takes_it() {
    let catalog = CATALOG.clone();
    let mut job = demonstration();
    job.set("channel_depth", "5 in", Ground::Measured, "");
    let run = catalog.calculate("guide-tube-length", &[], &job).unwrap();
    let PrintedValue::Number(extra) = run.output("extra").unwrap().reading.clone().unwrap() else {
        panic!("not a number");
    };
    assert!((extra.si - 0.127).abs() < 1e-12);
    let job = Job::from([("channel_depth".to_string(), "5 psi".to_string())]);
    let run = catalog.calculate("guide-tube-length", &[], &job).unwrap();
    assert_eq!(run.problems[0].input, "channel_depth");
}

#[test]
fn all_slips_of_a_file_are_told_at_once() {
    let text = BOX
        .replace("unit = \"in\"", "unit = \"furlong\"")
        .replace("label = \"Side\"", "lable = \"Side\"")
        .replace("title = \"", "# title = \"")
        .replace("side * side", "side *")
        .replace("is = \"stop\"", "is = \"halt\"");
    let (_, findings) = load(&[("box.toml", &text)]);
    let codes: Vec<&str> = findings.iter().map(|one| one.code.name()).collect();
    for code in [
        "unit",
        "missing-setting",
        "unknown-setting",
        "formula",
        "verdict",
    ] {
        assert!(codes.contains(&code), "{code}: {codes:?}");
    }
}

#[test]
fn every_slip_in_a_file_is_found_at_its_place() {
    assert_eq!(broken("side * side", "side + 1 psi").0, "side + 1 psi");
    assert_eq!(
        broken("side * side", "side").1,
        "the formula gives a length, and `area` is an area"
    );
    assert_eq!(broken("side * side", "sied * side").0, "sied");
    assert_eq!(
        broken("side * side", "side *").1,
        "a value is missing before the end of the formula"
    );
    assert_eq!(broken("{area} is", "{aera} is").0, "aera");
    assert_eq!(
        broken("area > 16 in2", "area").1,
        "`when` wants a condition"
    );
    assert_eq!(
        broken("unit = \"in\"", "unit = \"furlong\"").0,
        "\"furlong\""
    );
    assert_eq!(
        broken("default = \"2 in\"", "default = \"2 psi\"").0,
        "\"2 psi\""
    );
    assert_eq!(
        broken("label = \"Side\"", "lable = \"Side\"").1,
        "there is no setting named `lable` here"
    );
    assert_eq!(broken("is = \"stop\"", "is = \"halt\"").0, "\"halt\"");
    assert_eq!(
        broken(
            "title = \"Box\"",
            "title = \"Box\"\nhazard = { word = \"BEWARE\", text = \"x\" }"
        )
        .0,
        "\"BEWARE\""
    );
    assert_eq!(broken("name = \"box\"", "name = \"bax\"").0, "\"bax\"");
    assert_eq!(
        broken("default = \"2 in\"", "from = \"nowhere\"").0,
        "\"nowhere\""
    );
    assert!(
        broken("[[output]]", "[[output]]\nname = \"x\"")
            .1
            .starts_with("these settings can't be read")
    );
}

#[test]
fn a_worked_example_off_by_one_digit_shows_both_values() {
    let (place, message) = broken("9 in²", "8 in²");
    assert_eq!(place, "\"8 in²\"");
    assert!(
        message.contains("`8 in²`") && message.contains("`9 in²`"),
        "{message}"
    );
    assert_eq!(broken("verdict = \"stop\"", "verdict = \"go\"").0, "\"go\"");
}

#[test]
fn circles_are_found_inside_a_calculator_and_between_them() {
    let inside =
        "[[term]]\nname = \"t\"\nlabel = \"T\"\nunit = \"in2\"\nformula = \"area\"\n[[output]]";
    let text = BOX
        .replacen("[[output]]", inside, 1)
        .replacen("side * side", "t", 1);
    let (_, findings) = load(&[("box.toml", &text)]);
    assert_eq!(findings[0].code.name(), "circle");
    let length = |text: &str| {
        text.replacen(
            "in2\"\nformula = \"side * side\"",
            "in\"\nformula = \"side + side\"",
            1,
        )
        .replacen("area > 16 in2", "area > 16 in", 1)
    };
    let one = length(BOX).replacen("default = \"2 in\"", "from = \"bax.area\"", 1);
    let two = length(BOX).replacen("\"box\"", "\"bax\"", 1).replacen(
        "default = \"2 in\"",
        "from = \"box.area\"",
        1,
    );
    let (_, findings) = load(&[("box.toml", &one), ("bax.toml", &two)]);
    assert_eq!(
        findings
            .iter()
            .filter(|finding| finding.code.name() == "circle")
            .count(),
        2,
        "{findings:?}"
    );
}

#[test]
fn an_output_feeds_another_calculators_input() {
    let first = BOX
        .replacen(
            "in2\"\nformula = \"side * side\"",
            "in\"\nformula = \"side + side\"",
            1,
        )
        .replacen("area > 16 in2", "area > 16 in", 1)
        .replacen("9 in²", "6 in", 1)
        .replacen("25 in²", "10 in", 1)
        .replacen("verdict = \"stop\"", "", 1);
    let second = BOX.replacen("\"box\"", "\"bax\"", 1).replacen(
        "default = \"2 in\"",
        "from = \"box.area\"",
        1,
    );
    let (catalog, findings) = load(&[("box.toml", &first), ("bax.toml", &second)]);
    assert_eq!(findings, []);
    let mut job = Job::new();
    let open = catalog.calculate("bax", &[], &job).unwrap();
    assert_eq!(text(&open, "area"), "not known");
    job.shows_defaults = true;
    let run = catalog.calculate("bax", &[], &job).unwrap();
    assert_eq!(text(&run, "area"), "16 in²");
    assert_eq!(run.worst(), Some(Verdict::Open));
}

#[test]
fn tables_are_read_and_looked_up() {
    let (catalog, _) = Catalog::load(&builtin());
    let table = &catalog.tables["hex-across-flats"];
    let key = [("bolt", crate::formula::Value::Number(0.009525))];
    assert_eq!(table.entry("wrench", &key).unwrap().text(), "9/16 in");
    let twice = "[table]\nname=\"t\"\ntitle=\"T\"\nsource=\"s\"\ncolumns=[{name=\"a\",unit=\"in\"}]\nkey=[\"a\"]\nrows=[[\"1 in\"],[\"1 in\"]]";
    let (_, findings) = load(&[("t.toml", twice)]);
    assert_eq!(findings[0].code.name(), "row");
}

#[test]
fn empty_and_broken_files_are_findings() {
    let heads = ["[calculator]\n", "[table]\n", "[[rating]]\n"];
    let broken = ["", "[calculator", "x = 1", "\u{0}"];
    for text in heads.into_iter().chain(broken) {
        let (_, findings) = load(&[("a.toml", text)]);
        assert!(!findings.is_empty(), "{text}");
    }
}

proptest! {
    #[test]
    fn a_file_with_any_one_byte_changed_never_panics(at in 0usize..BOX.len(), byte in any::<char>()) {
        let mut text: Vec<char> = BOX.chars().collect();
        let at = at.min(text.len() - 1);
        text[at] = byte;
        let text: String = text.into_iter().collect();
        let (catalog, findings) = load(&[("box.toml", &text)]);
        for finding in &findings {
            prop_assert!(text.get(finding.span.clone()).is_some(), "{finding:?}");
        }
        let _ = catalog.calculate("box", &[], &Job::new());
    }
}
