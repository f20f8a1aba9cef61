//! The shape of a handbook: its settings, its phases and its pages in reading order.
//!
//! Made from the read files before any page is composed, because a page's links,
//! its neighbours and its phase all need to know of the others.

use std::collections::BTreeMap;

use gaugeleaf_calc::finding::settings::{self, Binding, Placed, Settings};
use gaugeleaf_calc::finding::{Code, Excerpt, Finding};
use rayon::prelude::*;

use crate::handbook::answered::{Answered, answered};
use crate::handbook::emergency::{EmergencyNumber, emergency};
use crate::handbook::files::HandbookFiles;
use crate::handbook::history::History;
use crate::handbook::kind::BlockShapes;
use crate::handbook::page::{Page, Phase};
use crate::handbook::pages::{Pages, ReadPages};
use crate::handbook::phases::{phases, place};
use crate::handbook::words::{self, GlossaryTerm};
use crate::handbook::{file_kinds, targets};

/// A handbook in reading order.
#[derive(Debug, Clone, Default)]
pub struct Handbook {
    pub title: String,
    /// Its name where there is little room; else the title serves.
    pub short: Option<String>,
    pub subtitle: String,
    pub revision: String,
    /// The usual caution, printed on every page.
    pub caution: String,
    pub language: String,
    /// Who keeps its pages right, and who approves what is issued.
    pub owner: Option<String>,
    pub approver: Option<String>,
    /// Where the published site is reached, with a slash at its end.
    pub address: Option<String>,
    /// What the job is called whose values the handbook prints.
    pub job: String,
    /// Job values that hold on every page.
    pub given: Vec<Binding>,
    /// The kit that serves where no job names one.
    pub kit: Option<Placed<String>>,
    /// The equipment is invented: nothing here is for work.
    pub demonstration: bool,
    /// Whom to call, in that order; none in a demonstration alone.
    pub emergency: Vec<EmergencyNumber>,
    /// Calculators that the yard doesn't use.
    pub leave_out: Vec<Placed<String>>,
    /// The stops that somebody answers for, wherever they are printed.
    pub answered: Vec<Answered>,
    /// The terms of the trade.
    pub words: Vec<GlossaryTerm>,
    /// The path of the page that prints them, if any does.
    pub glossary: Option<String>,
    /// What was issued, and when.
    pub history: History,
    pub phases: Vec<Phase>,
    pub pages: Pages,
}

/// Finds the phases and pages among a handbook's files.
pub fn assemble(files: &HandbookFiles, shapes: &BlockShapes) -> (Handbook, Vec<Finding>) {
    assemble_with(files, shapes, &mut ReadPages::default())
}

/// The same; what is still as it was read before isn't read again.
pub fn assemble_with(
    files: &HandbookFiles,
    shapes: &BlockShapes,
    known: &mut ReadPages,
) -> (Handbook, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut handbook = head(files, &mut findings);
    handbook.history = History::read(files, &mut findings);
    handbook.phases = phases(files, &mut findings);
    let mut texts = Vec::new();
    for (path, text) in files.texts_under("content/") {
        if !path.ends_with(".md") {
            continue;
        }
        match place(path, &handbook.phases) {
            Ok(phase) => texts.push((path, text, phase, known.take(path, text, phase))),
            Err(fault) => findings.push(*fault),
        }
    }
    let mut pages: Vec<Page> = texts
        .into_par_iter()
        .map(|(path, text, phase, known)| {
            known.unwrap_or_else(|| Page::read(path, text, phase, shapes))
        })
        .collect();
    findings.extend(pages.iter().flat_map(|page| page.findings.iter().cloned()));
    pages.sort_by_cached_key(|page: &Page| {
        let phase = page.phase.unwrap_or(usize::MAX);
        let order = page
            .outline
            .settings
            .order
            .as_ref()
            .map_or(i64::MAX, |order| order.value);
        (!page.is_front(), phase, order, page.path.clone())
    });
    same_orders(&pages, &mut findings);
    same_jobs(&pages, &mut findings);
    if !files.texts.is_empty() && !pages.first().is_some_and(Page::is_front) {
        findings.push(
            Finding::error(
                Code::NoFrontPage,
                "content/index.md",
                0..0,
                "the handbook has no front page",
            )
            .breaks(["content/index.md"])
            .follows(["content/index.md"])
            .help("write content/index.md with a heading and a line on what the handbook is for"),
        );
    }
    let (terms, found) = words::words(files);
    findings.extend(found);
    handbook.glossary = glossary(&mut pages, &terms, &mut findings);
    targets::check_targets(&terms, &pages, &mut findings);
    handbook.words = terms;
    handbook.pages = pages.into();
    (handbook, findings)
}

