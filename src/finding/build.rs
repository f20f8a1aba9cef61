//! Makes the codes of findings, an enum, from the table of them: `codes.toml`.

use std::fmt::Write;
use std::path::Path;
use std::{env, fs, io};

use toml::de::{DeTable, DeValue};

const TABLE: &str = "codes.toml";

fn main() -> io::Result<()> {
    println!("cargo:rerun-if-changed={TABLE}");
    println!("cargo:rerun-if-changed=build.rs");
    let table = fs::read_to_string(TABLE)?;
    let table = DeTable::parse(&table).map_err(|error| fault(&error.to_string()))?;
    let entries = table.get_ref().get("code");
    let entries = entries
        .and_then(|entries| entries.get_ref().as_array())
        .ok_or_else(|| fault("it holds no [[code]]"))?;
    let codes = entries.iter().map(|entry| Entry::of(entry.get_ref()));
    let codes = codes.collect::<io::Result<Vec<Entry>>>()?;
    let out = env::var_os("OUT_DIR").ok_or(io::ErrorKind::NotFound)?;
    fs::write(Path::new(&out).join("code.rs"), code(&codes))?;
    fs::write(Path::new(&out).join("entries.rs"), meanings(&codes))
}

fn fault(what: &str) -> io::Error {
    io::Error::other(format!("{TABLE}: {what}"))
}

struct Entry {
    name: String,
    level: Option<String>,
    means: String,
    examples: Vec<Example>,
}

struct Example {
    place: String,
    times: usize,
    bad: String,
    good: String,
}

impl Entry {
    fn of(entry: &DeValue) -> io::Result<Entry> {
        let name = text(entry, "name").ok_or_else(|| fault("a code has no name"))?;
        let also = value(entry, "also").and_then(DeValue::as_array);
        let also = also.into_iter().flat_map(|also| also.iter());
        let examples = std::iter::once(entry).chain(also.map(toml::Spanned::get_ref));
        Ok(Entry {
            level: text(entry, "level"),
            means: needed(entry, "means", &name)?,
            examples: examples
                .map(|example| Example::of(example, &name))
                .collect::<io::Result<_>>()?,
            name,
        })
    }

    /// `typed-quantity` as `TypedQuantity`.
    fn variant(&self) -> String {
        let word = |word: &str| {
            let (first, rest) = word.split_at(1);
            first.to_uppercase() + rest
        };
        self.name.split('-').map(word).collect()
    }
}

impl Example {
    fn of(example: &DeValue, name: &str) -> io::Result<Example> {
        let times = value(example, "times").and_then(DeValue::as_integer);
        let times = times.map_or(Ok(1), |times| times.as_str().parse());
        Ok(Example {
            place: text(example, "in").unwrap_or_default(),
            times: times.map_err(io::Error::other)?,
            bad: needed(example, "bad", name)?,
            good: needed(example, "good", name)?,
        })
    }
}

fn value<'v, 't>(table: &'v DeValue<'t>, key: &str) -> Option<&'v DeValue<'t>> {
    let value = table.as_table().and_then(|table| table.get(key));
    value.map(toml::Spanned::get_ref)
}

fn text(table: &DeValue, key: &str) -> Option<String> {
    let text = value(table, key).and_then(DeValue::as_str);
    text.map(str::to_string)
}

fn needed(table: &DeValue, key: &str, name: &str) -> io::Result<String> {
    let written = text(table, key).filter(|text| !text.is_empty());
    written.ok_or_else(|| fault(&format!("{name} has no {key}")))
}

/// The enum, and what each code is called.
fn code(codes: &[Entry]) -> String {
    let mut variants = String::new();
    let mut names = String::new();
    for code in codes {
        let (variant, name) = (code.variant(), &code.name);
        let _ = writeln!(variants, "    /// {}\n    {variant},", code.means);
        let _ = writeln!(names, "            Code::{variant} => {name:?},");
    }
    format!(
        "/// The kind of a fault.\n\
         #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]\n\
         pub enum Code {{\n{variants}}}\n\n\
         impl Code {{\n    \
         /// As people and machines read it: a stable name in kebab case.\n    \
         #[allow(clippy::too_many_lines)]\n    pub fn name(self) -> &'static str {{\n        match self {{\n{names}        }}\n    }}\n}}\n"
    )
}

/// What each code means, in the order of the enum.
fn meanings(codes: &[Entry]) -> String {
    let mut entries = String::from("[\n");
    for code in codes {
        let level = match code.level.as_deref() {
            Some("error") => "Some(Level::Error)",
            Some("warning") => "Some(Level::Warning)",
            _ => "None",
        };
        let (variant, means) = (code.variant(), &code.means);
        let _ = writeln!(
            entries,
            "    CodeEntry {{ code: Code::{variant}, level: {level}, means: {means:?}, examples: &["
        );
        for Example {
            place,
            times,
            bad,
            good,
        } in &code.examples
        {
            let _ = writeln!(
                entries,
                "        CodeExample {{ place: {place:?}, times: {times}, bad: {bad:?}, good: {good:?} }},"
            );
        }
        entries.push_str("    ] },\n");
    }
    entries.push_str("]\n");
    entries
}
