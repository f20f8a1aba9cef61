//! The targets, by what reads the bytes.

pub mod calculators;
pub mod engine;
pub mod handbook;
pub mod search;

use gaugeleaf::report::Sources;
use gaugeleaf::report::format::Format;
use gaugeleaf_calc::finding::Finding;

/// The bytes as a text, as far as they are one: what isn't UTF-8 is refused before anything reads it.
fn text(bytes: &[u8]) -> Option<&str> {
    std::str::from_utf8(bytes).ok()
}

/// Findings lie within the text that they speak of, on the borders of its letters, and every form
/// prints them.
fn placed(findings: &[Finding], sources: &Sources) {
    let mut all: Vec<&Finding> = findings.iter().collect();
    while let Some(finding) = all.pop() {
        all.extend(&finding.ties.followed_by);
        let span = finding.span.clone();
        let Some(text) = sources.get(&finding.file) else {
            continue;
        };
        assert!(
            text.get(span).is_some(),
            "{finding:?} lies outside of its text"
        );
        assert!(!finding.message.is_empty(), "{finding:?}");
    }
    for format in [Format::Terminal, Format::Lines, Format::Sarif] {
        let said = format.emitter(false).emit(findings, sources);
        if matches!(format, Format::Sarif) {
            serde_json::from_str::<serde_json::Value>(&said).expect("JSON");
        }
    }
}
