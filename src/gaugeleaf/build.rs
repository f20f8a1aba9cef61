//! The theme is embedded in the program, so a change to it must rebuild the program. The texts of
//! its language files become tables, and those that the generator says itself functions.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;
use std::{env, fs, io};

#[path = "../../calculators/language_texts.rs"]
mod language_texts;
use language_texts::{KeyedText, tables};

const THEMES: &str = "../../themes";

/// The table of texts that no template says, but the generator.
const GENERATOR: &str = "generator";

fn main() -> io::Result<()> {
    println!("cargo:rerun-if-changed={THEMES}");
    println!("cargo:rerun-if-changed=build.rs");
    let out = env::var_os("OUT_DIR").ok_or(io::ErrorKind::NotFound)?;
    let mut tell = String::new();
    for name in ["scripts", "site"] {
        let file = format!("{THEMES}/languages/en/{name}.toml");
        let texts = texts(&file, &mut tell)?;
        fs::write(Path::new(&out).join(format!("{name}.rs")), texts)?;
    }
    fs::write(Path::new(&out).join("tell.rs"), tell)
}

/// The file's texts as rows of a table in the order of their ids: each with its words and places in
/// turn.
fn texts(file: &str, tell: &mut String) -> io::Result<String> {
    let mut rows = BTreeMap::new();
    for table in tables(file, &fs::read_to_string(file)?)? {
        for text in &table.texts {
            if table.name == GENERATOR {
                // writing to a string can't fail
                let _ = writeln!(tell, "{}", function(text));
            } else {
                let id = format!("{}.{}", table.name, text.key);
                rows.insert(id.clone(), format!("({id:?}, &{:?}),\n", text.parts));
            }
        }
    }
    let rows: String = rows.into_values().collect();
    Ok(format!("&[\n{rows}]"))
}

/// What says the text, its places as arguments.
fn function(text: &KeyedText) -> String {
    let places = text.places().into_iter();
    let places: Vec<String> = places.map(|one| format!("{one}: &str")).collect();
    let said = text
        .parts
        .iter()
        .enumerate()
        .map(|(at, part)| match at % 2 {
            0 => format!("{part:?}"),
            _ => part.clone(),
        });
    let said: Vec<String> = said.collect();
    format!(
        "pub fn {}({}) -> String {{ [{}].concat() }}",
        text.key,
        places.join(", "),
        said.join(", ")
    )
}
