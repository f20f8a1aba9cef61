//! What the engine answers, as its JSON.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::there;

/// What a value stands on, from the least to the best.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(rename_all = "lowercase")]
#[ts(rename = "Ground")]
pub enum GroundJson {
    None,
    Example,
    Doubted,
    Assumed,
    Public,
    Rated,
    Measured,
}

/// What a check says.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(rename_all = "lowercase")]
#[ts(rename = "Is")]
pub enum IsJson {
    Go,
    Caution,
    Open,
    Stop,
}

/// Whose value it is that a verdict hangs on.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(rename_all = "lowercase")]
#[ts(rename = "LeafKind")]
pub enum WhatJson {
    Measurement,
    Rating,
    Input,
}

/// A value that a verdict or a result hangs on.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Leaf")]
pub struct LeafJson {
    name: String,
    label: String,
    what: WhatJson,
    ground: GroundJson,
    from: String,
}

/// What a value may be inside the inputs' tolerances, in SI units.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Span")]
pub struct SpanJson {
    low: f64,
    high: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    text: Option<String>,
}

/// An input as it was read, or a result; which parts it has hangs on what it is.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Reading")]
pub struct ReadingJson {
    label: String,
    /// A quantity's unit; null for a result that doesn't exist.
    #[serde(
        default,
        deserialize_with = "there",
        skip_serializing_if = "Option::is_none"
    )]
    #[ts(optional)]
    unit: Option<Option<String>>,
    /// The exact quantity, in SI units.
    #[serde(
        default,
        deserialize_with = "there",
        skip_serializing_if = "Option::is_none"
    )]
    #[ts(optional)]
    si: Option<Option<f64>>,
    /// The exact number in its unit.
    #[serde(
        default,
        deserialize_with = "there",
        skip_serializing_if = "Option::is_none"
    )]
    #[ts(optional)]
    value: Option<Option<f64>>,
    text: String,
    /// The same in the other system of units.
    #[serde(
        default,
        deserialize_with = "there",
        skip_serializing_if = "Option::is_none"
    )]
    #[ts(optional)]
    also: Option<Option<String>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    understood: Option<String>,
    /// In which direction a result was rounded, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    rounded: Option<String>,
    /// The name of the choice.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    choice: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    span: Option<SpanJson>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    ground: Option<GroundJson>,
    /// Where it comes from, in a few words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    from: Option<String>,
    /// The job whose value a result is, where it is an example.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    of: Option<String>,
    /// Why a result isn't known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    why: Option<String>,
    /// What is unusual in a measurement that was confirmed.
    #[serde(
        default,
        deserialize_with = "there",
        skip_serializing_if = "Option::is_none"
    )]
    #[ts(optional)]
    doubt: Option<Option<String>>,
    /// A measurement as it is to be kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    keep: Option<String>,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Problem")]
pub struct ProblemJson {
    input: String,
    message: String,
    help: Option<String>,
    doubtful: bool,
    /// Of a measurement or rating.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    label: Option<String>,
}

/// An input that nobody has measured or set.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Unset")]
pub struct UnsetJson {
    input: String,
    label: String,
    from: String,
    needs: Vec<LeafJson>,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Verdict")]
pub struct VerdictJson {
    check: String,
    is: IsJson,
    /// What the numbers come to, whatever they stand on; null where one is lacking.
    would: Option<IsJson>,
    because: String,
    /// What it may be inside the inputs' tolerances.
    may_be: Vec<IsJson>,
    needs: Vec<LeafJson>,
    /// A rule that always holds, and no job's verdict.
    standing: bool,
    /// The calculator whose check it is, where this one only reads the same measurement.
    of: Option<String>,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "WorkingLine")]
pub struct LineJson {
    name: String,
    label: String,
    formula: String,
    numbers: String,
    result: String,
    mathml: String,
}

/// To `calculate`.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Answer")]
pub struct AnswerJson {
    calculator: String,
    inputs: BTreeMap<String, ReadingJson>,
    outputs: BTreeMap<String, ReadingJson>,
    verdicts: Vec<VerdictJson>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    working: Option<Vec<LineJson>>,
    problems: Vec<ProblemJson>,
    /// What is unusual and was confirmed.
    doubts: Vec<ProblemJson>,
    unset: Vec<UnsetJson>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    figure: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    plot: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    map: Option<String>,
    /// The handbook's equipment is invented.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    training: Option<bool>,
}

/// To `measure`.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "MeasureAnswer")]
pub struct MeasuredJson {
    inputs: BTreeMap<String, ReadingJson>,
    problems: Vec<ProblemJson>,
}

/// Where a check changes its verdict.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Edge")]
pub struct EdgeJson {
    si: Option<f64>,
    text: String,
    then: Option<IsJson>,
    /// The edge itself belongs to what lies before it.
    at_least: bool,
}

/// How far an input may go before a check changes its verdict; an end is null where it never does.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Limit")]
pub struct LimitJson {
    check: String,
    line: String,
    is: IsJson,
    words: String,
    low: Option<EdgeJson>,
    high: Option<EdgeJson>,
}

/// To `limits`.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "LimitsAnswer")]
pub struct LimitsJson {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    limits: Option<Vec<LimitJson>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    problems: Option<Vec<ProblemJson>>,
}

/// To `grade`.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "GradeAnswer")]
pub struct GradedJson {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    right: Option<bool>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    expected: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    working: Option<Vec<LineJson>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    problem: Option<ProblemJson>,
}

/// To `switch`.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "SwitchAnswer")]
pub struct SwitchedJson {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    text: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    problem: Option<String>,
    #[serde(
        default,
        deserialize_with = "there",
        skip_serializing_if = "Option::is_none"
    )]
    #[ts(optional)]
    help: Option<Option<String>>,
}

/// To `job`, and to whatever the engine takes.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "TakeAnswer")]
pub struct TakenJson {
    ok: bool,
}

/// Of the measurements that the handbook names, how many the job has.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Measured")]
pub struct CountJson {
    taken: f64,
    of: f64,
}

/// To `judge`: how a whole job stands.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "JobJudged")]
pub struct JudgedJson {
    worst: Option<IsJson>,
    verdicts: VerdictCountJson,
    needs: Vec<LeafJson>,
    /// Titles of calculators that gave no verdict.
    stuck: Vec<String>,
    measured: CountJson,
    training: bool,
}

/// To `draw`: the drawings of the setup sheet as SVG, by name.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "SheetDrawn")]
pub struct SheetDrawnJson {
    drawings: BTreeMap<String, String>,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "VerdictCount")]
pub struct VerdictCountJson {
    go: f64,
    caution: f64,
    open: f64,
    stop: f64,
}
