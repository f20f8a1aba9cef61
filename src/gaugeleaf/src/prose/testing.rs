//! A page for the rules' own tests, in a phase of the work.

use gaugeleaf_calc::finding::Finding;

use crate::blocks::registry::shapes;
use crate::handbook::files::HandbookFiles;
use crate::handbook::page::Page;
use crate::prose::vocabulary::Vocabulary;
use crate::prose::{WritingRule, page_text};

/// What a rule finds in a text: the code and the offending text.
pub fn found(rule: WritingRule, text: &str) -> Vec<(&'static str, &str)> {
    let at = |finding: Finding| (finding.code.name(), text.get(finding.span).unwrap_or("?"));
    findings(rule, text).into_iter().map(at).collect()
}

/// What a rule finds in a page of a phase.
pub fn findings(rule: WritingRule, text: &str) -> Vec<Finding> {
    let path = "content/fit/page.md";
    let page = Page::read(path, text, Some(0), &shapes());
    let vocabulary = Vocabulary::load(&HandbookFiles::default(), &[], &mut Vec::new());
    let mut findings = Vec::new();
    rule(
        &page_text(&page, text, &shapes(), &vocabulary),
        &mut findings,
    );
    findings
}
