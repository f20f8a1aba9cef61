//! Files of a handbook with a fixed place.

/// Where the words stand in a handbook.
pub const WORDS_FILE: &str = "content/words.toml";

/// Where a handbook's own words lie.
pub const RULES_FILE: &str = "content/rules.toml";

/// Where a handbook's issues stand, beside handbook.toml.
pub const HISTORY_FILE: &str = "history.jsonl";

/// Where a handbook's own equipment stands: its kits and its tables.
pub use gaugeleaf_calc::table::EQUIPMENT;
