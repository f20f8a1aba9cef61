//! `calculate` on the command line: what it prints, and how it refuses.

use std::process::{Command, Output};

fn run(arguments: &[&str]) -> Output {
    let folder = tempfile::tempdir().expect("a temporary folder");
    Command::new(env!("CARGO_BIN_EXE_gaugeleaf"))
        .arg("calculate")
        .args(arguments)
        .current_dir(folder.path())
        .output()
        .expect("the program runs")
}

fn said(output: &Output) -> (String, String) {
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (text(&output.stdout), text(&output.stderr))
}

fn json(arguments: &[&str]) -> serde_json::Value {
    let output = run(&[arguments, &["--json"]].concat());
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    serde_json::from_slice(&output.stdout).expect("JSON")
}

#[test]
fn the_length_behind_a_channel_head_is_stock_plus_depth() {
    let output = run(&[
        "guide-tube-length",
        "stock_length=11.5in",
        "channel_depth=14in",
    ]);
    let (out, _) = said(&output);
    assert_eq!(output.status.code(), Some(0));
    assert!(
        out.contains("25 1/2 in (647 mm), rounded down to 1/8 in"),
        "{out}"
    );
}

#[test]
fn the_pitch_skips_tubes_with_a_caution_or_goes() {
    let drive = ["pitch-span", "guide_tube_od=0.84in", "max_pitch=2.5in"];
    let first = json(
        &[
            &drive[..],
            &["tube_pitch=0.75in", "layout=30", "direction=along-row"],
        ]
        .concat(),
    );
    assert_eq!(first["outputs"]["skip"]["value"], 2.0);
    assert_eq!(first["outputs"]["set_pitch"]["text"], "1 1/2 in");
    assert_eq!(first["verdicts"][0]["is"], "caution");
    let second = json(
        &[
            &drive[..],
            &["layout=90", "direction=across-rows", "tube_pitch=1.25in"],
        ]
        .concat(),
    );
    assert_eq!(second["verdicts"][0]["is"], "go");
}

#[test]
fn every_calculator_answers_with_its_defaults() {
    let (catalog, _) = gaugeleaf_calc::Catalog::load(&gaugeleaf_calc::builtin());
    for name in catalog.calculators.keys() {
        let answer = json(&[name]);
        assert_eq!(answer["calculator"], name.as_str());
        let outputs = answer["outputs"].as_object().expect("outputs");
        assert!(!outputs.is_empty(), "{name}");
    }
}

#[test]
fn a_limit_says_how_far_an_input_may_go() {
    let arguments = [
        "guide-tube-length",
        "stock_length=10in",
        "channel_depth=9in",
        "--limit",
        "channel_depth",
    ];
    let (out, _) = said(&run(&arguments));
    assert!(out.contains("go up to 38 in, then caution"), "{out}");
    let answer = json(&arguments);
    assert_eq!(answer["limits"][0]["high"]["text"], "38 in");
    let wrong = run(&["pitch-span", "--limit", "layout"]);
    assert_eq!(wrong.status.code(), Some(2));
}

#[test]
fn a_tolerance_shows_the_span_of_the_result() {
    let arguments = [
        "guide-tube-length",
        "stock_length=10in",
        "channel_depth=14 in +- 1/8 in",
    ];
    let (out, _) = said(&run(&arguments));
    assert!(
        out.contains("inside the tolerance 23 7/8 in to 24 1/8 in"),
        "{out}"
    );
}

#[test]
fn machines_get_the_quantities_in_si_and_as_printed() {
    let answer = json(&[
        "guide-tube-length",
        "stock_length=12in",
        "channel_depth=9 in",
    ]);
    assert_eq!(answer["calculator"], "guide-tube-length");
    assert_eq!(answer["inputs"]["channel_depth"]["si"], 0.2286);
    assert_eq!(answer["inputs"]["channel_depth"]["text"], "9 in");
    assert_eq!(answer["outputs"]["length"]["unit"], "in");
    assert_eq!(answer["outputs"]["length"]["also"], "533 mm");
    assert!(
        answer["working"]
            .as_array()
            .is_some_and(|lines| !lines.is_empty())
    );
}

#[test]
fn a_pressure_for_a_length_exits_2_with_a_finding_that_names_it() {
    for arguments in [
        &["guide-tube-length", "stock_length=14psi"][..],
        &["guide-tube-length", "stock_length=14psi", "--json"],
    ] {
        let output = run(arguments);
        let (out, err) = said(&output);
        assert_eq!((output.status.code(), out.as_str()), (Some(2), ""));
        assert!(
            err.contains("stock_length=14psi")
                && err.contains("pressure")
                && err.contains("length"),
            "{err}"
        );
    }
}

#[test]
fn a_misspelt_calculator_or_input_offers_the_nearest() {
    let (_, err) = said(&run(&["guide-tube-lenght"]));
    assert!(err.contains("guide-tube-length"), "{err}");
    let (_, err) = said(&run(&["guide-tube"]));
    assert!(
        err.contains("write guide-tube-length or guide-tube-sag"),
        "{err}"
    );
    let (_, err) = said(&run(&["guide-tube-length", "--limit", "depth"]));
    assert!(
        err.contains("--limit depth") && err.contains("channel_depth"),
        "{err}"
    );
    let output = run(&["guide-tube-length", "chanel_depth=9in"]);
    let (_, err) = said(&output);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        err.contains("`chanel_depth`") && err.contains("channel_depth?"),
        "{err}"
    );
}

#[test]
fn odd_input_is_refused_and_never_repaired() {
    for input in [
        "",
        "14..5",
        "1 1/0 in",
        "1e999 in",
        "NaN",
        "in",
        "14 in 3",
        "-\u{1F527}",
    ] {
        let output = run(&["guide-tube-length", &format!("channel_depth={input}")]);
        assert_eq!(output.status.code(), Some(2), "{input:?}: {output:?}");
    }
}
