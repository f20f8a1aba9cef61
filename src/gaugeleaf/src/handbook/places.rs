//! Files of a handbook with a fixed place.

/// Where the words stand in a handbook.
pub const WORDS_FILE: &str = "content/words.toml";

/// Where a handbook's own words lie.
pub const RULES_FILE: &str = "content/rules.toml";
