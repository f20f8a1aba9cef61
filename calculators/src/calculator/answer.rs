//! What a calculation gives back.

use crate::message::{Message, tell};
use serde::{Deserialize, Serialize};
use std::fmt;

use super::leaf::Leaf;
use super::open;
use crate::field::{Printed, Refusal};
use crate::formula::Value;
use crate::ground::{Footing, Ground};
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
    /// Values outside their usual band that were taken all the same.
    pub doubts: Vec<Problem>,
    /// Inputs that nobody has measured or set.
    pub unset: Vec<UnsetInput>,
    /// Every value by name, for the figure.
    pub values: Names<Value>,
    /// The printed text of every value by name, for the figure.
    pub texts: Names<String>,
}

/// An input without a value, and what would give it one.
#[derive(Debug, Clone, PartialEq)]
pub struct UnsetInput {
    pub name: String,
    pub label: String,
    /// What is lacking, in a few words: `not measured`.
    pub from: Message,
    pub needs: Vec<Leaf>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct InputReading {
    pub name: String,
    pub label: String,
    pub reading: PrintedValue,
    /// As typed and in both unit systems: `1 1/4 in = 31.75 mm`.
    pub understood: String,
    pub source: InputSource,
    pub footing: Footing,
    /// Where it comes from, in a few words: `measured 26 Nov 2026`.
    pub from: Message,
    /// What it may be in SI, where a tolerance was given.
    pub span: Option<Span>,
    /// The same while what is assumed lies anywhere in its usual band.
    pub band: Option<Span>,
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
    /// `None` where the result doesn't exist for these inputs, or isn't known.
    pub reading: Option<PrintedValue>,
    /// What it stands on; without a value, what it would.
    pub footing: Footing,
    /// The job whose value it is, where it is no more than an example; `example` where it is no job's.
    pub of: Message,
    /// `rounded down to 1/8 in`; empty for a choice.
    pub rounded: Message,
    /// What it may be, where an input has a tolerance.
    pub span: Option<SpanReading>,
    /// Where it lies in SI while what is assumed lies anywhere in its usual band.
    pub band: Option<Span>,
}

/// The range of a result, printed so that it holds the whole true range.
#[derive(Debug, Clone, PartialEq)]
pub struct SpanReading {
    pub low: f64,
    pub high: f64,
    /// `25 3/8 in to 25 5/8 in`
    pub text: Message,
}

impl OutputReading {
    /// Nobody has given what it is worked out from.
    pub fn is_open(&self) -> bool {
        self.reading.is_none() && self.footing.ground == Ground::None
    }

    /// The value as it is printed, or that there is none.
    pub fn told(&self) -> Message {
        match &self.reading {
            Some(reading) => Message::data(reading.text()),
            None if self.is_open() => tell::result::not_known(),
            None => tell::result::none(),
        }
    }
}

/// What a check says; the worse is the greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Verdict {
    Go,
    Caution,
    /// What it hangs on is not measured, not set, or not this job's.
    Open,
    Stop,
}

impl Verdict {
    pub const ALL: [Verdict; 4] = [Verdict::Go, Verdict::Caution, Verdict::Open, Verdict::Stop];

    /// What a case of a check may say: a verdict is open for lack of ground alone.
    pub fn parse(word: &str) -> Option<Verdict> {
        match word {
            "go" => Some(Verdict::Go),
            "caution" => Some(Verdict::Caution),
            "stop" => Some(Verdict::Stop),
            _ => None,
        }
    }

    /// The words that `parse` knows.
    pub const WORDS: [&'static str; 3] = [
        Verdict::Go.word(),
        Verdict::Caution.word(),
        Verdict::Stop.word(),
    ];

    pub const fn word(self) -> &'static str {
        match self {
            Verdict::Go => "go",
            Verdict::Caution => "caution",
            Verdict::Open => "open",
            Verdict::Stop => "stop",
        }
    }

    /// As a sentence says it; `word` is its name.
    pub fn told(self) -> Message {
        match self {
            Verdict::Go => tell::verdict::go(),
            Verdict::Caution => tell::verdict::caution(),
            Verdict::Open => tell::verdict::open(),
            Verdict::Stop => tell::verdict::stop(),
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
    /// What the numbers by themselves come to; none where they are lacking.
    pub would: Option<Verdict>,
    pub because: Message,
    /// Other verdicts that it may come to inside the inputs' tolerances.
    pub may_be: Vec<Verdict>,
    /// What to measure, to set or to confirm before this is more than open.
    pub needs: Vec<Leaf>,
    /// A rule that always holds, and is no job's verdict.
    pub standing: bool,
    /// Which of the check's cases holds; none where that can't be told.
    pub case: Option<usize>,
    /// The calculator whose check this is, where it was taken over with a measurement that both
    /// read: told here, and counted there.
    pub of: Option<String>,
}

impl CheckResult {
    /// A verdict on the job, told where it belongs.
    pub fn counts(&self) -> bool {
        !self.standing && self.of.is_none()
    }
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
    pub message: Message,
    pub help: Option<Message>,
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
    /// Nobody has measured or set what it hangs on.
    NotKnown,
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
            ProblemKind::NotKnown => Code::NotKnown,
        }
    }
}

impl Answer {
    /// Nothing worked out yet.
    pub(super) fn of(calculator: &str) -> Answer {
        Answer {
            calculator: calculator.to_string(),
            inputs: Vec::new(),
            outputs: Vec::new(),
            checks: Vec::new(),
            working: Vec::new(),
            problems: Vec::new(),
            doubts: Vec::new(),
            unset: Vec::new(),
            values: Names::new(),
            texts: Names::new(),
        }
    }

    pub fn worst(&self) -> Option<Verdict> {
        self.checks.iter().map(|result| result.is).max()
    }

    /// The worst of what the numbers by themselves come to, whatever they stand on; none where any
    /// is lacking.
    pub fn would(&self) -> Option<Verdict> {
        let all: Option<Vec<Verdict>> = self.checks.iter().map(|result| result.would).collect();
        all?.into_iter().max()
    }

    /// Why a result isn't known, in words.
    pub fn why_open(&self, output: &OutputReading) -> Message {
        self.not_given(Some(&output.footing))
    }

    /// What nobody has measured or set of all that is taken in, in words.
    pub fn why_unset(&self) -> Message {
        self.not_given(None)
    }

    /// Of all, or of what lies beneath one result.
    fn not_given(&self, footing: Option<&Footing>) -> Message {
        let mut beneath: Vec<Leaf> = Vec::new();
        for input in &self.unset {
            for leaf in &input.needs {
                let counts = footing.is_none_or(|footing| footing.weak.contains(&leaf.name));
                if counts && !beneath.contains(leaf) {
                    beneath.push(leaf.clone());
                }
            }
        }
        open::because(&beneath, None, &Message::default())
    }

    /// The worst of the job's own verdicts, standing rules aside.
    pub fn worst_of_job(&self) -> Option<Verdict> {
        let own = self.checks.iter().filter(|result| !result.standing);
        own.map(|result| result.is).max()
    }

    pub fn output(&self, name: &str) -> Option<&OutputReading> {
        self.outputs.iter().find(|output| output.name == name)
    }
}
