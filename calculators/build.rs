//! Makes the constructors of messages from the language file, and stamps the crate with a hash of
//! its sources: a packed catalog is read without looking back, and so only where the same sources
//! packed it.

use std::fmt::Write;
use std::path::Path;
use std::{env, fs, io};

use sha2::{Digest, Sha256};

mod language_texts;
use language_texts::{KeyedText, tables};

/// Beside the catalog's own types, one of the findings' is packed.
const SOURCES: [&str; 2] = ["src", "../src/finding/src/placed.rs"];

/// Not what the engine's own stamp leaves out: an engine stays good while these change.
const LEFT_OUT: [&str; 3] = ["tests.rs", "builtin.rs", "english.rs"];

/// The language whose texts are the list of what can be told.
const LANGUAGE: &str = "../themes/languages/en/engine.toml";

fn main() -> io::Result<()> {
    let root = env::var_os("CARGO_MANIFEST_DIR").ok_or(io::ErrorKind::NotFound)?;
    let mut hash = Sha256::new();
    for source in SOURCES {
        let path = Path::new(&root).join(source);
        println!("cargo:rerun-if-changed={}", path.display());
        add(&path, &mut hash)?;
    }
    let path = Path::new(&root).join(LANGUAGE);
    println!("cargo:rerun-if-changed={}", path.display());
    let tell = language(&fs::read_to_string(path)?)?;
    hash.update(tell);
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

/// Writes a constructor for every text, and the texts in the same order; gives the constructors
/// back, which hold the texts' numbers and places but none of their words.
fn language(file: &str) -> io::Result<String> {
    let (mut tell, mut texts) = (String::new(), Vec::new());
    for table in tables(LANGUAGE, file)? {
        tell += &format!("pub(crate) mod {} {{ use super::super::*;\n", table.name);
        for text in &table.texts {
            let (key, places) = (&text.key, text.places());
            let mut parameters = String::new();
            for place in &places {
                // writing to a string can't fail
                let _ = write!(parameters, "{place}: &dyn MessagePart, ");
            }
            let (number, places) = (texts.len(), places.join(", "));
            tell += &format!(
                "pub(crate) fn {key}({parameters}) -> Message {{ Message::of({number}, &[{places}]) }}\n"
            );
            let told = numbered(text).ok_or_else(|| {
                io::Error::other(format!("{LANGUAGE}: {key} has too many places"))
            })?;
            texts.push(told);
        }
        tell += "}\n";
    }
    let out = env::var_os("OUT_DIR").ok_or(io::ErrorKind::NotFound)?;
    fs::write(Path::new(&out).join("tell.rs"), &tell)?;
    fs::write(Path::new(&out).join("english.rs"), format!("&{texts:?}"))?;
    Ok(tell)
}

/// The text with each place as the letter of its number; `None` where there are more than letters.
fn numbered(text: &KeyedText) -> Option<String> {
    let places = text.places();
    let mut numbered = String::new();
    for (at, part) in text.parts.iter().enumerate() {
        if at % 2 == 0 {
            numbered += part;
        } else {
            let at = places.iter().position(|known| known == part)?;
            numbered.push(char::from_u32(at as u32 + 1).filter(|c| *c < '\t')?);
        }
    }
    Some(numbered)
}
