//! What a calculator's file says, after reading.

use serde::{Deserialize, Serialize};
use std::ops::Range;

use super::answer::Verdict;
use super::template::Template;
use crate::field::{Choice, Field, NumberFormat};
use crate::formula::{Formula, Type};
use crate::message::Message;
use crate::message::tell::area as tell;
use crate::unit::Dimension;
use gaugeleaf_finding::Placed;
use gaugeleaf_finding::settings::Binding;

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Calculator {
    pub name: String,
    pub title: String,
    /// The part of the job that it belongs to.
    #[serde(skip)]
    pub area: Option<Area>,
    /// What it is for, in one line.
    #[serde(skip)]
    pub purpose: String,
    /// What it does not account for.
    #[serde(skip)]
    pub not_counted: String,
    pub hazard: Option<Hazard>,
    /// How it works, in words.
    #[serde(skip)]
    pub method: String,
    /// What people say for it.
    pub also: Vec<String>,
    #[serde(skip)]
    pub sources: Vec<String>,
    /// The figure's file name, beside the calculator's.
    pub figure: Option<Placed<String>>,
    pub plot: Option<Plot>,
    /// The file name of a tube map, beside the calculator's.
    pub map: Option<Placed<String>>,
    /// Kinds of quantity that change nothing here, though people say them: the flow, where water warms.
    pub idle: Vec<Dimension>,
    pub inputs: Vec<Input>,
    /// Terms and outputs in the order of the file.
    pub outputs: Vec<Output>,
    /// Indices into `outputs` in an order in which each formula has its values.
    pub order: Vec<usize>,
    pub checks: Vec<Check>,
    pub cross_checks: Vec<CrossCheck>,
    #[serde(skip)]
    pub examples: Vec<Example>,
    pub file: String,
    #[serde(skip)]
    pub span: Range<usize>,
}

/// The parts of the job, in the order of the work: what a setup sheet is grouped by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Area {
    Survey,
    Fitting,
    Water,
    Air,
    Planning,
}

impl Area {
    pub const ALL: [Area; 5] = [
        Area::Survey,
        Area::Fitting,
        Area::Water,
        Area::Air,
        Area::Planning,
    ];

    pub const WORDS: [&'static str; 5] = [
        Area::Survey.word(),
        Area::Fitting.word(),
        Area::Water.word(),
        Area::Air.word(),
        Area::Planning.word(),
    ];

    /// As a calculator's file says it.
    pub const fn word(self) -> &'static str {
        match self {
            Area::Survey => "survey",
            Area::Fitting => "fitting",
            Area::Water => "water",
            Area::Air => "air",
            Area::Planning => "planning",
        }
    }

    /// As a heading says it; what belongs to no part has one too.
    pub fn title(area: Option<Area>) -> Message {
        match area {
            Some(Area::Survey) => tell::survey(),
            Some(Area::Fitting) => tell::fitting(),
            Some(Area::Water) => tell::water(),
            Some(Area::Air) => tell::air(),
            Some(Area::Planning) => tell::planning(),
            None => tell::other(),
        }
    }
}

/// The hazard that goes with a calculator's use, in the sense of ANSI Z535.6.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Hazard {
    pub word: String,
    pub text: String,
}

