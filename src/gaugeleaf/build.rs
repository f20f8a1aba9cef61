//! The theme is embedded in the program, so a change to it must rebuild the program. The texts of
//! its language files become tables, and those that the generator says itself functions.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;
use std::{env, fs, io};

use toml::de::{DeTable, DeValue};

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
    let fault = |what: &str| io::Error::other(format!("{file}: {what}"));
    let text = fs::read_to_string(file)?;
    let table = DeTable::parse(&text).map_err(|error| fault(&error.to_string()))?;
    let mut rows = BTreeMap::new();
    for (group, entries) in table.get_ref() {
        let group = group.get_ref();
        let entries = entries.get_ref().as_table();
        let entries = entries.ok_or_else(|| fault(&format!("{group} is no table")))?;
        for (key, text) in entries {
            let id = format!("{group}.{}", key.get_ref());
            let text = DeValue::as_str(text.get_ref());
            let text = text.ok_or_else(|| fault(&format!("{id} is no text")))?;
            let parts = parts(text).ok_or_else(|| fault(&format!("the places of {id}")))?;
            // writing to a string can't fail
            if group == GENERATOR {
                let _ = writeln!(tell, "{}", function(key.get_ref(), &parts));
            } else {
                rows.insert(id.clone(), format!("({id:?}, &{parts:?}),\n"));
            }
        }
    }
    let rows: String = rows.into_values().collect();
    Ok(format!("&[\n{rows}]"))
}

/// Words, then a place and words in turn; `None` where a brace is not closed, or stands for nothing.
fn parts(text: &str) -> Option<Vec<&str>> {
    let (before, rest) = text.split_once('{').unwrap_or((text, ""));
    let mut parts = vec![before];
    for part in rest.split('{').filter(|part| !part.is_empty()) {
        let (place, after) = part.split_once('}')?;
        parts.extend([place, after]);
    }
    let places = parts.iter().skip(1).step_by(2);
    let named = places.copied().all(|place| !place.is_empty());
    let words = parts.iter().step_by(2);
    let plain = words.copied().all(|words| !words.contains('}'));
    (named && plain).then_some(parts)
}

/// What says the text, its places as arguments in the order of the alphabet.
fn function(key: &str, parts: &[&str]) -> String {
    let mut places: Vec<&str> = parts.iter().skip(1).step_by(2).copied().collect();
    places.sort_unstable();
    places.dedup();
    let places: Vec<String> = places.iter().map(|one| format!("{one}: &str")).collect();
    let said = parts.iter().enumerate().map(|(at, part)| match at % 2 {
        0 => format!("{part:?}"),
        _ => (*part).to_string(),
    });
    let said: Vec<String> = said.collect();
    format!(
        "pub fn {key}({}) -> String {{ [{}].concat() }}",
        places.join(", "),
        said.join(", ")
    )
}
