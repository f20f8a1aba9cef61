//! Kills publishes by the thousand: after each the site is the old one or the new one, whole, and the
//! next publish leaves nothing beside it. Somebody reads the site all the while.
//!
//! Build with `cargo build --release && cargo build --release -p gaugeleaf-tests --examples`, run with
//! `target/release/examples/kills`, which takes some ten minutes; after it another number of kills.
//! With `strace`, three in ten fall between two steps, which it holds apart; nothing in the program
//! helps.

mod runs;

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use runs::{Aim, Yard};

/// Kills between two publishes that may end: litter is met by the next that is killed, too.
const A_ROUND: usize = 4;

fn main() -> ExitCode {
    let kills = std::env::args().nth(1).and_then(|one| one.parse().ok());
    match all(kills.unwrap_or(1_000)) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// What came of the kills of one aim.
#[derive(Default)]
struct Tally {
    runs: usize,
    killed: usize,
    old: usize,
    new: usize,
    /// No site, and its copy beside it.
    put_back: usize,
    /// Neither the one nor the other.
    broken: usize,
}

/// Whoever reads the site while it is published.
#[derive(Default)]
struct Reader {
    reads: AtomicUsize,
    nothing: AtomicUsize,
    /// Where there are two steps, a reader may find nothing between them.
    rests: AtomicBool,
    ends: AtomicBool,
}

impl Reader {
    fn read(&self, page: &Path) {
        let mut held = Vec::new();
        while !self.ends.load(Ordering::Relaxed) {
            if self.rests.load(Ordering::SeqCst) {
                std::thread::sleep(Duration::from_millis(5));
                continue;
            }
            held.clear();
            let read = File::open(page).and_then(|mut page| page.read_to_end(&mut held));
            if read.is_err() && !self.rests.load(Ordering::SeqCst) {
                self.nothing.fetch_add(1, Ordering::Relaxed);
            }
            self.reads.fetch_add(1, Ordering::Relaxed);
            // two cores: the publish wants the other
            std::thread::sleep(Duration::from_micros(10));
        }
    }
}

fn all(kills: usize) -> io::Result<bool> {
    let folder = tempfile::tempdir()?;
    let yard = Yard::new(folder.path())?;
    let reader = Reader::default();
    let page = yard.target().join("index.html");
    let begun = Instant::now();
    let (tallies, litter) = std::thread::scope(|scope| {
        scope.spawn(|| reader.read(&page));
        let done = killed(&yard, kills, &reader);
        reader.ends.store(true, Ordering::Relaxed);
        done
    })?;
    println!(
        "{:<26} {:>5} {:>7} {:>5} {:>5} {:>9} {:>7}",
        "aimed at", "runs", "killed", "old", "new", "put back", "broken"
    );
    for (aim, one) in &tallies {
        println!(
            "{:<26} {:>5} {:>7} {:>5} {:>5} {:>9} {:>7}",
            aim.words(),
            one.runs,
            one.killed,
            one.old,
            one.new,
            one.put_back,
            one.broken
        );
    }
    let sum = |of: fn(&Tally) -> usize| tallies.values().map(of).sum::<usize>();
    let (reads, nothing) = (reader.reads.into_inner(), reader.nothing.into_inner());
    println!(
        "{} of {} runs killed in {:.0} s: {} broken, {litter} with litter after the next; {nothing} of {reads} reads found nothing",
        sum(|one| one.killed),
        sum(|one| one.runs),
        begun.elapsed().as_secs_f64(),
        sum(|one| one.broken)
    );
    Ok(sum(|one| one.broken) + litter + nothing == 0)
}

/// Kills publishes of two editions in turn; beside the tallies, how often litter was left.
fn killed(yard: &Yard, kills: usize, reader: &Reader) -> io::Result<(BTreeMap<Aim, Tally>, usize)> {
    let (mut tallies, mut litter) = (BTreeMap::<Aim, Tally>::new(), 0);
    let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
    let (mut now, mut done) = (0, 0);
    // a publish may end before it is killed
    for number in 0.. {
        if done == kills {
            break;
        }
        // xorshift: what is random needs no more here
        for shift in [13_i32, -7, 17] {
            seed ^= if shift > 0 {
                seed << shift
            } else {
                seed >> -shift
            };
        }
        let share = (seed >> 11) as f64 / (1_u64 << 53) as f64;
        let aim = yard.aim(number);
        let tally = tallies.entry(aim).or_default();
        let two_steps = aim == Aim::BetweenTwo;
        if two_steps {
            reader.rests.store(true, Ordering::SeqCst);
        }
        tally.runs += 1;
        if yard.kill(aim, 1 - now, share)? {
            tally.killed += 1;
            done += 1;
        }
        if two_steps && !yard.target().exists() {
            // what has faults publishes nothing: whatever is there then was put back
            yard.publish_faults()?;
            tally.put_back += 1;
        }
        match yard.edition() {
            Some(edition) if edition == now => tally.old += 1,
            Some(edition) => {
                tally.new += 1;
                now = edition;
            }
            None => tally.broken += 1,
        }
        let whole = yard.edition().is_some();
        if !whole || number % A_ROUND == A_ROUND - 1 {
            yard.publish(1 - now)?;
            now = 1 - now;
            litter += usize::from(yard.edition() != Some(now) || yard.beside()? > 0);
        }
        if two_steps {
            reader.rests.store(false, Ordering::SeqCst);
        }
    }
    Ok((tallies, litter))
}

/// A site's files and their bytes.
fn files(of: &Path) -> io::Result<BTreeMap<String, Vec<u8>>> {
    let entries = walkdir::WalkDir::new(of).into_iter();
    let mut files = BTreeMap::new();
    for entry in entries {
        let entry = entry?;
        if entry.file_type().is_file() {
            let path = entry.path().strip_prefix(of).unwrap_or(entry.path());
            let path = path.to_string_lossy().into_owned();
            files.insert(path, fs::read(entry.path())?);
        }
    }
    Ok(files)
}
