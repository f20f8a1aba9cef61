//! Reads a catalog from its files: each by what it holds, then all against each other.

use super::{Catalog, Job, broken, check, columns, link, picture};
use crate::builtin::is_built_in;
use crate::calculator;
use crate::figure::Figure;
use crate::message::Language;
use crate::named;
use crate::source::SourceFile;
use crate::table::{self, Table};
use gaugeleaf_finding::settings::{self, ParsedSettings, SettingType};
use gaugeleaf_finding::{Code, Excerpt, Finding};

impl Catalog {
    /// Reads a catalog. A later file replaces what an earlier one said of the
    /// same name. Formulas are checked for dimensions, and worked examples run.
    pub fn load(files: &[SourceFile]) -> (Catalog, Vec<Finding>) {
        let mut catalog = Catalog {
            language: Language::english(),
            ..Catalog::default()
        };
        let mut findings = Vec::new();
        let texts: std::collections::BTreeMap<&str, &str> = files
            .iter()
            .map(|file| (file.path.as_str(), file.text.as_str()))
            .collect();
        for file in files {
            if file.path.ends_with(".svg") {
                match Figure::parse(&file.path, &file.text) {
                    Ok(figure) => match picture::drawing_name(&file.path) {
                        Some(name) => {
                            catalog.drawings.insert(name.to_string(), figure);
                        }
                        None => {
                            catalog.figures.insert(file.path.clone(), figure);
                        }
                    },
                    Err(faults) => findings.extend(faults),
                }
            } else {
                catalog.take(file, &mut findings);
            }
        }
        broken::name(files, &catalog, &mut findings);
        findings.extend(check::check(&catalog, &texts));
        findings.extend(columns::check(&catalog));
        findings.extend(link::circles(&catalog));
        if findings.is_empty() {
            // An example of a calculator that is itself broken would only repeat the fault.
            findings = catalog.examples();
        }
        findings.sort_by(|a, b| {
            (&a.file, a.span.start, &a.message).cmp(&(&b.file, b.span.start, &b.message))
        });
        (catalog, findings)
    }

    /// Runs the worked examples: the handbook's calculators' on its own tables of equipment, the
    /// built-in ones' on the rows that came with them.
    fn examples(&mut self) -> Vec<Finding> {
        let (built_in, own): (Vec<_>, Vec<_>) = self
            .calculators
            .keys()
            .cloned()
            .partition(|name| is_built_in(&self.calculators[name].file));
        let mut findings = self.run_examples(&own);
        let effective = self.tables.clone();
        self.tables.extend(self.example_tables.clone());
        findings.extend(self.run_examples(&built_in));
        self.tables = effective;
        findings
    }

    fn run_examples(&self, names: &[String]) -> Vec<Finding> {
        let mut job = Job::new();
        job.shows_defaults = true;
        let resolver = self.resolver(&job);
        names
            .iter()
            .flat_map(|name| calculator::check_examples(&self.calculators[name], &resolver))
            .collect()
    }

    /// A table of the handbook's equipment takes the place of built-in rows, which stay beside.
    fn take_table(&mut self, table: Table) {
        let replaced = self.tables.get(&table.name).filter(|_| table.own);
        if let Some(replaced) = replaced.filter(|one| one.equipment && !one.own) {
            let example = (replaced.name.clone(), replaced.clone());
            self.example_tables.extend([example]);
        }
        self.tables.insert(table.name.clone(), table);
    }

    fn take(&mut self, file: &SourceFile, findings: &mut Vec<Finding>) {
        let body = Excerpt::whole(&file.text);
        let before = findings.len();
        let document = ParsedSettings::parse(&file.path, &body, findings);
        let fields = [calculator::FIELDS, table::FIELDS, named::FIELDS]
            .into_iter()
            .find(|fields| fields.iter().any(|field| document.has(field.key)))
            .unwrap_or(BEGIN);
        let empty = document.read(fields, findings, |settings| {
            if fields == calculator::FIELDS {
                let found = calculator::load(settings);
                self.calculators
                    .extend(found.map(|one| (one.name.clone(), one)));
            } else if fields == table::FIELDS {
                if let Some(table) = table::load(settings) {
                    self.take_table(table);
                }
            } else if fields == named::FIELDS {
                let found = named::load(settings).into_iter();
                self.named
                    .extend(found.map(|one| (one.field.name.clone(), one)));
            } else {
                return true;
            }
            false
        });
        if empty && findings.len() == before {
            let span = 0..file.text.len().min(1);
            findings.push(
                Finding::error(
                    Code::EmptyFile,
                    &file.path,
                    span,
                    "this file defines nothing",
                )
                .help("begin with [calculator], [table], [[measurement]] or [[rating]]"),
            );
        }
    }
}

/// What a file may begin with that holds nothing known.
const BEGIN: &[settings::SettingField] = &[
    settings::SettingField::new("calculator", SettingType::Table(&[]), ""),
    settings::SettingField::new("table", SettingType::Table(&[]), ""),
    settings::SettingField::new("measurement", SettingType::Tables(&[]), ""),
    settings::SettingField::new("rating", SettingType::Tables(&[]), ""),
];
