//! The handbook's equipment: which of its files are kits and which are tables, and its kits.

use gaugeleaf_calc::finding::settings::ParsedSettings;
use gaugeleaf_calc::finding::{Code, Excerpt, Finding};
use gaugeleaf_calc::kit::{self, Kit};
use gaugeleaf_calc::{Catalog, Names, SourceFile};

use crate::handbook::files::HandbookFiles;
use crate::handbook::places::EQUIPMENT;

/// The files of a handbook's equipment, by what they hold.
#[derive(Debug, Default)]
pub struct EquipmentFiles {
    /// For the catalog.
    pub tables: Vec<SourceFile>,
    pub kits: Vec<SourceFile>,
}

/// Tells the files apart by the key that they begin with; one that holds neither is told.
pub fn sorted(files: &HandbookFiles, findings: &mut Vec<Finding>) -> EquipmentFiles {
    let mut sorted = EquipmentFiles::default();
    let equipment = files.texts_under(EQUIPMENT);
    for (path, text) in equipment.filter(|(path, _)| path.ends_with(".toml")) {
        // what is wrong with its notation is told by whoever reads it
        let mut notation = Vec::new();
        let body = Excerpt::whole(text);
        let parsed = ParsedSettings::parse(path, &body, &mut notation);
        let file = SourceFile {
            path: path.to_string(),
            text: text.to_string(),
        };
        if parsed.has("kit") || !notation.is_empty() && !parsed.has("table") {
            sorted.kits.push(file);
        } else if parsed.has("table") {
            sorted.tables.push(file);
        } else {
            let message = "this file holds no kit and no table";
            findings.push(
                Finding::error(Code::EmptyFile, path, 0..text.len().min(1), message)
                    .help("begin with [kit] or [table]; names and formulas belong in calculators"),
            );
        }
    }
    sorted
}

/// The kits by name; a second of one name is told and left out.
pub fn load(files: &[SourceFile], catalog: &Catalog, findings: &mut Vec<Finding>) -> Names<Kit> {
    let mut kits: Names<Kit> = Names::new();
    for file in files {
        let (kit, found) = kit::load(&file.path, &file.text, catalog);
        findings.extend(found);
        let Some(kit) = kit else { continue };
        if let Some(other) = kits.get(&kit.name) {
            let message = format!("the kit `{}` stands in {} already", kit.name, other.file);
            findings.push(
                Finding::error(Code::SameKit, &kit.file, kit.span, message)
                    .help("give each kit a name of its own"),
            );
            continue;
        }
        kits.insert(kit.name.clone(), kit);
    }
    kits
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::values::graph::Graph;

    fn found(texts: &[(&str, &str)]) -> (Graph, Vec<(&'static str, String)>) {
        let mut files = HandbookFiles::default();
        for (name, text) in texts {
            let path = format!("{EQUIPMENT}{name}.toml");
            files.texts.insert(path, (*text).to_string());
        }
        let (graph, findings) = Graph::load(&files);
        let found = findings
            .into_iter()
            .map(|one| (one.code.name(), one.file))
            .collect();
        (graph, found)
    }

    const BLUE: &str = "[kit]\nname = \"blue\"\ntitle = \"Blue\"\n[rating]\nhose = { table = \"hoses\", size = \"a\" }\n";
    const HOSES: &str = "[table]\nname = \"hoses\"\ntitle = \"Hoses\"\nsource = \"log\"\ncolumns = [ { name = \"size\", text = true }, { name = \"od\", unit = \"mm\", print = \"0.1\", rating = \"hose_od\" } ]\nkey = [\"size\"]\nrows = [ [\"a\", \"9 mm\"] ]\n";

    #[test]
    fn equipment_is_kits_and_tables_and_a_kit_may_take_a_row() {
        let (graph, faults) = found(&[("blue", BLUE), ("hoses", HOSES)]);
        assert_eq!(faults, []);
        assert_eq!(graph.kits["blue"].ratings["hose_od"].text.value, "9 mm");
        assert!(graph.catalog.tables["hoses"].own);
    }

    #[test]
    fn a_second_kit_of_one_name_and_a_file_of_neither_are_told() {
        let at = |code, name: &str| (code, format!("{EQUIPMENT}{name}.toml"));
        let (graph, faults) = found(&[("a", BLUE), ("b", BLUE), ("hoses", HOSES)]);
        assert_eq!(faults, [at("same-kit", "b")]);
        assert_eq!(graph.kits.len(), 1);
        let (_, faults) = found(&[("a", "[[rating]]\nname = \"x\"\n")]);
        assert_eq!(faults, [at("empty-file", "a")]);
        let (_, faults) = found(&[("a", "kit\n")]);
        assert_eq!(faults, [at("bad-settings", "a")]);
    }
}
