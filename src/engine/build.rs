//! Stamps the engine with a hash of the sources it is built from.
//!
//! The engine that the page runs is committed beside the theme. Native builds recompute this
//! hash from today's files, so a test can tell whether the committed engine still matches.

use std::path::{Path, PathBuf};
use std::{env, fs, io};

use sha2::{Digest, Sha256};

/// Folders and files, from the repository's root, that decide what the engine does. The texts of
/// findings' codes don't: the page's engine is built without them.
const SOURCES: [&str; 12] = [
    "calculators/Cargo.toml",
    "calculators/build.rs",
    "calculators/language_texts.rs",
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

    let mut hash = Sha256::new();
    add(
        &mut hash,
        "profile",
        &profile(&fs::read_to_string(root.join("Cargo.toml"))?),
    );
    for file in files {
        add(&mut hash, &file, &fs::read_to_string(root.join(&file))?);
    }
    let hash = hash.finalize();
    let first: String = hash
        .iter()
        .take(16)
        .map(|byte| format!("{byte:02x}"))
        .collect();
    println!("cargo:rustc-env=ENGINE_SOURCES={first}");
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

/// A file's name and text; line endings do not count, as a checkout may have rewritten them.
fn add(hash: &mut Sha256, name: &str, text: &str) {
    for part in [name, &text.replace('\r', "")] {
        hash.update(part);
        hash.update([0]);
    }
}
