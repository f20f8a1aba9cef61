//! Whether work grows with the length of a text, and no faster: twice as much of a hostile text
//! takes at most twice the steps. Steps are the processor's instructions as `valgrind` counts them,
//! the same however busy the machine is.
//!
//! Build with `cargo build --release -p gaugeleaf-tests --examples`, run with
//! `target/release/examples/growth`, which takes some minutes.

mod texts;
mod work;

use std::path::Path;
use std::process::{Command, ExitCode};
use std::{env, fs, io};

use texts::{TEXTS, Text};
use work::Work;

/// Bytes of the shorter text; the other one has twice as many.
const BYTES: usize = 8 << 10;

/// How many times the steps of the shorter text the longer one may take. Sorting takes a little more
/// than twice.
const MOST: f64 = 2.2;

fn main() -> ExitCode {
    let run = env::args().nth(1).is_some_and(|word| word == "run");
    match if run { Ok(each()) } else { all() } {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// Does the work of each text once and twice, for whoever counts.
fn each() -> bool {
    let work = Work::default();
    for text in TEXTS {
        for times in [1, 2] {
            counted(&work, text, times * BYTES);
        }
    }
    counted(&work, &TEXTS[0], 0);
    true
}

/// What is counted: valgrind knows it by its name.
#[inline(never)]
fn counted(work: &Work, text: &Text, bytes: usize) {
    std::hint::black_box(work.of(text, bytes));
}

/// Has the steps counted, and tells those that grow too fast.
fn all() -> io::Result<bool> {
    let folder = tempfile::tempdir()?;
    let output = Command::new("valgrind")
        .args(["--quiet", "--tool=callgrind"])
        .arg(format!(
            "--callgrind-out-file={}",
            folder.path().join("steps").display()
        ))
        // what came before each time is written down, so a last time ends the one before it
        .arg("--dump-before=growth::counted")
        .arg(env::current_exe()?)
        .arg("run")
        // one thread does all, in one order
        .env("RAYON_NUM_THREADS", "1")
        .output()?;
    if !output.status.success() {
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        return Err(io::Error::other(said));
    }
    let mut grown = 0;
    for (text, at) in TEXTS.iter().zip((2..).step_by(2)) {
        let (once, twice) = (steps(folder.path(), at)?, steps(folder.path(), at + 1)?);
        let times = twice as f64 / once as f64;
        let fast = times > MOST;
        grown += usize::from(fast);
        let mark = if fast { "  TOO FAST" } else { "" };
        let (kind, repeated) = (text.kind, text.repeated);
        println!("{once:>12} {twice:>12} {times:.2} {kind:?} {repeated:?}{mark}");
    }
    println!("{} texts, {grown} grow faster than they may", TEXTS.len());
    Ok(grown == 0)
}

/// The steps of one count.
fn steps(folder: &Path, number: usize) -> io::Result<u64> {
    let said = fs::read_to_string(folder.join(format!("steps.{number}")))?;
    let total = said.lines().find_map(|line| line.strip_prefix("totals: "));
    let total = total.and_then(|total| total.trim().parse().ok());
    total.ok_or_else(|| io::Error::other(format!("no total in count {number}")))
}