impl Hazard {
    /// Its first sentence, to stand beside a result.
    pub fn head(&self) -> &str {
        let end = self.text.find(". ").map_or(self.text.len(), |at| at + 1);
        &self.text[..end]
    }
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Input {
    pub field: Field,
    /// The measurement, rating or `calculator.output` that supplies it.
    pub from: Option<Placed<String>>,
    pub default: Option<Placed<String>>,
    /// The place of the input that it stands beside: of two of its kind it is the nearer one.
    pub beside: Option<usize>,
    /// A question gives it by its whole name alone.
    pub by_name: bool,
}

/// A result, or a term on the way to one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Output {
    pub name: String,
    pub label: String,
    /// What people call it besides.
    pub called: Vec<String>,
    #[serde(skip)]
    pub help: String,
    pub symbol: String,
    pub kind: OutputKind,
    pub formula: Formula,
    #[serde(skip)]
    pub formula_at: Placed<String>,
    /// Without it there is no such result.
    pub only_if: Option<(Formula, Placed<String>)>,
    /// A term shows in the working alone.
    pub is_term: bool,
    /// What is meant where nobody says which result is asked for.
    pub asked: bool,
    #[serde(skip)]
    pub span: Range<usize>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[expect(
    clippy::large_enum_variant,
    reason = "a handbook holds a few hundred of these, for good"
)]
pub enum OutputKind {
    Number(NumberFormat),
    Choice(Vec<Choice>),
}

/// What a calculator's plot shows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plot {
    pub output: String,
    pub over: String,
    /// In SI.
    pub from: f64,
    pub to: f64,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Check {
    pub name: String,
    /// A rule that always holds, such as hearing protection: told, and no verdict on the job.
    pub standing: bool,
    pub cases: Vec<Case>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Case {
    /// `None` in the last case alone: it holds when no other does.
    pub when: Option<(Formula, Placed<String>)>,
    pub is: Verdict,
    pub because: Template,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Example {
    pub source: String,
    pub given: Vec<Binding>,
    pub expect: Vec<Binding>,
    pub verdict: Option<Placed<String>>,
    pub span: Range<usize>,
}

impl Check {
    /// The names that its conditions read.
    pub fn reads(&self) -> impl Iterator<Item = &str> {
        let conditions = self.cases.iter().filter_map(|case| case.when.as_ref());
        conditions.flat_map(|(when, _)| when.names())
    }
}

/// What a sentence calls the measurement that a value is held against.
pub const MEASURED: &str = "measured";

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CrossCheck {
    pub name: String,
    /// A result or an input of the calculator.
    pub value: Placed<String>,
    /// The measurement that it is held against.
    pub measured: Placed<String>,
    /// The value has to be the larger of the two, and not the same.
    pub larger: bool,
    /// How far apart readings of one thing may lie, tolerances aside.
    pub within: Formula,
    #[serde(skip)]
    pub within_at: Placed<String>,
    pub because: Template,
}

impl Output {
    /// The names that its formula and its condition read.
    pub fn reads(&self) -> impl Iterator<Item = &str> {
        let only_if = self.only_if.iter().flat_map(|(when, _)| when.names());
        self.formula.names().into_iter().chain(only_if)
    }

    pub fn formula_type(&self) -> Type {
        match &self.kind {
            OutputKind::Number(format) => {
                Type::Number(format.main.unit.dimension, format.main.kind)
            }
            OutputKind::Choice(choices) => {
                Type::Choice(choices.iter().map(|choice| choice.name.clone()).collect())
            }
        }
    }
}

impl Calculator {
    pub fn input(&self, name: &str) -> Option<&Input> {
        self.inputs.iter().find(|input| input.field.name == name)
    }

    /// A result or term.
    pub fn output(&self, name: &str) -> Option<&Output> {
        self.outputs.iter().find(|output| output.name == name)
    }

    /// A result, not a term.
    pub fn result(&self, name: &str) -> Option<&Output> {
        self.results().find(|output| output.name == name)
    }

    /// These names, each once, and all that they are worked out from; the nearest first.
    pub fn behind<'c>(&'c self, names: impl Iterator<Item = &'c str>) -> Vec<&'c str> {
        let mut met: Vec<&str> = Vec::new();
        let meet = |met: &mut Vec<&'c str>, name| {
            if !met.contains(&name) {
                met.push(name);
            }
        };
        names.for_each(|name| meet(&mut met, name));
        let mut at = 0;
        while let Some(name) = met.get(at).copied() {
            at += 1;
            let reads = self.output(name).into_iter().flat_map(Output::reads);
            reads.for_each(|name| meet(&mut met, name));
        }
        met
    }

    pub fn input_names(&self) -> Vec<&str> {
        self.inputs
            .iter()
            .map(|input| input.field.name.as_str())
            .collect()
    }

    /// The results, without the terms.
    pub fn results(&self) -> impl Iterator<Item = &Output> {
        self.outputs.iter().filter(|output| !output.is_term)
    }

    pub fn name_type(&self, name: &str) -> Option<Type> {
        match self.input(name) {
            Some(input) => Some(input.field.formula_type()),
            None => self.output(name).map(Output::formula_type),
        }
    }

    pub fn names(&self) -> Vec<String> {
        let outputs = self.outputs.iter().map(|output| output.name.clone());
        self.inputs
            .iter()
            .map(|input| input.field.name.clone())
            .chain(outputs)
            .collect()
    }

    /// The path of a file that lies beside the calculator's own.
    pub fn beside(&self, file: &Placed<String>) -> String {
        let folder = self.file.rsplit_once('/').map_or("", |(folder, _)| folder);
        if folder.is_empty() {
            file.value.clone()
        } else {
            format!("{folder}/{}", file.value)
        }
    }
}
