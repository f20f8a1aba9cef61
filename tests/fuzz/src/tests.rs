//! Everything that was kept, every seed, and seeds mutated from a fixed seed.

use std::panic::{AssertUnwindSafe, catch_unwind};

use crate::mutation::{Chance, mutated};
use crate::{TARGETS, Target, kept};

/// Puts bytes to a target; a panic tells which they were, so that they can be kept.
fn put(target: &Target, what: &str, bytes: &[u8]) {
    if catch_unwind(AssertUnwindSafe(|| (target.put)(bytes))).is_err() {
        let text = String::from_utf8_lossy(bytes);
        panic!("{} of {what}: {text:?}, {bytes:?}", target.name);
    }
}

#[test]
fn what_was_kept_holds() {
    for target in &TARGETS {
        let Ok(entries) = std::fs::read_dir(kept(target.name)) else {
            continue;
        };
        for entry in entries.flatten() {
            let name = entry.file_name().to_string_lossy().into_owned();
            put(
                target,
                &name,
                &std::fs::read(entry.path()).expect("a kept input"),
            );
        }
    }
}

#[test]
fn everything_kept_is_of_a_target() {
    let folder = kept("");
    let kept = std::fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in kept {
        let name = entry.file_name().to_string_lossy().into_owned();
        assert!(
            TARGETS.iter().any(|target| target.name == name),
            "{name} is no target"
        );
    }
}

#[test]
fn seeds_and_what_mutation_makes_of_them_hold() {
    for target in &TARGETS {
        let begun = std::time::Instant::now();
        let seeds = (target.seeds)();
        assert!(!seeds.is_empty(), "{} has no seeds", target.name);
        let mut chance = Chance::new(20_261_130);
        for _ in 0..target.mutated {
            let seed = &seeds[chance.below(seeds.len())];
            let other = &seeds[chance.below(seeds.len())];
            put(target, "a seed", &mutated(seed, other, &mut chance));
        }
        eprintln!(
            "{}: {} seeds, {} mutated, {:?}",
            target.name,
            seeds.len(),
            target.mutated,
            begun.elapsed()
        );
    }
}
