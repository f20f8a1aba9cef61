//! A page for the rules' own tests, in a phase of the work.

use gaugeleaf_calc::finding::Finding;

use crate::blocks::registry::shapes;
use crate::handbook::files::HandbookFiles;
use crate::handbook::page::Page;
use crate::prose::WritingRule;
use crate::prose::page_text::PageText;
use crate::prose::parts::parts;
use crate::prose::vocabulary::Vocabulary;

/// What a rule finds in a text: the code and the offending text.
pub fn found(rule: WritingRule, text: &str) -> Vec<(&'static str, &str)> {
    placed(findings(rule, text), text)
}

/// The same on a page of no phase.
pub fn found_beside_the_work(rule: WritingRule, text: &str) -> Vec<(&'static str, &str)> {
    placed(read(rule, text, None), text)
}

fn placed(findings: Vec<Finding>, text: &str) -> Vec<(&'static str, &str)> {
    let at = |finding: Finding| (finding.code.name(), text.get(finding.span).unwrap_or("?"));
    findings.into_iter().map(at).collect()
}

/// What a rule finds in a page of a phase.
pub fn findings(rule: WritingRule, text: &str) -> Vec<Finding> {
    read(rule, text, Some(0))
}

fn read(rule: WritingRule, text: &str, phase: Option<usize>) -> Vec<Finding> {
    let path = "content/fit/page.md";
    let page = Page::read(path, text, phase, &shapes());
    let vocabulary = Vocabulary::load(&HandbookFiles::default(), &[], &mut Vec::new());
    let mut findings = Vec::new();
    let parts = parts(text, &page.tree.nodes, &shapes());
    rule(
        &PageText::new(&page, text, &parts, &vocabulary),
        &mut findings,
    );
    findings
}