/// What handbook.toml says; no page is looked at.
pub fn head(files: &HandbookFiles, findings: &mut Vec<Finding>) -> Handbook {
    let Some(text) = files.texts.get("handbook.toml") else {
        return Handbook::default();
    };
    settings::read(
        "handbook.toml",
        &Excerpt::whole(text),
        file_kinds::HANDBOOK,
        findings,
        |settings| Handbook {
            title: settings.plain("title"),
            short: settings.text("short").map(|short| short.value),
            subtitle: settings.plain("subtitle"),
            revision: settings.plain("revision"),
            caution: settings.plain("caution"),
            language: settings
                .text("language")
                .map_or_else(|| "en".to_string(), |text| text.value),
            owner: settings.text("owner").map(|one| one.value),
            approver: settings.text("approver").map(|one| one.value),
            address: address(settings),
            job: settings
                .text("job")
                .map_or_else(|| "handbook".to_string(), |job| job.value),
            given: settings.quantities("given"),
            kit: settings.text("kit"),
            demonstration: settings.truth("demonstration"),
            emergency: emergency(settings),
            leave_out: settings.texts("leave_out"),
            answered: answered(settings),
            ..Handbook::default()
        },
    )
}

/// The address that codes on cards lead to.
fn address(settings: &mut Settings) -> Option<String> {
    let address = settings.text("address")?;
    let text = address.value.trim_end_matches('/');
    let host = text
        .strip_prefix("https://")
        .or(text.strip_prefix("http://"));
    let odd = |letter: char| letter.is_whitespace() || "?#\"<>".contains(letter);
    if host.is_none_or(|host| host.is_empty() || host.starts_with('/')) || text.contains(odd) {
        let message = format!("`{}` is no address of a site", address.value);
        let fault = settings.error(Code::BadAddress, &address.span, message);
        fault.help = Some(
            "write where the published site is reached, such as \"https://yard.example/handbook/\""
                .into(),
        );
        return None;
    }
    Some(format!("{text}/"))
}

fn same_orders(pages: &[Page], findings: &mut Vec<Finding>) {
    let mut taken: BTreeMap<(usize, i64), &str> = BTreeMap::new();
    for page in pages {
        let (Some(phase), Some(order)) = (page.phase, &page.outline.settings.order) else {
            continue;
        };
        if let Some(other) = taken.insert((phase, order.value), &page.path) {
            let message = format!("the order {} is taken by {other}", order.value);
            findings.push(
                Finding::error(Code::SameOrder, &page.path, order.span.clone(), message)
                    .help("give each page of a phase a number of its own"),
            );
        }
    }
}

fn same_jobs(pages: &[Page], findings: &mut Vec<Finding>) {
    let mut taken: BTreeMap<&str, &str> = BTreeMap::new();
    for page in pages {
        let Some(job) = &page.outline.settings.job else {
            continue;
        };
        if let Some(other) = taken.insert(&job.value, &page.path) {
            let message = format!("the job {} is prepared in {other}", job.value);
            findings.push(
                Finding::error(Code::SameJob, &page.path, job.span.clone(), message)
                    .help("give each job a name of its own"),
            );
        }
    }
}

