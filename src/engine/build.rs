//! Stamps the engine with a hash of the sources it is built from.
//!
//! The engine that the page runs is committed beside the theme. Native builds recompute this
//! hash from today's files, so a test can tell whether the committed engine still matches.

use std::path::{Path, PathBuf};
use std::{env, fs, io};

/// Folders and files, from the repository's root, that decide what the engine does. The texts of
/// findings' codes don't: the page's engine is built without them.
const SOURCES: [&str; 11] = [
    "calculators/Cargo.toml",
    "calculators/build.rs",
    "calculators/src",
    "src/engine/Cargo.toml",
    "src/engine/build.rs",
    "src/engine/src",
    "src/finding/Cargo.toml",
    "src/finding/build.rs",
    "src/finding/src",
    "src/lookup/Cargo.toml",
    "src/lookup/src",
];

/// Never part of the browser's engine, which gets its catalog from the page.
const LEFT_OUT: [&str; 1] = ["calculators/src/builtin.rs"];

fn main() -> io::Result<()> {
    let manifest = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").ok_or(io::ErrorKind::NotFound)?);
    let root = manifest.join("../..");
    let mut files = Vec::new();
    for source in SOURCES {
        println!("cargo:rerun-if-changed={}", root.join(source).display());
        gather(&root, source, &mut files)?;
    }
    files.sort();
    println!(
        "cargo:rerun-if-changed={}",
        root.join("Cargo.toml").display()
    );

    let mut hash = Hash::new();
    hash.add(
        "profile",
        &profile(&fs::read_to_string(root.join("Cargo.toml"))?),
    );
    for file in files {
        hash.add(&file, &fs::read_to_string(root.join(&file))?);
    }
    println!("cargo:rustc-env=ENGINE_SOURCES={:032x}", hash.0);
    Ok(())
}

/// Collects Rust sources and manifests; files of unit tests alone change no engine.
fn gather(root: &Path, path: &str, files: &mut Vec<String>) -> io::Result<()> {
    let full = root.join(path);
    if !full.is_dir() {
        let stem = full.file_stem().unwrap_or_default();
        let counts = path.ends_with(".rs") || path.ends_with("Cargo.toml");
        if counts && stem != "tests" && !LEFT_OUT.contains(&path) {
            files.push(path.to_owned());
        }
        return Ok(());
    }
    for entry in fs::read_dir(full)? {
        if let Some(name) = entry?.file_name().to_str() {
            gather(root, &format!("{path}/{name}"), files)?;
        }
    }
    Ok(())
}

/// The part of the workspace's manifest that says how the browser's engine is optimised.
fn profile(manifest: &str) -> String {
    let mut inside = false;
    let mut kept = String::new();
    for line in manifest.lines() {
        if line.starts_with('[') {
            inside = line.trim() == "[profile.browser]" || line.trim() == "[profile.release]";
        }
        if inside {
            kept.push_str(line.trim_end());
            kept.push('\n');
        }
    }
    kept
}

/// FNV-1a of 128 bits: the same on every release of Rust, and enough against accident.
struct Hash(u128);

impl Hash {
    fn new() -> Self {
        Self(0x6c62_272e_07bb_0142_62b8_2175_6295_c58d)
    }

    /// Line endings do not count: a checkout may have rewritten them.
    fn add(&mut self, name: &str, text: &str) {
        let bytes = text.bytes().filter(|byte| *byte != b'\r');
        for byte in name.bytes().chain([0]).chain(bytes).chain([0]) {
            self.0 =
                (self.0 ^ u128::from(byte)).wrapping_mul(0x0000_0000_0100_0000_0000_0000_0000_013b);
        }
    }
}
