//! Who knows whom: prints every ring of files with what makes it one, and what the table of
//! layers doesn't allow.
//!
//! `layers [ROOT]` reads the workspace at ROOT, or this one.
//! `layers --rows CRATE [ROOT]` prints the crate's rooms as rows for the table.
//! `layers --draw [ROOT]` draws the table anew into the contributors' guide.

use std::env;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use gaugeleaf_tests::layers::{
    Reference, Ring, Surveyed, TABLE, Table, faults, forbidden, missing, redraw, rings, rows,
    survey, unused,
};

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let here = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/.."));
    match arguments.as_slice() {
        ["--draw", rest @ ..] => {
            let root = rest.first().map_or(here, PathBuf::from);
            if let Err(fault) = redraw(&root) {
                eprintln!("{fault}");
                return ExitCode::FAILURE;
            }
        }
        ["--rows", name, rest @ ..] => {
            let crates = survey(&rest.first().map_or(here, PathBuf::from));
            for surveyed in crates.iter().filter(|one| one.name == *name) {
                print!("{}", rows(surveyed, &crates));
            }
        }
        rest => look(
            &rest.first().map_or_else(|| here.clone(), PathBuf::from),
            &here,
        ),
    }
    ExitCode::SUCCESS
}

/// Prints the rings, then what the root's own table forbids, or this one's where it has none.
fn look(root: &Path, here: &Path) {
    let crates = survey(root);
    for surveyed in &crates {
        let rings = rings(&surveyed.references);
        let largest = rings.first().map_or(1, |ring| ring.files.len());
        println!(
            "{}: {} files, the largest ring has {largest}",
            surveyed.name,
            surveyed.files.len()
        );
        for ring in &rings {
            print(surveyed, ring);
        }
    }
    let has_table = root.join(TABLE).exists();
    let table = Table::load(if has_table { root } else { here });
    let against = [
        faults(&table),
        missing(&table, &crates),
        forbidden(&table, &crates),
        unused(&table, &crates),
    ]
    .concat();
    println!("against the table: {}", against.len());
    for fault in against {
        println!("    {fault}");
    }
}

/// An edge a line, marked where leaving out all that are marked would open the ring.
fn print(surveyed: &Surveyed, ring: &Ring) {
    println!("  a ring of {}:", ring.files.len());
    let folder = format!("{}/", surveyed.folder);
    let path = |file: &usize| surveyed.files[*file].path.trim_start_matches(&folder);
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
