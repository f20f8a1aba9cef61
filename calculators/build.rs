//! Stamps the crate with a hash of its sources: a packed catalog is read without looking back,
//! and so only where the same sources packed it.

use std::path::Path;
use std::{env, fs, io};

/// Beside the catalog's own types, one of the findings' is packed.
const SOURCES: [&str; 2] = ["src", "../src/finding/src/placed.rs"];

/// Not what the engine's own stamp leaves out: an engine stays good while these change.
const LEFT_OUT: [&str; 2] = ["tests.rs", "builtin.rs"];

fn main() -> io::Result<()> {
    let root = env::var_os("CARGO_MANIFEST_DIR").ok_or(io::ErrorKind::NotFound)?;
    let mut hash = 0xcbf2_9ce4_8422_2325;
    for source in SOURCES {
        let path = Path::new(&root).join(source);
        println!("cargo:rerun-if-changed={}", path.display());
        add(&path, &mut hash)?;
    }
    println!("cargo:rustc-env=CATALOG_SOURCES={hash:016x}");
    Ok(())
}

/// FNV-1a of all the Rust beneath, in the order of names; line endings do not count.
fn add(path: &Path, hash: &mut u64) -> io::Result<()> {
    if path.is_dir() {
        let mut inside: Vec<_> = fs::read_dir(path)?.collect::<io::Result<_>>()?;
        inside.sort_by_key(fs::DirEntry::file_name);
        return inside.iter().try_for_each(|entry| add(&entry.path(), hash));
    }
    let name = path.file_name().and_then(|name| name.to_str());
    if name.is_none_or(|name| !name.ends_with(".rs") || LEFT_OUT.contains(&name)) {
        return Ok(());
    }
    for byte in fs::read(path)?.into_iter().filter(|byte| *byte != b'\r') {
        *hash = (*hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    Ok(())
}
