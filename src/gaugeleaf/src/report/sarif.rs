//! Findings as a SARIF 2.1.0 log, which code hosts and editors show beside the source.

use std::collections::{BTreeMap, BTreeSet};

use gaugeleaf_finding::{Code, Finding};
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use serde_json::{Value, json};

use crate::report::emitter::Emitter;
use crate::report::place::LineIndex;
use crate::report::{Sources, level_word};

const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// What stays as it is in a path that is written as a URI.
const PATH: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'/')
    .remove(b'-')
    .remove(b'.')
    .remove(b'_')
    .remove(b'~');

/// One log for all findings.
pub struct Sarif;

impl Emitter for Sarif {
    fn emit(&self, findings: &[Finding], sources: &Sources) -> String {
        let codes: BTreeSet<&str> = findings.iter().map(|one| one.code.name()).collect();
        let place: BTreeMap<&str, usize> = codes.into_iter().zip(0..).collect();
        let mut rules = vec![Value::Null; place.len()];
        for finding in findings {
            rules[place[finding.code.name()]] = rule(finding.code);
        }
        let mut indexes: BTreeMap<&str, LineIndex> = BTreeMap::new();
        let mut results = Vec::new();
        for finding in findings {
            let mut result = result(finding, place[finding.code.name()]);
            result["locations"] =
                json!([{ "physicalLocation": physical(finding, sources, &mut indexes) }]);
            if !finding.ties.followed_by.is_empty() {
                let related = finding.ties.followed_by.iter().map(|follower| {
                    json!({
                        "physicalLocation": physical(follower, sources, &mut indexes),
                        "message": { "text": follower.message },
                    })
                });
                result["relatedLocations"] = related.collect();
            }
            results.push(result);
        }
        let log = json!({
            "$schema": SCHEMA,
            "version": "2.1.0",
            "runs": [{
                "tool": { "driver": {
                    "name": "gaugeleaf",
                    "version": env!("CARGO_PKG_VERSION"),
                    "rules": rules,
                } },
                "columnKind": "unicodeCodePoints",
                "results": results,
            }],
        });
        format!("{log:#}\n")
    }
}

/// A code as a rule: what it means, and what it weighs where that is always the same.
fn rule(code: Code) -> Value {
    let entry = code.entry();
    let mut rule = json!({
        "id": code.name(),
        "fullDescription": { "text": entry.means },
    });
    if let Some(level) = entry.level {
        rule["defaultConfiguration"] = json!({ "level": level_word(level) });
    }
    rule
}

/// Where a finding is. A file that can't be read as text has no lines to point at.
fn physical<'t>(
    finding: &'t Finding,
    sources: &'t Sources,
    indexes: &mut BTreeMap<&'t str, LineIndex<'t>>,
) -> Value {
    let index = sources.get(&finding.file).map(|text| {
        &*indexes
            .entry(&finding.file)
            .or_insert_with(|| LineIndex::new(text))
    });
    let uri = utf8_percent_encode(&finding.file, PATH).to_string();
    let mut place = json!({ "artifactLocation": { "uri": uri } });
    if let Some(index) = index {
        let (line, column) = index.line_column(finding.span.start);
        let (end_line, end_column) = index.line_column(finding.span.end);
        place["region"] = json!({
            "startLine": line,
            "startColumn": column,
            "endLine": end_line,
            "endColumn": end_column,
        });
    }
    place
}

/// A finding as a result, but for its places.
fn result(finding: &Finding, rule: usize) -> Value {
    let message = match &finding.help {
        Some(help) => format!("{}\n{help}", finding.message),
        None => finding.message.clone(),
    };
    json!({
        "ruleId": finding.code.name(),
        "ruleIndex": rule,
        "level": level_word(finding.level),
        "message": { "text": message },
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_without_a_text_has_no_region_and_its_name_is_a_uri() {
        let finding = Finding::error(Code::NotUtf8, "content/fit/old page.md", 3..4, "wrong");
        let log: Value = Sarif
            .emit(&[finding], &Sources::new())
            .parse()
            .expect("JSON");
        let place = &log["runs"][0]["results"][0]["locations"][0]["physicalLocation"];
        assert_eq!(place["region"], Value::Null);
        assert_eq!(
            place["artifactLocation"]["uri"],
            "content/fit/old%20page.md"
        );
    }

    #[test]
    fn no_findings_are_a_run_without_results() {
        let log: Value = Sarif.emit(&[], &Sources::new()).parse().expect("JSON");
        assert_eq!(log["runs"][0]["results"], json!([]));
    }
}
