//! The second stage: the built-in catalog and the handbook's own become one graph of
//! named quantities.

use gaugeleaf_calc::calculator::{Calculator, PrintedValue, Problem, ProblemKind, Unresolved};
use gaugeleaf_calc::field::{Entry, FieldKind};
use gaugeleaf_calc::finding::Finding;
use gaugeleaf_calc::kit::Kit;
use gaugeleaf_calc::message::Message;
use gaugeleaf_calc::named::Role;
use gaugeleaf_calc::{Catalog, Names, SourceFile, builtin};

pub use gaugeleaf_calc::Job;

use crate::handbook::files::HandbookFiles;
use crate::values::{kits, overrides};

/// Everything that can be calculated, and the files it was read from.
#[derive(Debug, Default)]
pub struct Graph {
    pub catalog: Catalog,
    /// In the order that they were read: a later one replaces an earlier one's names.
    pub files: Vec<SourceFile>,
    /// The handbook's equipment, by the names of its kits.
    pub kits: Names<Kit>,
    /// Calculators that the handbook leaves out: they are in the catalog no more.
    pub left_out: Vec<Calculator>,
}

impl Graph {
    /// The built-in catalog with the handbook's files over it.
    pub fn load(handbook_files: &HandbookFiles) -> (Graph, Vec<Finding>) {
        let mut told = Vec::new();
        let equipment = kits::sorted(handbook_files, &mut told);
        let mut files = builtin();
        files.retain(|file| !handbook_files.texts.contains_key(&file.path));
        files.extend(
            handbook_files
                .texts_under("calculators/")
                .map(|(path, text)| SourceFile {
                    path: path.to_string(),
                    text: text.to_string(),
                }),
        );
        files.extend(equipment.tables);
        let (catalog, mut findings) = Catalog::load(&files);
        findings.extend(told);
        let kits = kits::load(&equipment.kits, &catalog, &mut findings);
        findings.extend(overrides::check(handbook_files, &catalog));
        let graph = Graph {
            catalog,
            files,
            kits,
            left_out: Vec::new(),
        };
        (graph, findings)
    }

    /// The built-in catalog alone.
    pub fn built_in() -> Graph {
        Graph::load(&HandbookFiles::default()).0
    }

    /// A measurement or rating as printed for a job; none where there is none of this name.
    pub fn quantity(&self, name: &str, job: &Job) -> Option<Result<PrintedValue, Problem>> {
        let named = self.catalog.named.get(name)?;
        let supplied = match self.catalog.quantity(name, job)? {
            Ok(supplied) => supplied,
            Err(Unresolved::Problem(problem)) => return Some(Err(problem)),
            Err(Unresolved::Missing(_)) => return Some(Err(unknown(named.role, name))),
        };
        let words = |text: &str| PrintedValue::Choice {
            name: text.to_string(),
            label: text.to_string(),
        };
        Some(Ok(match (&supplied.entry, &named.field.kind) {
            (Entry::Number(typed), FieldKind::Number { format, .. }) => {
                PrintedValue::Number(format.print(typed.si))
            }
            (Entry::Number(typed), FieldKind::Choice(_)) => words(&typed.value.to_string()),
            (Entry::Choice(choice), _) => words(&choice.label),
        }))
    }

    /// What a calculator's problem may follow from: the input that has no value, and all that
    /// supplies it; where no input is to blame, the calculator itself.
    pub fn causes(&self, calculator: &Calculator, problem: &Problem) -> Vec<String> {
        let Some(input) = calculator.input(&problem.input) else {
            return vec![calculator.name.clone()];
        };
        let mut causes = vec![format!("{}.{}", calculator.name, problem.input)];
        let mut sources: Vec<&str> = Vec::from_iter(input.from.as_ref().map(|from| &*from.value));
        while let Some(source) = sources.pop() {
            if causes.iter().any(|known| known == source) {
                continue;
            }
            causes.push(source.to_string());
            let supplier = source.split_once('.').map(|(supplier, _)| supplier);
            causes.extend(supplier.map(str::to_string));
            let supplier = supplier.and_then(|name| self.catalog.calculators.get(name));
            let inputs = supplier.into_iter().flat_map(|supplier| &supplier.inputs);
            sources.extend(inputs.filter_map(|input| Some(&*input.from.as_ref()?.value)));
        }
        // in a circle of calculators, each one's own part of it comes first
        let own = causes.iter().position(|cause| *cause == calculator.name);
        if let Some(own) = own {
            causes.swap(0, own);
        }
        causes
    }

    /// Why a calculator of this name isn't there, where the handbook itself left it out.
    pub fn left_out(&self, name: &str) -> Option<(String, &'static str)> {
        self.left_out.iter().any(|left| left.name == name).then(|| {
            let message = format!("the calculator `{name}` is left out of this handbook");
            (
                message,
                "take it out of leave_out in handbook.toml, or name another",
            )
        })
    }

    /// The first calculator that takes a measurement or rating as an input.
    pub fn calculator_with(&self, name: &str) -> Option<&Calculator> {
        let takes = |calculator: &&Calculator| {
            calculator
                .inputs
                .iter()
                .any(|input| input.from.as_ref().is_some_and(|from| from.value == name))
        };
        self.catalog.calculators.values().find(takes)
    }
}

/// Why there is no value where nobody gave one.
fn unknown(role: Role, name: &str) -> Problem {
    let (message, help) = match role {
        Role::Measurement => (
            format!("nobody has measured `{name}`"),
            "give it under `given` of the job's page, or under [given] in handbook.toml",
        ),
        Role::Rating => (
            format!("`{name}` is not set"),
            "set it under [rating] in the kit, content/equipment/NAME.toml, with its source",
        ),
    };
    Problem {
        input: name.to_string(),
        kind: ProblemKind::NotKnown,
        message: Message::data(&message),
        help: Some(Message::data(help)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_handbooks_rating_replaces_the_built_in_one() {
        let mut handbook_files = HandbookFiles::default();
        let own = "[[rating]]\nname = \"max_pitch\"\nlabel = \"P\"\nunit = \"mm\"\nprint = \"1\"\n";
        handbook_files
            .texts
            .insert("calculators/own.toml".to_string(), own.to_string());
        let (graph, findings) = Graph::load(&handbook_files);
        assert_eq!(findings, []);
        assert_eq!(graph.catalog.named["max_pitch"].field.label, "P");
    }
}
