//! What the engine answers to a question in a person's own words.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::answers::{GroundJson, IsJson, ProblemJson};

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedOutput")]
pub struct AskedOutputJson {
    label: String,
    text: String,
    of: String,
    also: String,
    rounded: String,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedVerdict")]
pub struct AskedVerdictJson {
    is: IsJson,
    because: String,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedGiven")]
pub struct AskedGivenJson {
    name: String,
    text: String,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedInput")]
pub struct AskedInputJson {
    label: String,
    text: String,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedAssumed")]
pub struct AssumedJson {
    label: String,
    text: String,
    from: String,
    ground: GroundJson,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedUnset")]
pub struct AskedUnsetJson {
    label: String,
    from: String,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedHazard")]
pub struct AskedHazardJson {
    word: String,
    text: String,
}

/// One way to understand a question, worked out.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedReading")]
pub struct AskedReadingJson {
    calculator: String,
    title: String,
    given: Vec<AskedGivenJson>,
    understood: Vec<AskedInputJson>,
    assumed: Vec<AssumedJson>,
    unset: Vec<AskedUnsetJson>,
    outputs: Vec<AskedOutputJson>,
    sure: bool,
    left: String,
    guessed: bool,
    verdict: Option<AskedVerdictJson>,
    hazard: Option<AskedHazardJson>,
    problems: Vec<ProblemJson>,
    doubts: Vec<ProblemJson>,
}

/// An input that a question may give.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedMeant")]
pub struct AskedMeantJson {
    name: String,
    text: String,
    label: String,
}

/// One of several ways to understand a question.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedWay")]
pub struct AskedWayJson {
    calculator: String,
    title: String,
    given: Vec<AskedMeantJson>,
}

/// A quantity in another unit.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedConversion")]
pub struct ConversionJson {
    from: String,
    to: String,
    rounded: String,
}

/// What of a question was not understood.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "AskedTold")]
pub struct ToldJson {
    text: String,
    message: String,
    help: String,
}

/// To `ask`.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Asked")]
pub struct AskedJson {
    readings: Vec<AskedReadingJson>,
    which: Vec<AskedWayJson>,
    conversion: Option<ConversionJson>,
    told: Vec<ToldJson>,
    spellings: Vec<(String, Vec<String>)>,
    training: bool,
}
