//! What a page asks the engine.

use std::collections::BTreeMap;

use serde::Serialize;
use ts_rs::TS;

/// A value as typed.
#[derive(Debug, Clone, Default, Serialize, TS)]
#[ts(rename = "Entry")]
pub struct EntryJson {
    pub text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub unit: Option<String>,
    pub confirmed: bool,
    /// Nobody typed it: it stands there to show how the calculator is used.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub example: Option<bool>,
}

/// A value of a job as typed, and the day it was taken: `2026-11-26`, or in words.
#[derive(Debug, Clone, Default, Serialize, TS)]
#[ts(rename = "Taken")]
pub struct TakenEntryJson {
    pub text: String,
    pub when: String,
    /// What was typed over it and refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub refused: Option<String>,
}

/// What an answer has beyond its least; `bound` binds numbers to their units in its texts.
#[derive(Debug, Clone, Copy, Serialize, TS)]
#[serde(rename_all = "lowercase")]
#[ts(rename = "WantedPart")]
pub enum PartJson {
    Working,
    Figure,
    Plot,
    Map,
    Bound,
}

/// An entry with what is known of it, or its text alone.
#[derive(Debug, Clone, Serialize, TS)]
#[serde(untagged)]
#[ts(rename = "EntryOrText")]
pub enum EntryOrTextJson {
    Entry(EntryJson),
    Text(String),
}

/// A job's value with its day, or its text alone.
#[derive(Debug, Clone, Serialize, TS)]
#[serde(untagged)]
#[ts(rename = "TakenOrText")]
pub enum TakenOrTextJson {
    Taken(TakenEntryJson),
    Text(String),
}

/// Whose values hold: those of the job in hand and no others, a prepared job's, or a page's.
#[derive(Debug, Clone, Serialize, TS)]
#[serde(rename_all = "lowercase")]
#[ts(rename = "WhoseValues")]
pub enum WhoseJson {
    Hand,
    Prepared,
    Page,
}

#[derive(Debug, Clone, Serialize, TS)]
#[serde(tag = "do", rename_all = "lowercase")]
#[ts(rename = "EngineRequest")]
pub enum RequestJson {
    Calculate {
        name: String,
        inputs: BTreeMap<String, EntryOrTextJson>,
        want: Vec<PartJson>,
    },
    Limits {
        name: String,
        inputs: BTreeMap<String, EntryOrTextJson>,
        input: String,
        want: Vec<PartJson>,
    },
    /// `given` are the job's values of the question's own page.
    Grade {
        name: String,
        output: String,
        tolerance: String,
        inputs: BTreeMap<String, String>,
        given: BTreeMap<String, String>,
        typed: String,
    },
    /// As typed, and as the job has it where nothing is.
    Measure {
        inputs: BTreeMap<String, Option<EntryOrTextJson>>,
    },
    Job {
        #[serde(skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        whose: Option<WhoseJson>,
        #[serde(skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        name: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        kit: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        given: Option<BTreeMap<String, TakenOrTextJson>>,
    },
    /// The drawings of the setup sheet for the job.
    Draw,
    Judge,
    Qr {
        text: String,
    },
    /// Without an input, `name` is a measurement.
    Switch {
        name: String,
        #[serde(skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        input: Option<String>,
        text: String,
        from: String,
        to: String,
    },
    Search {
        query: String,
        limit: u32,
        #[serde(skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        spellings: Option<Vec<(String, Vec<String>)>>,
    },
    Ask {
        query: String,
        meanings: Vec<(String, Vec<String>)>,
        candidates: Vec<String>,
        want: Vec<PartJson>,
    },
}
