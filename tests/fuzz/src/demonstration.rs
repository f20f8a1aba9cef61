//! The demonstration handbook, read and published in memory once for each process.

use std::collections::BTreeMap;
use std::io::Read;
use std::path::Path;
use std::sync::LazyLock;

use base64::Engine;
use base64::engine::general_purpose::STANDARD as BASE64;
use flate2::read::GzDecoder;
use gaugeleaf::edition::addresses::FolderEdition;
use gaugeleaf::handbook::files::{HandbookFiles, read};
use gaugeleaf::session::{asked, build};
use gaugeleaf::values::graph::Graph;

/// The repository's root.
pub fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

pub static FILES: LazyLock<HandbookFiles> = LazyLock::new(|| read(root()).0);

pub static GRAPH: LazyLock<Graph> = LazyLock::new(|| asked(&FILES).0);

/// What its pages carry for the engine, by name.
static CARRIED: LazyLock<BTreeMap<&str, Vec<u8>>> = LazyLock::new(|| {
    let site = build(root(), &FolderEdition).site;
    let carried = ["catalog", "search-index", "search-texts"].map(|name| {
        let script = String::from_utf8_lossy(&site[&format!("scripts/{name}.js")]).into_owned();
        let quoted = script.split('"').max_by_key(|part| part.len());
        let packed = quoted.expect("what a script carries");
        let packed = BASE64.decode(packed).expect("base64");
        let mut bytes = Vec::new();
        GzDecoder::new(&*packed)
            .read_to_end(&mut bytes)
            .expect("gzip");
        (name, bytes)
    });
    carried.into()
});

pub fn carried(name: &str) -> &'static [u8] {
    &CARRIED[name]
}

/// The texts of a folder of the repository that a test may read, shorter ones first.
pub fn texts(folder: &str, ending: &str) -> Vec<Vec<u8>> {
    let mut texts = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("a folder").flatten() {
            if entry.path().is_dir() {
                folders.push(entry.path());
            } else if entry.file_name().to_string_lossy().ends_with(ending) {
                texts.push(std::fs::read(entry.path()).expect("a file"));
            }
        }
    }
    texts.sort_by(|one, other| (one.len(), one).cmp(&(other.len(), other)));
    texts
}
