//! Calculators: inputs, formulas, outputs, checks with verdicts, worked examples.
//!
//! A definition is read from one TOML file by `load`, checked there for
//! dimensions, and evaluated by `run`.

mod answer;
mod argument;
mod band;
mod cover;
mod cross_check;
mod definition;
mod example;
mod fields;
mod grade;
mod judge;
mod leaf;
mod limit;
mod load;
mod open;
mod order;
mod outcome;
mod plot;
mod reading;
mod resolver;
mod run;
mod sentence;
mod slice;
mod spread;
mod state;
mod template;
mod tolerance;
mod trace;
mod working;

pub use answer::{
    Answer, CheckResult, InputReading, InputSource, OutputReading, PrintedValue, Problem,
    ProblemKind, SpanReading, UnsetInput, Verdict, WorkingLine,
};
pub use argument::Argument;
pub use definition::{
    Area, Calculator, Case, Check, CrossCheck, Example, Hazard, Input, MEASURED, Output,
    OutputKind, Plot,
};
pub use fields::FIELDS;
pub use grade::Grade;
pub use leaf::Leaf;
pub use limit::{Edge, Limit};
pub use outcome::Outcome;
pub use resolver::{Resolved, Resolver, Unresolved};
pub use template::Template;
pub use working::LONGEST_MATHML;

pub(crate) use example::check_examples;
pub(crate) use load::load;
#[cfg(test)]
pub(crate) use spread::{Possibilities, Possible};
