//! The handbook's issues: which revision was issued when, and what each page said then. `publish
//! --issue` appends one, and the trainer commits the file with the pages.

use std::collections::BTreeMap;

use gaugeleaf_calc::finding::settings::is_day;
use gaugeleaf_calc::finding::{Code, Finding};
use serde::{Deserialize, Serialize};

use crate::handbook::files::HandbookFiles;
use crate::handbook::places::HISTORY_FILE;

/// How a line of the file is laid out: raised when a field changes its meaning or goes.
const VERSION: u32 = 1;

/// One issue of the handbook: a line of the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Issue {
    version: u32,
    pub revision: String,
    /// The day, as `2026-11-30`.
    pub issued: String,
    /// The pages that are new, or say something else than when they were last issued.
    pub pages: BTreeMap<String, IssuedPage>,
    /// The pages that the handbook has no more.
    pub gone: Vec<String>,
}

/// A page as it was issued.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IssuedPage {
    pub title: String,
    pub fingerprint: String,
    /// What a reader acts on, in the page's order.
    pub said: Vec<Said>,
}

/// One thing that a reader acts on: what sort of thing, what tells a value from the page's others,
/// and what the page says.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Said(pub String, pub String, pub String);

impl Issue {
    pub fn new(
        revision: &str,
        issued: &str,
        pages: BTreeMap<String, IssuedPage>,
        gone: Vec<String>,
    ) -> Issue {
        Issue {
            version: VERSION,
            revision: revision.to_string(),
            issued: issued.to_string(),
            pages,
            gone,
        }
    }

    /// The line of the file.
    pub fn line(&self) -> String {
        // writing into memory doesn't fail
        serde_json::to_string(self).unwrap_or_default() + "\n"
    }
}

/// All issues, the first one first.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct History {
    pub issues: Vec<Issue>,
    /// The issue in which each page that is still there was last another.
    latest: BTreeMap<String, usize>,
}

impl History {
    /// The issues that a handbook keeps, and what is wrong with its file.
    pub fn read(files: &HandbookFiles, findings: &mut Vec<Finding>) -> History {
        let mut history = History::default();
        let Some(text) = files.texts.get(HISTORY_FILE) else {
            return history;
        };
        let mut start = 0;
        for line in text.split_inclusive('\n') {
            let span = start..start + line.trim_end().len();
            start += line.len();
            if span.is_empty() {
                continue;
            }
            match history.next(line) {
                Ok(issue) => history.add(issue),
                Err(message) => {
                    let fault = Finding::error(Code::BadHistory, HISTORY_FILE, span, message);
                    findings.push(fault.help(
                        "take the file back from before it was edited; where two branches were merged, keep the lines of both in the order of their days, each with a revision of its own",
                    ));
                    break;
                }
            }
        }
        history
    }

    /// A line as the issue after those before it.
    fn next(&self, line: &str) -> Result<Issue, String> {
        let issue: Issue = serde_json::from_str(line)
            .map_err(|error| format!("this line is no issue: {error}"))?;
        if issue.version != VERSION {
            let version = issue.version;
            return Err(format!(
                "this line is an issue of version {version}, which this program doesn't know"
            ));
        }
        if !is_day(&issue.issued) {
            return Err(format!("`{}` is no day", issue.issued));
        }
        if self.issues.iter().any(|one| one.revision == issue.revision) {
            let revision = &issue.revision;
            return Err(format!("revision {revision} was issued before already"));
        }
        if let Some(before) = self.issues.last().filter(|one| one.issued > issue.issued) {
            let (day, before) = (&issue.issued, &before.issued);
            return Err(format!("an issue of {day} stands after that of {before}"));
        }
        Ok(issue)
    }

    /// Adds an issue to those before it.
    pub fn add(&mut self, issue: Issue) {
        let at = self.issues.len();
        for url in &issue.gone {
            self.latest.remove(url);
        }
        let urls = issue.pages.keys().cloned();
        self.latest.extend(urls.map(|url| (url, at)));
        self.issues.push(issue);
    }

    /// A page as it was last issued, and when.
    pub fn latest(&self, url: &str) -> Option<(&Issue, &IssuedPage)> {
        let issue = self.issues.get(*self.latest.get(url)?)?;
        Some((issue, issue.pages.get(url)?))
    }

    /// The addresses of all pages that were last issued.
    pub fn urls(&self) -> impl Iterator<Item = &String> {
        self.latest.keys()
    }

    /// Since when a page says what it says now, and in which revision; none where it was never issued so.
    pub fn issued(&self, url: &str, fingerprint: &str) -> Option<&Issue> {
        let (issue, page) = self.latest(url)?;
        (page.fingerprint == fingerprint).then_some(issue)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn issued(day: &str, pages: &[(&str, &str)], gone: &[&str]) -> Issue {
        let page = |fingerprint: &str| IssuedPage {
            title: "A".to_string(),
            fingerprint: fingerprint.to_string(),
            said: vec![Said("step".into(), String::new(), "1. Open it.".into())],
        };
        let pages = pages
            .iter()
            .map(|(url, mark)| (url.to_string(), page(mark)));
        let gone = gone.iter().map(ToString::to_string).collect();
        Issue::new("1", day, pages.collect(), gone)
    }

    fn read(text: &str) -> (History, Vec<Finding>) {
        let texts = BTreeMap::from([(HISTORY_FILE.to_string(), text.to_string())]);
        let files = HandbookFiles {
            texts,
            ..HandbookFiles::default()
        };
        let mut findings = Vec::new();
        (History::read(&files, &mut findings), findings)
    }

    #[test]
    fn a_page_is_as_it_was_last_issued_until_it_is_gone() {
        let text = [
            issued("2026-11-01", &[("a.html", "1"), ("b.html", "2")], &[]).line(),
            issued("2026-11-30", &[("a.html", "3")], &["b.html"])
                .line()
                .replace("\"revision\":\"1\"", "\"revision\":\"2\""),
        ];
        let (history, findings) = read(&text.concat());
        assert!(findings.is_empty(), "{findings:?}");
        let day = |url, mark| history.issued(url, mark).map(|one| one.issued.as_str());
        assert_eq!(day("a.html", "3"), Some("2026-11-30"));
        assert_eq!(day("a.html", "1"), None);
        assert_eq!(day("b.html", "2"), None);
    }

    #[test]
    fn a_line_that_is_no_issue_is_told_with_its_place() {
        let good = issued("2026-11-30", &[], &[]).line();
        let second = good.replace("\"revision\":\"1\"", "\"revision\":\"2\"");
        let older = second.replace("11-30", "11-29");
        for (bad, told) in [
            ("{}", "this line is no issue"),
            ("nonsense", "this line is no issue"),
            (
                &good.replace("\"version\":1", "\"version\":2"),
                "of version 2",
            ),
            (&second.replace("11-30", "02-30"), "is no day"),
            (&second.replace("2026-11-30", "soon"), "is no day"),
            (&older, "stands after"),
            (&good, "was issued before already"),
        ] {
            let (history, findings) = read(&format!("{good}{bad}"));
            assert_eq!(history.issues.len(), 1);
            assert_eq!(findings.len(), 1, "{bad}");
            assert!(
                findings[0].message.contains(told),
                "{}",
                findings[0].message
            );
            assert_eq!(findings[0].span.start, good.len());
        }
    }
}
