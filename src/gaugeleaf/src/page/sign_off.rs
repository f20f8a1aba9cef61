//! What a test leaves on its page.

use serde::Serialize;

/// What the sheet that an assessor signs says of its test.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SignOff {
    /// How many questions a try asks, and how many must be right.
    pub asked: usize,
    pub needed: usize,
    /// How many of them must be right whatever the score.
    pub critical: usize,
    /// A short hash of the questions: two sheets with the same one asked out of the same.
    pub set: String,
}
