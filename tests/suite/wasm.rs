//! What the committed engine asks of a browser's WebAssembly: the features that README.md names, and no other.

use std::fs;

use wasmparser::{Validator, WasmFeatures};

use crate::engine::{PARTS, wasm};
use crate::root;

/// Beyond the first edition of WebAssembly, by the names in README.md.
const NEEDED: [(&str, WasmFeatures); 3] = [
    ("sign extension", WasmFeatures::SIGN_EXTENSION),
    ("bulk memory", WasmFeatures::BULK_MEMORY),
    (
        "saturating conversion",
        WasmFeatures::SATURATING_FLOAT_TO_INT,
    ),
];

/// The checker can do without numbers with a fraction, which every browser has.
const FIRST_EDITION: WasmFeatures = WasmFeatures::MUTABLE_GLOBAL.union(WasmFeatures::FLOATS);

fn all() -> WasmFeatures {
    let features = NEEDED.iter().map(|(_, feature)| *feature);
    features.fold(FIRST_EDITION, WasmFeatures::union)
}

fn runs(part: &str, features: WasmFeatures) -> Result<(), String> {
    let checked = Validator::new_with_features(features).validate_all(&wasm(part));
    checked
        .map(drop)
        .map_err(|fault| format!("{part}: {fault}"))
}

#[test]
fn a_browser_with_the_named_features_runs_every_part_of_the_engine() {
    for part in PARTS {
        assert_eq!(runs(part, all()), Ok(()));
    }
}

#[test]
fn every_named_feature_is_needed_and_named_in_the_readme() {
    let readme = fs::read_to_string(root().join("README.md")).expect("README.md is there");
    for (name, feature) in NEEDED {
        let without = all().difference(feature);
        assert!(
            PARTS.iter().any(|part| runs(part, without).is_err()),
            "no part of the engine needs {name}"
        );
        assert!(readme.contains(name), "README.md does not name {name}");
    }
}
