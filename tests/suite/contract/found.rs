//! What the engine finds, and the codes that it draws.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// How much of a code may be covered.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(rename_all = "lowercase")]
#[ts(rename = "CodeLevel")]
pub enum LevelJson {
    Quartile,
    Medium,
    Low,
}

/// To `qr`.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "CodeAnswer")]
pub struct CodeJson {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    svg: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    level: Option<LevelJson>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    problem: Option<String>,
}

/// What a hit leads to.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(rename_all = "lowercase")]
#[ts(rename = "HitKind")]
pub enum HitKindJson {
    Page,
    Heading,
    Step,
    Calculator,
    Input,
    Row,
    Value,
    Term,
}

/// A term of the trade, and what it means.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "HitMeaning")]
pub struct MeaningJson {
    title: String,
    url: String,
    /// Empty as long as the texts are not there.
    text: String,
}

#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "Hit")]
pub struct HitJson {
    title: String,
    #[serde(rename = "where")]
    place: String,
    kind: HitKindJson,
    url: String,
    /// The term that leads here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    means: Option<MeaningJson>,
    /// Pieces of text, and whether each is what was looked for.
    excerpt: Vec<(String, bool)>,
}

/// To `search`.
#[derive(Debug, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "SearchAnswer")]
pub struct FoundJson {
    hits: Vec<HitJson>,
    near: Vec<String>,
    /// A hit is a row with a size that was asked for.
    row: bool,
    /// The first hit is what somebody in need asks for.
    urgent: bool,
    units: bool,
    meanings: Vec<(String, Vec<String>)>,
    candidates: Vec<String>,
}
