//! How fast the setup sheet of the first demonstration job is evaluated.
//!
//! Run with `cargo run --release -p gaugeleaf-tests --example sheet`. The ratio compares
//! the sheet with asking every calculator by itself, in the same run, so that it can be
//! compared between machines.

use std::hint::black_box;
use std::time::{Duration, Instant};

use gaugeleaf_calc::{Catalog, Job, builtin};

/// Evaluations of each kind, taken in turns so that both meet the same disturbances.
const TIMES: usize = 400;

const PAGE: &str = include_str!("../../content/jobs/t1.md");

/// The job's values as its page gives them: `name = "value"`, separated by commas.
fn job() -> Job {
    let given = PAGE
        .lines()
        .find_map(|line| line.strip_prefix("given = {"))
        .expect("the job's page gives its values");
    let parts: Vec<&str> = given.split('"').collect();
    let pairs = parts.chunks_exact(2);
    pairs
        .map(|pair| {
            let name = pair[0].trim_matches([' ', ',', '=']);
            (name.to_string(), pair[1].to_string())
        })
        .collect()
}

fn timed<T>(work: impl FnOnce() -> T) -> Duration {
    let start = Instant::now();
    black_box(work());
    start.elapsed()
}

fn median(mut times: Vec<Duration>) -> f64 {
    times.sort();
    times[times.len() / 2].as_secs_f64() * 1e6
}

fn main() {
    let (catalog, findings) = Catalog::load(&builtin());
    assert!(findings.is_empty(), "{findings:?}");
    let job = job();
    let mut sheets = Vec::new();
    let mut singles = Vec::new();
    for _ in 0..TIMES {
        sheets.push(timed(|| catalog.setup_sheet(&job)));
        singles.push(timed(|| {
            let names = catalog.calculators.keys();
            let answers = names.filter_map(|name| catalog.calculate(name, &[], &job));
            answers.collect::<Vec<_>>()
        }));
    }
    let (sheet, single) = (median(sheets), median(singles));
    println!(
        "setup sheet: {sheet:.0} µs; one by one: {single:.0} µs; ratio {:.2} ({} given, {} calculators, {TIMES} times)",
        sheet / single,
        job.len(),
        catalog.calculators.len(),
    );
}
