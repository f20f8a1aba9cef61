//! The table of who may know whom: `tests/layers.toml`.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use serde::Deserialize;
use toml::value::Datetime;

/// Where the table lies, from the workspace's root.
pub const TABLE: &str = "tests/layers.toml";

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Table {
    /// What stands on nothing comes first.
    #[serde(rename = "crate")]
    pub crates: Vec<CrateRow>,
    /// Crates from elsewhere that few may use: `crate`, or `crate/room`.
    #[serde(default)]
    pub only: BTreeMap<String, Vec<String>>,
    #[serde(default, rename = "exception")]
    pub exceptions: Vec<Exception>,
    #[serde(default, rename = "ring")]
    pub rings: Vec<KnownRing>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CrateRow {
    pub name: String,
    pub what: String,
    /// Crates of the workspace.
    pub knows: Vec<String>,
    /// Its rooms, what stands on nothing first; none for a crate whose rooms have no order yet.
    #[serde(default)]
    pub rooms: Vec<RoomRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoomRow {
    pub name: String,
    pub what: String,
    /// Rooms above it, and crates of the workspace.
    pub knows: Vec<String>,
}

/// A room that for now knows one that stands below it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Exception {
    #[serde(rename = "crate")]
    pub within: String,
    /// Who knows, and whom.
    pub rooms: (String, String),
    /// What ends it.
    pub until: String,
    pub since: Datetime,
}

/// A ring of more than two files that stands for now.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnownRing {
    #[serde(rename = "crate")]
    pub within: String,
    /// From the workspace's root.
    pub files: Vec<String>,
    /// What ends it.
    pub until: String,
    pub since: Datetime,
}

impl Table {
    /// The table of the workspace at a root.
    ///
    /// # Panics
    /// When it can't be read.
    #[must_use]
    pub fn load(root: &Path) -> Table {
        let text =
            fs::read_to_string(root.join(TABLE)).unwrap_or_else(|fault| panic!("{TABLE}: {fault}"));
        Table::parse(&text).unwrap_or_else(|fault| panic!("{TABLE}: {fault}"))
    }

    /// # Errors
    /// What is wrong with the text, and where.
    pub fn parse(text: &str) -> Result<Table, toml::de::Error> {
        toml::from_str(text)
    }

    #[must_use]
    pub fn row(&self, name: &str) -> Option<&CrateRow> {
        self.crates.iter().find(|row| row.name == name)
    }

    /// The exception for a room that knows another.
    #[must_use]
    pub fn exception(&self, within: &str, from: &str, to: &str) -> Option<&Exception> {
        self.exceptions.iter().find(|exception| {
            let (who, whom) = &exception.rooms;
            exception.within == within && who == from && whom == to
        })
    }
}

impl CrateRow {
    #[must_use]
    pub fn room(&self, name: &str) -> Option<&RoomRow> {
        self.rooms.iter().find(|room| room.name == name)
    }

    /// How far down a room stands.
    #[must_use]
    pub fn place(&self, name: &str) -> Option<usize> {
        self.rooms.iter().position(|room| room.name == name)
    }
}
