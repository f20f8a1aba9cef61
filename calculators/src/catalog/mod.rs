//! The catalog: calculators, tables, measurements and ratings joined into one
//! graph of named quantities.
//!
//! ```
//! use gaugeleaf_calc::{Catalog, Given, Job, builtin};
//! let (catalog, findings) = Catalog::load(&builtin());
//! assert!(findings.is_empty(), "{findings:?}");
//! let given = [Given::new("channel_depth", "9 in"), Given::new("stock_length", "12 in")];
//! let answer = catalog.calculate("guide-tube-length", &given, &Job::new()).unwrap();
//! assert_eq!(answer.output("length").unwrap().text(), "21 in");
//! ```

mod check;
mod link;
mod outcomes;
mod pack;
mod picture;
mod sheet;
mod supply;

use serde::{Deserialize, Serialize};

use crate::calculator::{self, Answer, Calculator, Given, Limit, Problem, Supplied, Supply};
use crate::figure::Figure;
use crate::finding::{Finding, nearest};
use crate::named::{self, Named};
use crate::names::Names;
use crate::source::{Reader, SourceFile};
use crate::table::{self, Table};

pub use sheet::{NamedReading, SetupSheet};

/// The values of one job: measurement or rating by name, as typed.
pub type Job = Names<String>;

/// Everything that a handbook can calculate.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
pub struct Catalog {
    pub calculators: Names<Calculator>,
    pub tables: Names<Table>,
    pub named: Names<Named>,
    /// Figures by path.
    pub figures: Names<Figure>,
}

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
                            "empty-file",
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

    /// Evaluates a calculator; `None` where there is none of this name.
    pub fn calculate(&self, name: &str, given: &[Given], job: &Job) -> Option<Answer> {
        let supply = self.supply(job);
        Some(self.calculators.get(name)?.run(given, &supply))
    }

    /// How far an input may go before each check changes its verdict.
    ///
    /// # Errors
    /// Why the calculator gives no answer, or why the input has no limit.
    pub fn limits(
        &self,
        name: &str,
        input: &str,
        given: &[Given],
        job: &Job,
    ) -> Result<Vec<Limit>, Problem> {
        let supply = self.supply(job);
        let problem = |message: String, help: Option<String>| Problem {
            input: input.to_string(),
            message,
            help,
            doubtful: false,
        };
        let calculator = self
            .calculators
            .get(name)
            .ok_or_else(|| problem(format!("there is no calculator `{name}`"), None))?;
        if calculator.input(input).is_none() {
            let names = calculator.input_names();
            let help =
                nearest(input, names.iter().copied()).map(|near| format!("did you mean {near}?"));
            let help = help.unwrap_or_else(|| format!("the inputs are {}", names.join(", ")));
            return Err(problem(
                format!("`{input}` is not an input of {name}"),
                Some(help),
            ));
        }
        if calculator.checks.is_empty() {
            return Err(problem(
                format!("{name} checks nothing, so no input has a limit"),
                None,
            ));
        }
        let answer = calculator.run(given, &supply);
        if let Some(first) = answer.problems.first() {
            return Err(first.clone());
        }
        let limits = calculator.limits(input, &answer, &supply);
        if limits.is_empty() {
            return Err(problem(
                format!("`{input}` is a choice, so it has no limit"),
                None,
            ));
        }
        Ok(limits)
    }

    /// A measurement or rating, as this job has it.
    ///
    /// # Errors
    /// Why the job's value is refused.
    pub fn quantity(&self, name: &str, job: &Job) -> Option<Result<Supplied, Problem>> {
        self.named
            .contains_key(name)
            .then(|| self.supply(job).supply(name))
    }
}

#[cfg(test)]
mod soundness;
#[cfg(test)]
mod tests;
