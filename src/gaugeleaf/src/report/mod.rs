//! How findings reach whoever reads them: a person at a terminal, or a machine.
//!
//! Every form needs the text the finding points into, so each takes the handbook's
//! sources: path to text.

pub mod emitter;
pub mod format;
pub mod lines;
pub mod place;
pub mod sarif;
pub mod terminal;
pub mod why;
pub mod width;

use std::collections::BTreeMap;

use gaugeleaf_finding::{Finding, Level};

/// The texts that findings point into, by their path inside the handbook.
pub type Sources = BTreeMap<String, String>;

/// Puts findings in reading order and drops exact repeats.
pub fn sort(findings: &mut Vec<Finding>) {
    findings.sort_by(|a, b| {
        let key = |one: &'_ Finding| (one.span.start, one.level, one.code.name());
        (&a.file, key(a), &a.message).cmp(&(&b.file, key(b), &b.message))
    });
    findings.dedup();
}

/// Whether anything here stops a publish.
pub fn has_errors(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.level == Level::Error)
}

/// So many of them, in words: `1 page`, `2 pages`.
pub fn count_of(number: usize, one: &str) -> String {
    format!("{number} {one}{}", if number == 1 { "" } else { "s" })
}

/// "2 errors, 1 warning", or "no findings".
pub fn count(findings: &[Finding]) -> String {
    let errors = findings
        .iter()
        .filter(|finding| finding.level == Level::Error)
        .count();
    let warnings = findings.len() - errors;
    let mut parts = Vec::new();
    for (number, one) in [(errors, "error"), (warnings, "warning")] {
        if number > 0 {
            parts.push(count_of(number, one));
        }
    }
    if parts.is_empty() {
        "no findings".to_string()
    } else {
        parts.join(", ")
    }
}

/// The word for a level, the same in every form.
pub fn level_word(level: Level) -> &'static str {
    match level {
        Level::Error => "error",
        Level::Warning => "warning",
    }
}

/// The text a finding points at, for forms that quote it.
pub fn offending<'a>(finding: &Finding, sources: &'a Sources) -> &'a str {
    sources
        .get(&finding.file)
        .and_then(|text| text.get(finding.span.clone()))
        .unwrap_or("")
}

#[cfg(test)]
mod tests {
    use gaugeleaf_finding::Code;

    use super::*;

    #[test]
    fn findings_come_out_by_file_line_and_column_without_repeats() {
        let late = Finding::error(Code::Figure, "a.md", 5..6, "late");
        let early = Finding::warning(Code::Figure, "a.md", 1..2, "early");
        let other = Finding::error(Code::Figure, "b.md", 0..0, "other");
        let mut findings = vec![other.clone(), late.clone(), early.clone(), late.clone()];
        sort(&mut findings);
        assert_eq!(findings, [early, late, other]);
    }

    #[test]
    fn the_count_names_errors_and_warnings_apart() {
        let error = Finding::error(Code::Figure, "a", 0..0, "m");
        let warning = Finding::warning(Code::Figure, "a", 0..0, "m");
        assert_eq!(count(&[]), "no findings");
        assert_eq!(
            count(&[error.clone(), error, warning]),
            "2 errors, 1 warning"
        );
    }
}
