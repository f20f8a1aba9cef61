//! What changed by itself, and changed values elsewhere.

use serde::Serialize;

/// What sort of thing changed a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CauseKind {
    Rating,
    Measurement,
    Formula,
    Table,
    /// An input of a calculation that no page prints by itself, or that its page gives.
    Input,
    /// The same amount, told from another source.
    Source,
    /// The same amount, rounded or written otherwise.
    Printing,
}

/// Something that changed by itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Cause {
    pub kind: CauseKind,
    pub name: String,
    pub label: String,
    pub from: String,
    pub to: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    pub old_source: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    pub new_source: String,
    /// The cards that it put out of date.
    pub cards: Vec<String>,
}

impl Cause {
    /// It is told by itself, with all cards that it changed; else beside each of them.
    pub fn is_upstream(&self) -> bool {
        !matches!(self.kind, CauseKind::Source | CauseKind::Printing)
    }
}
