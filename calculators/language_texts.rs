//! A language file's texts, for the build scripts of the crates that say them.

use std::io;

use toml::de::{DeTable, DeValue};

/// One table of a language file.
pub struct TextTable {
    pub name: String,
    pub texts: Vec<KeyedText>,
}

/// One text: words, then a place and words in turn.
pub struct KeyedText {
    pub key: String,
    pub parts: Vec<String>,
}

impl KeyedText {
    /// The places in the order of the alphabet, each once: another wording swaps none.
    pub fn places(&self) -> Vec<&str> {
        let places = self.parts.iter().skip(1).step_by(2);
        let mut places: Vec<&str> = places.map(String::as_str).collect();
        places.sort_unstable();
        places.dedup();
        places
    }
}

/// The tables of a language file, in the order of their names, and of their keys.
pub fn tables(path: &str, file: &str) -> io::Result<Vec<TextTable>> {
    let fault = |what: &str| io::Error::other(format!("{path}: {what}"));
    let table = DeTable::parse(file).map_err(|error| fault(&error.to_string()))?;
    let mut tables = Vec::new();
    for (name, entries) in table.get_ref() {
        let name = name.get_ref().to_string();
        let entries = entries.get_ref().as_table();
        let entries = entries.ok_or_else(|| fault(&format!("{name} is no table")))?;
        let mut texts = Vec::new();
        for (key, text) in entries {
            let key = key.get_ref().to_string();
            let text = DeValue::as_str(text.get_ref());
            let text = text.ok_or_else(|| fault(&format!("{name}.{key} is no text")))?;
            let parts = parts(text);
            let parts = parts.ok_or_else(|| fault(&format!("the places of {name}.{key}")))?;
            texts.push(KeyedText { key, parts });
        }
        tables.push(TextTable { name, texts });
    }
    Ok(tables)
}

/// `None` where a brace is not closed, or stands for nothing.
fn parts(text: &str) -> Option<Vec<String>> {
    let (before, rest) = text.split_once('{').unwrap_or((text, ""));
    let mut parts = vec![before.to_string()];
    for part in rest.split('{').filter(|part| !part.is_empty()) {
        let (place, after) = part.split_once('}')?;
        parts.extend([place.to_string(), after.to_string()]);
    }
    let named = parts.iter().skip(1).step_by(2).all(|one| !one.is_empty());
    let plain = parts.iter().step_by(2).all(|words| !words.contains('}'));
    (named && plain).then_some(parts)
}
