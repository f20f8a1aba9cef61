//! Findings for a machine: one JSON object a line, with a version in each.

use std::collections::BTreeMap;

use gaugeleaf_finding::Finding;
use serde_json::{Value, json};

use crate::report::emitter::Emitter;
use crate::report::place::LineIndex;
use crate::report::{Sources, level_word, offending};

/// One line per finding.
pub struct Lines;

impl Emitter for Lines {
    fn emit(&self, findings: &[Finding], sources: &Sources) -> String {
        let mut indexes = Indexes::new();
        let mut lines = String::new();
        for finding in findings {
            let mut line = one(finding, sources, &mut indexes);
            if !finding.ties.followed_by.is_empty() {
                let followers = finding.ties.followed_by.iter();
                let followers = followers.map(|follower| one(follower, sources, &mut indexes));
                line["followed_by"] = followers.collect();
            }
            lines.push_str(&line.to_string());
            lines.push('\n');
        }
        lines
    }
}

type Indexes<'t> = BTreeMap<&'t str, LineIndex<'t>>;

fn one<'t>(finding: &'t Finding, sources: &'t Sources, indexes: &mut Indexes<'t>) -> Value {
    let index = indexes
        .entry(&finding.file)
        .or_insert_with(|| LineIndex::new(sources.get(&finding.file).map_or("", String::as_str)));
    let (line, column) = index.line_column(finding.span.start);
    let (end_line, end_column) = index.line_column(finding.span.end);
    json!({
        "version": 1,
        "level": level_word(finding.level),
        "code": finding.code.name(),
        "file": finding.file,
        "line": line,
        "column": column,
        "end_line": end_line,
        "end_column": end_column,
        "text": offending(finding, sources),
        "message": finding.message,
        "help": finding.help,
    })
}

#[cfg(test)]
mod tests {
    use gaugeleaf_finding::Code;

    use super::*;

    #[test]
    fn each_line_is_an_object_with_place_text_and_help() {
        let sources = Sources::from([("a.md".to_string(), "x\nyes\n".to_string())]);
        let finding = Finding::error(Code::RawHtml, "a.md", 2..5, "wrong").help("no");
        assert_eq!(
            Lines.emit(&[finding], &sources),
            "{\"version\":1,\"level\":\"error\",\"code\":\"raw-html\",\"file\":\"a.md\",\"line\":2,\"column\":1,\
             \"end_line\":2,\"end_column\":4,\"text\":\"yes\",\"message\":\"wrong\",\"help\":\"no\"}\n"
        );
    }
}
