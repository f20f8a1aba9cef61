//! The words that open a hazard statement.

/// The signal words, gravest first.
pub const WORDS: [&str; 4] = ["DANGER", "WARNING", "CAUTION", "NOTICE"];
