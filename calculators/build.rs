//! Stamps the crate with a hash of its sources: a packed catalog is read without looking back,
//! and so only where the same sources packed it.

use std::path::Path;
use std::{env, fs, io};

use sha2::{Digest, Sha256};

/// Beside the catalog's own types, one of the findings' is packed.
const SOURCES: [&str; 2] = ["src", "../src/finding/src/placed.rs"];

/// Not what the engine's own stamp leaves out: an engine stays good while these change.
const LEFT_OUT: [&str; 2] = ["tests.rs", "builtin.rs"];

fn main() -> io::Result<()> {
    let root = env::var_os("CARGO_MANIFEST_DIR").ok_or(io::ErrorKind::NotFound)?;
    let mut hash = Sha256::new();
    for source in SOURCES {
        let path = Path::new(&root).join(source);
        println!("cargo:rerun-if-changed={}", path.display());
        add(&path, &mut hash)?;
    }
    let hash = hash.finalize();
    let first: String = hash
        .iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect();
    println!("cargo:rustc-env=CATALOG_SOURCES={first}");
    Ok(())
}

/// All the Rust beneath, in the order of names; line endings do not count.
fn add(path: &Path, hash: &mut Sha256) -> io::Result<()> {
    if path.is_dir() {
        let mut inside: Vec<_> = fs::read_dir(path)?.collect::<io::Result<_>>()?;
        inside.sort_by_key(fs::DirEntry::file_name);
        return inside.iter().try_for_each(|entry| add(&entry.path(), hash));
    }
    let name = path.file_name().and_then(|name| name.to_str());
    if name.is_none_or(|name| !name.ends_with(".rs") || LEFT_OUT.contains(&name)) {
        return Ok(());
    }
    let mut text = fs::read(path)?;
    text.retain(|byte| *byte != b'\r');
    hash.update(text);
    Ok(())
}
