//! What a calculation gives back.

use serde::{Deserialize, Serialize};
use std::fmt;

use crate::field::{Printed, Refusal};
use crate::formula::Value;
use crate::names::Names;
use crate::span::Span;
use gaugeleaf_finding::Code;

#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    pub calculator: String,
    /// Those inputs that were understood, in the calculator's order.
    pub inputs: Vec<InputReading>,
    /// Empty where there is a problem.
    pub outputs: Vec<OutputReading>,
    pub checks: Vec<CheckResult>,
    pub working: Vec<WorkingLine>,
    /// Why there is no result.
    pub problems: Vec<Problem>,
    /// Values outside their usual band that were confirmed.
    pub doubts: Vec<Problem>,
    /// Every value by name, for the figure.
    pub values: Names<Value>,
    /// The printed text of every value by name, for the figure.
    pub texts: Names<String>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct InputReading {
    pub name: String,
    pub label: String,
    pub reading: PrintedValue,
    /// As typed and in both unit systems: `1 1/4 in = 31.75 mm`.
    pub understood: String,
    pub source: InputSource,
    /// What it may be in SI, where a tolerance was given.
    pub span: Option<Span>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum PrintedValue {
    Number(Printed),
    Choice { name: String, label: String },
}

impl PrintedValue {
    pub fn text(&self) -> &str {
        match self {
            PrintedValue::Number(printed) => &printed.text,
            PrintedValue::Choice { label, .. } => label,
        }
    }
}

/// Where an input's value came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum InputSource {
    Typed,
    Default,
    /// A measurement or rating of this name.
    Named(String),
    /// Another calculator's result, `calculator.output`.
    Output(String),
}

#[derive(Debug, Clone, PartialEq)]
pub struct OutputReading {
    pub name: String,
    pub label: String,
    /// `None` where the result doesn't exist for these inputs.
    pub reading: Option<PrintedValue>,
    /// `rounded down to 1/8 in`; empty for a choice.
    pub rounded: String,
    /// What it may be, where an input has a tolerance.
    pub span: Option<SpanReading>,
}

/// The range of a result, printed so that it holds the whole true range.
#[derive(Debug, Clone, PartialEq)]
pub struct SpanReading {
    pub low: f64,
    pub high: f64,
    /// `25 3/8 in to 25 5/8 in`
    pub text: String,
}

impl OutputReading {
    pub fn text(&self) -> &str {
        self.reading.as_ref().map_or("none", PrintedValue::text)
    }
}

/// What a check says; the worse is the greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Verdict {
    Go,
    Caution,
    Stop,
}

impl Verdict {
    pub fn parse(word: &str) -> Option<Verdict> {
        match word {
            "go" => Some(Verdict::Go),
            "caution" => Some(Verdict::Caution),
            "stop" => Some(Verdict::Stop),
            _ => None,
        }
    }

    pub const WORDS: [&'static str; 3] = [
        Verdict::Go.word(),
        Verdict::Caution.word(),
        Verdict::Stop.word(),
    ];

    pub const fn word(self) -> &'static str {
        match self {
            Verdict::Go => "go",
            Verdict::Caution => "caution",
            Verdict::Stop => "stop",
        }
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.word())
    }
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CheckResult {
    pub check: String,
    pub is: Verdict,
    pub because: String,
    /// Other verdicts that it may come to inside the inputs' tolerances.
    pub may_be: Vec<Verdict>,
}

/// One line of the working: the formula, the same with numbers, the result.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkingLine {
    pub name: String,
    pub label: String,
    pub formula: String,
    pub numbers: String,
    pub result: String,
    pub mathml: String,
}

/// Why an input, or the whole calculation, is refused.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// The input's name; empty where no single input is to blame.
    pub input: String,
    pub kind: ProblemKind,
    pub message: String,
    pub help: Option<String>,
}

/// What a problem is; its message says so to a person.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProblemKind {
    /// A value can't be read, or lies beyond the input's limits.
    Refused,
    /// A value lies outside the usual band, and passes once confirmed.
    Doubtful,
    /// There is no input, measurement or rating of this name.
    Unknown,
    /// How far off an answer may be can't be read.
    Tolerance,
    /// There is no answer, though no value is refused.
    NoAnswer,
}

impl ProblemKind {
    pub fn of(refusal: &Refusal) -> ProblemKind {
        if refusal.doubtful {
            ProblemKind::Doubtful
        } else {
            ProblemKind::Refused
        }
    }

    /// What a finding of it is called, whichever way the value came in.
    pub fn code(self) -> Code {
        match self {
            ProblemKind::Unknown => Code::UnknownInput,
            ProblemKind::Refused | ProblemKind::NoAnswer => Code::BadInput,
            ProblemKind::Doubtful => Code::DoubtfulInput,
            ProblemKind::Tolerance => Code::BadTolerance,
        }
    }
}

impl Answer {
    pub fn worst(&self) -> Option<Verdict> {
        self.checks.iter().map(|result| result.is).max()
    }

    pub fn output(&self, name: &str) -> Option<&OutputReading> {
        self.outputs.iter().find(|output| output.name == name)
    }
}
