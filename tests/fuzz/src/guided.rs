//! The fuzzer that keeps what reaches code that nothing reached before: libFuzzer, of one target.
//!
//! `FUZZ_TARGET` names the target, `FUZZ_SEEDS` a folder that its seeds are written to; without a
//! target the names of all are printed. `tests/run fuzz` builds it, with the counters that it reads.
#![no_main]
#![allow(unsafe_code)]

use std::process::exit;
use std::sync::OnceLock;

use gaugeleaf_fuzz::{TARGETS, Target};
use libfuzzer_sys::fuzz_target;

static TARGET: OnceLock<&Target> = OnceLock::new();

fn begin() {
    let named = std::env::var("FUZZ_TARGET").unwrap_or_default();
    let Some(target) = TARGETS.iter().find(|target| target.name == named) else {
        TARGETS
            .iter()
            .for_each(|target| println!("{}", target.name));
        exit(i32::from(!named.is_empty()));
    };
    let _ = TARGET.set(target);
    let seeds = (target.seeds)();
    // what is read and published once for all inputs is no input's time
    seeds.iter().take(1).for_each(|seed| (target.put)(seed));
    if let Some(folder) = std::env::var_os("FUZZ_SEEDS") {
        for (number, seed) in seeds.iter().enumerate() {
            let file = std::path::Path::new(&folder).join(format!("seed-{number:04}"));
            std::fs::write(file, seed).expect("a folder for seeds");
        }
    }
}

fuzz_target!(init: begin(), |data: &[u8]| {
    if let Some(target) = TARGET.get() {
        (target.put)(data);
    }
});
