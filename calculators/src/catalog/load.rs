//! Reads a catalog from its files: each by what it holds, then all against each other.

use super::{Catalog, Job, broken, check, link};
use crate::calculator;
use crate::figure::Figure;
use crate::named;
use crate::source::{Reader, SourceFile};
use crate::table;
use gaugeleaf_finding::{Code, Finding};

impl Catalog {
    /// Reads a catalog. A later file replaces what an earlier one said of the
    /// same name. Formulas are checked for dimensions, and worked examples run.
    pub fn load(files: &[SourceFile]) -> (Catalog, Vec<Finding>) {
        let mut catalog = Catalog::default();
        let mut findings = Vec::new();
        let texts: std::collections::BTreeMap<&str, &str> = files
            .iter()
            .map(|file| (file.path.as_str(), file.text.as_str()))
            .collect();
        for file in files {
            if file.path.ends_with(".svg") {
                match Figure::parse(&file.path, &file.text) {
                    Ok(figure) => {
                        catalog.figures.insert(file.path.clone(), figure);
                    }
                    Err(faults) => findings.extend(faults),
                }
            } else {
                catalog.take(file, &mut findings);
            }
        }
        broken::name(files, &catalog, &mut findings);
        findings.extend(check::check(&catalog, &texts));
        findings.extend(link::circles(&catalog));
        if findings.is_empty() {
            // An example of a calculator that is itself broken would only repeat the fault.
            let job = Job::new();
            let supply = catalog.supply(&job);
            for calculator in catalog.calculators.values() {
                findings.extend(calculator::check_examples(calculator, &supply));
            }
        }
        findings.sort_by(|a, b| {
            (&a.file, a.span.start, &a.message).cmp(&(&b.file, b.span.start, &b.message))
        });
        (catalog, findings)
    }

    fn take(&mut self, file: &SourceFile, findings: &mut Vec<Finding>) {
        let mut reader = Reader::new(&file.path, &file.text);
        if let Some(parsed) = reader.parse() {
            let mut fields = reader.fields(&parsed, &(0..file.text.len().min(1)));
            if fields.get("calculator").is_some() {
                if let Some(found) = calculator::load(&mut fields, &mut reader) {
                    self.calculators.insert(found.name.clone(), found);
                }
            } else if fields.get("table").is_some() {
                if let Some(found) = table::load(&mut fields, &mut reader) {
                    self.tables.insert(found.name.clone(), found);
                }
            } else {
                let found = named::load(&mut fields, &mut reader);
                if found.is_empty() && reader.findings.is_empty() {
                    reader
                        .error(
                            Code::EmptyFile,
                            &(0..file.text.len().min(1)),
                            "this file defines nothing",
                        )
                        .help = Some(
                        "begin with [calculator], [table], [[measurement]] or [[rating]]".into(),
                    );
                }
                for named in found {
                    self.named.insert(named.field.name.clone(), named);
                }
            }
            fields.finish(&mut reader);
        }
        findings.append(&mut reader.findings);
    }
}
