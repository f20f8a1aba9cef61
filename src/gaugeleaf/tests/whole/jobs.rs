//! The demonstration handbook's prepared jobs, and the sheet on the command line.

use std::path::Path;
use std::process::{Command, Output};

use gaugeleaf::blocks::registry::shapes;
use gaugeleaf::handbook::files::read;
use gaugeleaf::handbook::page::Page;
use gaugeleaf::handbook::whole::assemble;
use gaugeleaf::session::asked;
use gaugeleaf::values::scope::JobScope;
use gaugeleaf_calc::calculator::Verdict;
use gaugeleaf_calc::catalog::SetupSheet;
use gaugeleaf_calc::message::in_english;

/// Each prepared job of the demonstration handbook, with its sheet.
fn sheets() -> Vec<(String, SetupSheet)> {
    let root = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."));
    let (files, _) = read(root);
    let (graph, _, _) = asked(&files);
    let (handbook, _) = assemble(&files, &shapes());
    let sheet = |page: &Page| {
        let settings = &page.outline.settings;
        let job = settings.job.as_ref()?.value.clone();
        let mut findings = Vec::new();
        let own = JobScope::prepared(&graph, &job, "");
        let scope = own.with(&graph, &page.path, &settings.given, &mut findings);
        assert_eq!(findings, [], "{job}");
        Some((job, graph.catalog.setup_sheet(scope.job())))
    };
    handbook.pages.iter().filter_map(sheet).collect()
}

fn sheet_of(sheets: &[(String, SetupSheet)], job: &str) -> SetupSheet {
    let found = sheets.iter().find(|(name, _)| name == job);
    found
        .map(|(_, sheet)| sheet.clone())
        .expect("a prepared job")
}

#[test]
fn go_caution_and_stop_each_occur_across_the_jobs() {
    let sheets = sheets();
    assert_eq!(sheets.len(), 3);
    for is in Verdict::ALL {
        assert!(sheets.iter().any(|(_, sheet)| sheet.count(is) > 0), "{is}");
    }
    assert_eq!(sheet_of(&sheets, "T1").count(Verdict::Stop), 0);
    assert_eq!(
        sheet_of(&sheets, "T1")
            .missing()
            .filter(|one| one.used)
            .count(),
        0
    );
    assert_eq!(sheet_of(&sheets, "T2").worst(), Some(Verdict::Open));
    assert!(sheet_of(&sheets, "T2").missing().any(|one| one.used));
}

#[test]
fn the_job_that_stops_says_what_to_do_and_every_job_is_worked_out() {
    let sheets = sheets();
    let stopped = sheet_of(&sheets, "T3");
    let verdicts = stopped.answers.iter().flat_map(|answer| &answer.checks);
    let stops: Vec<String> = verdicts
        .filter(|verdict| verdict.is == Verdict::Stop)
        .map(|verdict| in_english(&verdict.because))
        .collect();
    assert_eq!(stops.len(), 1, "{stops:?}");
    assert!(stops[0].contains("Fit a longer rail"), "{stops:?}");
    for (job, sheet) in &sheets {
        assert_eq!(sheet.unanswered().count(), 0, "{job}");
    }
}

fn run(arguments: &[&str]) -> Output {
    let folder = tempfile::tempdir().expect("a temporary folder");
    Command::new(env!("CARGO_BIN_EXE_gaugeleaf"))
        .arg("sheet")
        .args(arguments)
        .current_dir(folder.path())
        .output()
        .expect("the program runs")
}

#[test]
fn the_sheet_for_machines_has_every_calculator_and_what_is_missing() {
    let output = run(&["channel_depth=9in", "--json"]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let sheet: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let missing = sheet["missing"].as_array().expect("a list");
    assert!(missing.contains(&"tube_od".into()) && !missing.contains(&"channel_depth".into()));
    assert_eq!(sheet["measurements"]["channel_depth"]["text"], "9 in");
    let (catalog, _) = gaugeleaf_calc::Catalog::load(&gaugeleaf_calc::builtin());
    assert_eq!(
        sheet["calculators"].as_array().map(Vec::len),
        Some(catalog.calculators.len())
    );
    let verdicts = ["go", "caution", "stop"].map(|is| sheet["verdicts"][is].as_u64());
    assert!(verdicts.iter().all(Option::is_some));
}

#[test]
fn a_value_that_is_no_measurement_is_refused_with_its_place() {
    let output = run(&["chanel_depth=9in"]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(
        said.contains("command line:1:17") && said.contains("channel_depth"),
        "{said}"
    );
    assert_eq!(run(&["channel_depth=9psi"]).status.code(), Some(2));
}
