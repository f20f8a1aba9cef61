//! The built-in catalog: one line a file.

use crate::source::SourceFile;

macro_rules! catalog {
    ($($path:literal),* $(,)?) => {
        &[$(($path, include_str!(concat!("../catalog/", $path)))),*]
    };
}

static FILES: &[(&str, &str)] = catalog![
    "guide-tube-length.svg",
    "guide-tube-length.toml",
    "hose-stop-range.svg",
    "hose-stop-range.toml",
    "measurements.toml",
    "pitch-span.svg",
    "pitch-span.toml",
    "ratings.toml",
    "tables/hex-across-flats-metric.toml",
    "tables/hex-across-flats.toml",
    "tables/hose-sizes.toml",
    "tables/pipe-sizes.toml",
];

/// The files of the built-in catalog, with their paths inside a handbook.
pub fn builtin() -> Vec<SourceFile> {
    FILES
        .iter()
        .map(|(path, text)| SourceFile {
            path: format!("calculators/catalog/{path}"),
            text: (*text).to_string(),
        })
        .collect()
}