/// The path of the one page that prints the terms, which get their addresses on it.
fn glossary(
    pages: &mut [Page],
    terms: &[GlossaryTerm],
    findings: &mut Vec<Finding>,
) -> Option<String> {
    let mut found: Option<String> = None;
    for page in pages {
        let Some(block) = page.outline.glossary.clone() else {
            continue;
        };
        if let Some(path) = &found {
            let message = format!("{path} prints the terms already");
            findings.push(
                Finding::error(Code::SecondGlossary, &page.path, block, message)
                    .help("print them once, and link to that page"),
            );
            continue;
        }
        for term in terms {
            page.outline.ids.give(&term.id);
        }
        found = Some(page.path.clone());
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::shapes;

    fn read(texts: &[(&str, &str)]) -> HandbookFiles {
        let mut files = HandbookFiles::default();
        let head = "title = \"T\"\nrevision = \"A\"\ncaution = \"C\"\ndemonstration = true\n";
        files
            .texts
            .insert("handbook.toml".to_string(), head.to_string());
        files.texts.insert(
            "content/index.md".to_string(),
            "# Front\n\nText.\n".to_string(),
        );
        for (path, text) in texts {
            files.texts.insert((*path).to_string(), (*text).to_string());
        }
        files
    }

    const PHASE: &str = "title = \"Fit\"\norder = 1\npurpose = \"p\"\n";

    #[test]
    fn pages_come_in_the_order_of_their_phases_and_settings() {
        let page = |order| format!("```page\norder = {order}\n```\n\n# P\n\nText.\n");
        let (handbook, findings) = assemble(
            &read(&[
                ("content/fit/phase.toml", PHASE),
                ("content/fit/b.md", &page(1)),
                ("content/fit/a.md", &page(2)),
            ]),
            &shapes(),
        );
        assert_eq!(findings, []);
        let urls: Vec<_> = handbook
            .pages
            .iter()
            .map(|page| page.url.as_str())
            .collect();
        assert_eq!(urls, ["index.html", "fit/b.html", "fit/a.html"]);
    }

    #[test]
    fn two_pages_of_one_order_are_a_finding_at_the_second() {
        let page = "```page\norder = 7\n```\n\n# P\n\nText.\n";
        let (_, findings) = assemble(
            &read(&[
                ("content/fit/phase.toml", PHASE),
                ("content/fit/a.md", page),
                ("content/fit/b.md", page),
            ]),
            &shapes(),
        );
        assert_eq!(findings.len(), 1);
        assert_eq!(
            (findings[0].code.name(), findings[0].file.as_str()),
            ("same-order", "content/fit/b.md")
        );
        assert_eq!(findings[0].span, 16..17);
    }

    #[test]
    fn a_page_in_a_folder_without_phase_toml_is_a_finding() {
        let (_, findings) = assemble(&read(&[("content/fit/a.md", "# A\n\nText.\n")]), &shapes());
        assert_eq!(findings[0].code.name(), "no-phase");
    }

    #[test]
    fn the_trainers_pages_need_no_phase() {
        let (handbook, findings) = assemble(
            &read(&[("content/trainer/a.md", "# A\n\nText.\n")]),
            &shapes(),
        );
        assert_eq!(findings, []);
        assert_eq!(
            (handbook.pages[1].url.as_str(), handbook.pages[1].phase),
            ("trainer/a.html", None)
        );
    }

    #[test]
    fn jobs_need_no_phase_and_names_of_their_own() {
        let page = "```page\njob = \"T1\"\n```\n\n# T1\n\nText.\n";
        let (handbook, findings) = assemble(
            &read(&[("content/jobs/a.md", page), ("content/jobs/b.md", page)]),
            &shapes(),
        );
        assert_eq!(handbook.pages[1].url, "jobs/a.html");
        assert_eq!(findings.len(), 1);
        assert_eq!(
            (findings[0].code.name(), findings[0].file.as_str()),
            ("same-job", "content/jobs/b.md")
        );
    }
}
