//! What a broken file takes from the catalog: the names that it defines and that nobody finds.

use std::ops::Range;

use super::Catalog;
use crate::source::SourceFile;
use gaugeleaf_finding::Finding;

/// A thing that a file defines, by the name under which others know it, and where.
pub struct Defined {
    pub name: String,
    /// Its section of the file.
    pub section: Range<usize>,
}

/// Lets each file's faults say which of its names are lost by them.
pub(super) fn name(files: &[SourceFile], catalog: &Catalog, findings: &mut [Finding]) {
    for file in files {
        if !findings.iter().any(|finding| finding.file == file.path) {
            continue;
        }
        if file.path.ends_with(".svg") {
            let first = findings.iter_mut().find(|one| one.file == file.path);
            if let Some(first) = first.filter(|_| !catalog.figures.contains_key(&file.path)) {
                first.ties.breaks.push(file.path.clone());
            }
            continue;
        }
        // a calculator or table that is misnamed is known to others by its file
        let stem = file.path.rsplit('/').next().unwrap_or(&file.path);
        let stem = Defined {
            name: stem.trim_end_matches(".toml").to_string(),
            section: 0..file.text.len(),
        };
        let things = defined(&file.text).into_iter().chain([stem]);
        for thing in things.filter(|thing| lost(thing, catalog)) {
            let mut own = findings.iter_mut().filter(|one| one.file == file.path);
            let first = own.next();
            let inside = own.find(|one| thing.section.contains(&one.span.start));
            // a fault in its own section, or the one that keeps the whole file from being read
            let blamed = match first {
                Some(first) if thing.section.contains(&first.span.start) => Some(first),
                first => inside.or(first),
            };
            blamed
                .into_iter()
                .for_each(|one| one.ties.breaks.push(thing.name.clone()));
        }
    }
}

fn lost(thing: &Defined, catalog: &Catalog) -> bool {
    match thing.name.split_once('.') {
        Some((calculator, part)) => {
            let held = catalog.calculators.get(calculator);
            held.is_none_or(|held| held.name_type(part).is_none())
        }
        None => {
            let name = thing.name.as_str();
            let held = catalog.calculators.contains_key(name) || catalog.tables.contains_key(name);
            !held && !catalog.named.contains_key(name)
        }
    }
}

/// What a file defines, read line by line: a file that is no TOML has names all the same.
pub fn defined(text: &str) -> Vec<Defined> {
    let mut found: Vec<Defined> = Vec::new();
    let mut calculator = String::new();
    let mut section = "";
    let mut started = 0;
    let mut named = None;
    let mut at = 0;
    let end = |found: &mut Vec<Defined>, named: &mut Option<String>, section: Range<usize>| {
        found.extend(named.take().map(|name| Defined { name, section }));
    };
    for line in text.split_inclusive('\n') {
        let bare = line.trim();
        if bare.starts_with('[') {
            end(&mut found, &mut named, started..at);
            section = bare.trim_matches(['[', ']']);
            started = at;
        } else if let Some(name) = name_on(bare).filter(|_| named.is_none()) {
            named = match section {
                "calculator" | "table" | "measurement" | "rating" => Some(name.to_string()),
                "input" | "term" | "output" => Some(format!("{calculator}.{name}")),
                _ => None,
            };
            if section == "calculator" {
                calculator = name.to_string();
            }
        }
        at += line.len();
    }
    end(&mut found, &mut named, started..at);
    found
}

/// What a line `name = "…"` gives.
fn name_on(line: &str) -> Option<&str> {
    let rest = line.strip_prefix("name")?.trim_start().strip_prefix('=')?;
    rest.trim_start().strip_prefix('"')?.split('"').next()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_files_names_are_read_without_its_toml() {
        let text = "[calculator]\nname = \"slope\"\ntitle = \"open\n[[input]]\nname = \"rise\"\n[[check]]\nname = \"level\"\n";
        let found = defined(text);
        let names: Vec<&str> = found.iter().map(|one| one.name.as_str()).collect();
        assert_eq!(names, ["slope", "slope.rise"]);
        assert_eq!(
            &text[found[1].section.clone()],
            "[[input]]\nname = \"rise\"\n"
        );
        assert!(defined("name = \"loose\"\n").is_empty());
    }
}
