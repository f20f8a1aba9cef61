//! Who knows whom: prints every ring of files, with what makes it one.
//!
//! `layers [ROOT]` reads the workspace at ROOT, or this one.

use std::env;
use std::path::PathBuf;

use gaugeleaf_tests::layers::{Reference, Ring, Surveyed, rings, survey};

fn main() {
    let root = env::args().nth(1).map_or_else(
        || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/..")),
        PathBuf::from,
    );
    for surveyed in survey(&root) {
        let rings = rings(&surveyed.references);
        let largest = rings.first().map_or(1, |ring| ring.files.len());
        println!(
            "{}: {} files, the largest ring has {largest}",
            surveyed.name(),
            surveyed.read.files.len()
        );
        for ring in &rings {
            print(&surveyed, ring);
        }
        for ((a, b), v) in surveyed.knowledge() {
            println!(
                "ROOM {a} -> {b} {}",
                v.iter()
                    .map(|r| format!("{}:{}", surveyed.read.files[r.from].path, r.line))
                    .collect::<Vec<_>>()
                    .join(" ")
            );
        }
    }
}

/// An edge a line, marked where leaving out all that are marked would open the ring.
fn print(surveyed: &Surveyed, ring: &Ring) {
    println!("  a ring of {}:", ring.files.len());
    let folder = format!("{}/", surveyed.read.manifest.folder);
    let path = |file: &usize| surveyed.read.files[*file].path.trim_start_matches(&folder);
    for ((from, to), references) in &ring.edges {
        let mark = if ring.back.contains(&(*from, *to)) {
            '*'
        } else {
            ' '
        };
        let names = names(references).join(", ");
        println!("   {mark} {} -> {}: {names}", path(from), path(to));
    }
}

/// Each name once, with its first line; the imported one of those that end alike.
fn names(references: &[Reference]) -> Vec<String> {
    let mut shown: Vec<(&str, String)> = Vec::new();
    for reference in references {
        let head = reference.name.split("::").next().unwrap_or_default();
        let known = |(name, _): &(&str, String)| name.rsplit("::").next() == Some(head);
        if !shown.iter().any(known) {
            let text = format!("{} (line {})", reference.name, reference.line);
            shown.push((&reference.name, text));
        }
    }
    shown.into_iter().map(|(_, text)| text).collect()
}
