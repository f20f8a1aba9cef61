//! What a test leaves on its page.

use serde::Serialize;

/// What the sheet that a trainer signs says of its test.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SignOff {
    pub phase: String,
    pub total: usize,
    pub needed: usize,
    /// How many must be right whatever the score.
    pub critical: usize,
    /// A short hash of the questions: two sheets with the same one asked the same.
    pub set: String,
}
