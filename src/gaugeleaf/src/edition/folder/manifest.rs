//! What a published site says of itself: whose it is, and which files it has.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use serde::Serialize;
use serde_json::Value;

/// Lists every file of a published site with its hash; also the mark that a folder is ours.
pub const MANIFEST: &str = "manifest.json";

/// A site's manifest.
pub struct SiteManifest {
    /// The handbook's title; none in a site of before titles were kept.
    pub handbook: Option<String>,
    /// Of each file, by its path.
    pub marks: BTreeMap<String, String>,
}

/// The same as it is written.
#[derive(Serialize)]
struct WrittenManifest<'m> {
    made_by: &'static str,
    handbook: &'m Option<String>,
    files: &'m BTreeMap<String, String>,
}

impl SiteManifest {
    pub fn bytes(&self) -> Vec<u8> {
        let manifest = WrittenManifest {
            made_by: "gaugeleaf",
            handbook: &self.handbook,
            files: &self.marks,
        };
        let mut text = serde_json::to_vec_pretty(&manifest).unwrap_or_default();
        text.push(b'\n');
        text
    }

    /// The manifest that a folder holds; none where there is none of ours.
    pub fn of(folder: &Path) -> Option<SiteManifest> {
        let text = fs::read(folder.join(MANIFEST)).ok()?;
        let manifest: Value = serde_json::from_slice(&text).ok()?;
        (manifest.get("made_by")? == "gaugeleaf").then_some(())?;
        let marks = manifest.get("files")?.as_object()?.iter();
        Some(SiteManifest {
            handbook: manifest["handbook"].as_str().map(str::to_string),
            marks: marks
                .map(|(path, mark)| (path.clone(), mark.as_str().unwrap_or_default().to_string()))
                .collect(),
        })
    }
}
