//! What publishing a large handbook costs, in processor time and memory, beside the least that any
//! generator does.
//!
//! Build with `cargo build --release && cargo build --release -p gaugeleaf-tests --examples`, run with
//! `target/release/examples/publish`, which takes minutes; after it, numbers of pages to measure
//! instead of 100, 1,000 and 10,000, or `make FOLDER PAGES PHASES` for a handbook to look into.

mod generated;

use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::time::Instant;
use std::{env, fs, io};

use nix::sys::resource::{UsageWho, getrusage};

/// What one run of a program took.
#[derive(Clone, Copy)]
struct Cost {
    /// Seconds of processor time, all cores and the system's part together.
    processor: f64,
    /// MB at the most.
    memory: f64,
    /// Seconds by the clock.
    wall: f64,
}

/// Processor time a page at the largest handbook, by that at the smallest.
const GROWTH: f64 = 1.25;
/// The floor, in seconds of processor time a page.
const FLOOR: f64 = 0.12e-3;
/// A publish's processor time and memory, by the floor's.
const TIMES_FLOOR: f64 = 12.0;
const TIMES_MEMORY: f64 = 5.0;
/// Of each program on each handbook; the middle one counts.
const RUNS: usize = 5;

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().skip(1).collect();
    if let [word, program, rest @ ..] = arguments.as_slice()
        && word == "measure"
    {
        return match measured_here(program, rest) {
            Ok(cost) => {
                println!("{} {} {}", cost.processor, cost.memory, cost.wall);
                ExitCode::SUCCESS
            }
            Err(error) => {
                eprintln!("{program}: {error}");
                ExitCode::FAILURE
            }
        };
    }
    if let [word, folder, pages, phases] = arguments.as_slice()
        && word == "make"
        && let (Ok(pages), Ok(phases)) = (pages.parse(), phases.parse())
    {
        return match generated::write(Path::new(folder), pages, phases, &equipment()) {
            Ok(()) => ExitCode::SUCCESS,
            Err(error) => {
                eprintln!("{folder}: {error}");
                ExitCode::FAILURE
            }
        };
    }
    let mut sizes: Vec<usize> = arguments
        .iter()
        .filter_map(|one| one.parse().ok())
        .collect();
    if sizes.is_empty() {
        sizes = vec![100, 1_000, 10_000];
    }
    match compare(&sizes) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// Runs a program in this process's name alone, so that the system counts it and nothing else.
fn measured_here(program: &str, arguments: &[String]) -> io::Result<Cost> {
    let start = Instant::now();
    let status = Command::new(program)
        .args(arguments)
        .stdout(Stdio::null())
        .status()?;
    let wall = start.elapsed().as_secs_f64();
    if !status.success() {
        return Err(io::Error::other(format!("ended with {status}")));
    }
    let usage = getrusage(UsageWho::RUSAGE_CHILDREN)?;
    let seconds =
        |time: nix::sys::time::TimeVal| time.tv_sec() as f64 + time.tv_usec() as f64 / 1e6;
    Ok(Cost {
        processor: seconds(usage.user_time()) + seconds(usage.system_time()),
        memory: usage.max_rss() as f64 / 1024.0,
        wall,
    })
}

/// One run, in a process of its own.
fn measured(program: &Path, arguments: &[&Path]) -> io::Result<Cost> {
    let output = Command::new(env::current_exe()?)
        .arg("measure")
        .arg(program)
        .args(arguments)
        .stderr(Stdio::null())
        .output()?;
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    let numbers: Vec<f64> = said
        .split_whitespace()
        .filter_map(|one| one.parse().ok())
        .collect();
    match numbers[..] {
        [processor, memory, wall] => Ok(Cost {
            processor,
            memory,
            wall,
        }),
        _ => Err(io::Error::other(format!(
            "{} failed; run it by hand on what `make` writes",
            program.display()
        ))),
    }
}

/// The middle of some runs, each of their figures by itself.
fn middle(runs: &[Cost]) -> Cost {
    let of = |figure: fn(&Cost) -> f64| {
        let mut all: Vec<f64> = runs.iter().map(figure).collect();
        all.sort_by(f64::total_cmp);
        all.get(all.len() / 2).copied().unwrap_or(f64::NAN)
    };
    Cost {
        processor: of(|one| one.processor),
        memory: of(|one| one.memory),
        wall: of(|one| one.wall),
    }
}

