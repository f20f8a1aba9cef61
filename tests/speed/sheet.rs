//! How fast the setup sheet of the first demonstration job is evaluated, and whether its
//! values and verdicts come in under a millisecond.
//!
//! Run with `cargo run --release -p gaugeleaf-tests --example sheet`. It evaluates the
//! graph in values and verdicts alone, the sheet with its texts, and every calculator by
//! itself, in the same run, so that the ratios can be compared between machines. The sheet is
//! worked twice more: once with everything assumed that may be, and once with those same values
//! measured, where no verdict has to be settled over a usual band. The difference is what ground
//! costs that has to be followed.

use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use gaugeleaf::blocks::registry::shapes;
use gaugeleaf::handbook::files::read;
use gaugeleaf::handbook::whole::assemble;
use gaugeleaf::session::asked;
use gaugeleaf::values::graph::{Graph, Job};
use gaugeleaf::values::scope::JobScope;
use gaugeleaf_calc::catalog::Catalog;
use gaugeleaf_calc::ground::Ground;

/// Turns that the kinds take, so that all meet the same disturbances, and evaluations a
/// turn, so that each is measured warm too.
const TURNS: usize = 50;
const A_TURN: usize = 8;

const PAGE: &str = "content/jobs/t1.md";

/// The demonstration's graph, and the job's values as the published page takes them.
fn demonstration() -> (Graph, Job) {
    let (files, _) = read(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/..")));
    let (graph, _, mut findings) = asked(&files);
    let (handbook, _) = assemble(&files, &shapes());
    let page = handbook.pages.iter().find(|page| page.path == PAGE);
    let given = &page.expect("the job's page").outline.settings.given;
    let job = JobScope::prepared(&graph, "T1", "")
        .with(&graph, PAGE, given, &mut findings)
        .job()
        .clone();
    assert!(findings.is_empty(), "{findings:?}");
    (graph, job)
}

fn turn<T>(times: &mut Vec<Duration>, work: impl Fn() -> T) {
    for _ in 0..A_TURN {
        let start = Instant::now();
        black_box(work());
        times.push(start.elapsed());
    }
}

fn median(mut times: Vec<Duration>) -> f64 {
    times.sort();
    times[times.len() / 2].as_secs_f64() * 1e6
}

/// What values and verdicts of the whole graph may cost, in microseconds.
const PROMISED: f64 = 1000.0;

/// The job without the values that may be assumed, and with the assumed ones as if measured.
fn assumed_and_measured(catalog: &Catalog, job: &Job) -> (Job, Job) {
    let (mut assumed, mut measured) = (Job::new(), job.clone());
    for (name, held) in job.iter() {
        let usual = catalog
            .named
            .get(name)
            .and_then(|named| named.assumed.as_ref());
        match usual {
            Some(usual) => measured.set(name, &usual.value, Ground::Measured, ""),
            None => assumed.set(name, &held.text, held.ground, &held.from),
        }
    }
    (assumed, measured)
}

fn main() -> std::process::ExitCode {
    let (Graph { catalog, .. }, job) = demonstration();
    let mut outcomes = Vec::new();
    let mut sheets = Vec::new();
    let (assumed, measured) = assumed_and_measured(&catalog, &job);
    let (mut assumed_sheets, mut measured_sheets) = (Vec::new(), Vec::new());
    let mut singles = Vec::new();
    for _ in 0..TURNS {
        turn(&mut outcomes, || catalog.outcomes(&job));
        turn(&mut sheets, || catalog.setup_sheet(&job));
        turn(&mut assumed_sheets, || catalog.setup_sheet(&assumed));
        turn(&mut measured_sheets, || catalog.setup_sheet(&measured));
        turn(&mut singles, || {
            let names = catalog.calculators.keys();
            let answers = names.filter_map(|name| catalog.calculate(name, &[], &job));
            answers.collect::<Vec<_>>()
        });
    }
    let [outcome, sheet, single] = [outcomes, sheets, singles].map(median);
    let [assumed, measured] = [assumed_sheets, measured_sheets].map(median);
    let followed = (assumed - measured) / assumed;
    println!(
        "{} calculators, {} values given, medians of {} times",
        catalog.calculators.len(),
        job.iter().count(),
        TURNS * A_TURN,
    );
    println!("values and verdicts alone: {outcome:.0} µs");
    println!(
        "the setup sheet with its texts: {sheet:.0} µs, {:.1} times as long",
        sheet / outcome
    );
    println!(
        "with all assumed that may be: {assumed:.0} µs, with the same measured: {measured:.0} µs, \
         so that following it takes {:.1} %",
        followed * 100.0
    );
    println!(
        "every calculator by itself: {single:.0} µs, {:.1} times as long",
        single / outcome
    );
    if outcome < PROMISED {
        println!("kept: values and verdicts under {PROMISED} µs");
        std::process::ExitCode::SUCCESS
    } else {
        println!("BROKEN: values and verdicts under {PROMISED} µs");
        std::process::ExitCode::FAILURE
    }
}
