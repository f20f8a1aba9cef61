//! How fast the setup sheet of the first demonstration job is evaluated, and whether its
//! values and verdicts come in under 1.2 ms.
//!
//! Run with `cargo run --release -p gaugeleaf-tests --example sheet`. It evaluates the
//! graph in values and verdicts alone, the sheet with its texts, and every calculator by
//! itself, in the same run, so that the ratios can be compared between machines. The sheet is
//! worked again, as each prepared job has it and with everything measured that is assumed there, so
//! that no verdict has to be settled over a usual band: the difference is what it costs to follow
//! what is assumed.

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

/// As the program takes its memory.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// Turns that the kinds take, so that all meet the same disturbances, and evaluations a
/// turn, so that each is measured warm too.
const TURNS: usize = 50;
const A_TURN: usize = 8;

/// The demonstration's graph, and its prepared jobs with the values as the published pages take them.
fn demonstration() -> (Graph, Vec<(String, Job)>) {
    let (files, _) = read(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/..")));
    let (graph, _, mut findings) = asked(&files);
    let (handbook, _) = assemble(&files, &shapes());
    let jobs = handbook.pages.iter().filter_map(|page| {
        let settings = &page.outline.settings;
        let name = &settings.job.as_ref()?.value;
        let scope = JobScope::prepared(&graph, name, settings.kit()).with(
            &graph,
            &page.path,
            &settings.given,
            &mut findings,
        );
        Some((name.clone(), scope.job().clone()))
    });
    let jobs: Vec<(String, Job)> = jobs.collect();
    assert!(findings.is_empty(), "{findings:?}");
    (graph, jobs)
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
const PROMISED: f64 = 1200.0;

/// What following weak ground may cost of a prepared job's sheet.
const FOLLOWED: f64 = 0.1;

/// The job with everything measured that is assumed in it.
fn measured(catalog: &Catalog, job: &Job) -> Job {
    let mut measured = job.clone();
    for (name, named) in catalog.named.iter() {
        if let (Some(usual), None) = (&named.assumed, job.get(name)) {
            measured.set(name, &usual.value, Ground::Measured, "");
        }
    }
    measured
}

/// The job without the values that may be assumed.
fn assumed(catalog: &Catalog, job: &Job) -> Job {
    let mut assumed = Job::new();
    for (name, held) in job.iter() {
        let named = catalog.named.get(name);
        if named.is_none_or(|named| named.assumed.is_none()) {
            assumed.set(name, &held.text, held.ground, &held.from);
        }
    }
    assumed
}

/// Says what it costs of a job's sheet to follow what is assumed in it: its share of the time.
fn followed(catalog: &Catalog, name: &str, job: &Job) -> f64 {
    let measured = measured(catalog, job);
    let (mut weak, mut firm) = (Vec::new(), Vec::new());
    for _ in 0..TURNS {
        turn(&mut weak, || catalog.setup_sheet(job));
        turn(&mut firm, || catalog.setup_sheet(&measured));
    }
    let [weak, firm] = [weak, firm].map(median);
    let share = (weak - firm) / weak;
    println!(
        "the sheet of {name}: {weak:.0} µs, with all measured {firm:.0} µs: what is assumed takes {:.1} %",
        share * 100.0
    );
    share
}

fn main() -> std::process::ExitCode {
    let (Graph { catalog, .. }, jobs) = demonstration();
    let Some((_, job)) = jobs.first() else {
        return std::process::ExitCode::FAILURE;
    };
    let mut outcomes = Vec::new();
    let mut sheets = Vec::new();
    let mut singles = Vec::new();
    for _ in 0..TURNS {
        turn(&mut outcomes, || catalog.outcomes(job));
        turn(&mut sheets, || catalog.setup_sheet(job));
        turn(&mut singles, || {
            let names = catalog.calculators.keys();
            let answers = names.filter_map(|name| catalog.calculate(name, &[], job));
            answers.collect::<Vec<_>>()
        });
    }
    let [outcome, sheet, single] = [outcomes, sheets, singles].map(median);
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
        "every calculator by itself: {single:.0} µs, {:.1} times as long",
        single / outcome
    );
    let shares = jobs.iter().map(|(name, job)| followed(&catalog, name, job));
    let most = shares.fold(0.0, f64::max);
    followed(
        &catalog,
        "the first with all assumed that may be",
        &assumed(&catalog, job),
    );
    let promises = [
        (
            outcome < PROMISED,
            format!("values and verdicts under {PROMISED} µs"),
        ),
        (
            most <= FOLLOWED,
            format!("what is assumed in a prepared job takes at most {FOLLOWED} of its sheet"),
        ),
    ];
    for (kept, promise) in &promises {
        println!("{}: {promise}", if *kept { "kept" } else { "BROKEN" });
    }
    match promises.iter().all(|(kept, _)| *kept) {
        true => std::process::ExitCode::SUCCESS,
        false => std::process::ExitCode::FAILURE,
    }
}