/// The programs beside this one.
fn program(name: &str) -> io::Result<PathBuf> {
    let here = env::current_exe()?;
    let folder = here.parent().unwrap_or(Path::new("."));
    let found = match name {
        "gaugeleaf" => folder.parent().unwrap_or(folder).join(name),
        _ => folder.join(name),
    };
    found
        .exists()
        .then_some(found)
        .ok_or_else(|| io::Error::other(format!("build {name} first, with --release")))
}

fn equipment() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../content/equipment")
}

/// One line: what each costs, and by the floor.
fn told(pages: usize, phases: usize) -> io::Result<(Cost, Cost)> {
    let folder = tempfile::tempdir()?;
    let handbook = folder.path().join("handbook");
    let site = folder.path().join("site");
    generated::write(&handbook, pages, phases, &equipment())?;
    let floor_to = folder.path().join("floor");
    let (verb, to) = (Path::new("publish"), Path::new("--to"));
    let (mut floors, mut publishes, mut inspects) = (Vec::new(), Vec::new(), Vec::new());
    // in turn, so that what else the machine does meets them alike
    for _ in 0..RUNS {
        floors.push(measured(&program("floor")?, &[&handbook, &floor_to])?);
        publishes.push(measured(
            &program("gaugeleaf")?,
            &[verb, &handbook, to, &site],
        )?);
        inspects.push(measured(
            &program("gaugeleaf")?,
            &[Path::new("inspect"), &handbook],
        )?);
    }
    let (floor, publish, inspect) = (middle(&floors), middle(&publishes), middle(&inspects));
    let size: u64 = walkdir::WalkDir::new(&site)
        .into_iter()
        .filter_map(|entry| Some(entry.ok()?.metadata().ok()?.len()))
        .sum();
    let a_page = |cost: Cost| cost.processor * 1e3 / pages as f64;
    println!(
        "{pages:>6} {phases:>6}   {:>7.3} {:>5.0}   {:>7.3} {:>6.0} {:>6.2} {:>6.1} {:>5.1}   {:>7.3}   {:>6.1}",
        a_page(floor),
        floor.memory,
        a_page(publish),
        publish.memory,
        publish.wall,
        publish.processor / floor.processor,
        publish.memory / floor.memory,
        a_page(inspect),
        size as f64 / 1e6,
    );
    fs::remove_dir_all(folder.path())?;
    Ok((floor, publish))
}

fn compare(sizes: &[usize]) -> io::Result<bool> {
    println!("                       floor                             publish   inspect     site");
    println!(
        " pages phases   ms/page    MB   ms/page     MB   wall   times  times   ms/page     MB"
    );
    let mut found = Vec::new();
    for pages in sizes {
        found.push((*pages, told(*pages, pages.div_ceil(generated::A_PHASE))?));
    }
    if let Some(pages) = sizes.iter().rev().nth(usize::from(sizes.len() > 1)) {
        told(*pages, 1)?;
    }
    let (Some((few, (_, first))), Some((many, (floor, last)))) = (found.first(), found.last())
    else {
        return Ok(true);
    };
    let a_page = |cost: &Cost, pages: usize| cost.processor / pages as f64;
    let growth = a_page(last, *many) / a_page(first, *few);
    let promises = [
        (
            a_page(floor, *many) <= FLOOR,
            format!("the floor takes at most {:.2} ms a page", FLOOR * 1e3),
        ),
        (
            growth <= GROWTH,
            format!("a page of {many} costs {growth:.2} of one of {few}, at most {GROWTH}"),
        ),
        (
            last.processor <= TIMES_FLOOR * floor.processor,
            format!("at most {TIMES_FLOOR} times the floor's processor time"),
        ),
        (
            last.memory <= TIMES_MEMORY * floor.memory,
            format!("at most {TIMES_MEMORY} times its memory"),
        ),
    ];
    for (kept, promise) in &promises {
        println!("{}: {promise}", if *kept { "kept" } else { "BROKEN" });
    }
    Ok(promises.iter().all(|(kept, _)| *kept))
}
