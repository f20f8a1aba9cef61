//! What templates are given. The names are the theme's contract: every field is
//! always there, empty where there is nothing to say.

use gaugeleaf_calc::calculator::Is;
use serde::Serialize;

use crate::compose::needs::scripts;
use crate::compose::{Composed, SignOff};
use crate::handbook::book::Book;
use crate::handbook::outline::{JOB_FORM, PageSettings, SETUP_SHEET};
use crate::handbook::page::Page;
use crate::markdown::ids::slug;
use crate::values::graph::Graph;
use crate::values::ledger::{self, Use};
use crate::values::scope::JobScope;
use crate::values::typed::typed_json;

/// The handbook, on every page.
#[derive(Debug, Clone, Serialize)]
pub struct Site {
    /// Tells this handbook's marks on a phone from another's.
    pub id: String,
    pub title: String,
    pub subtitle: String,
    pub revision: String,
    pub caution: String,
    pub language: String,
    /// What the job is called whose values the handbook prints.
    pub job: String,
    /// The address of the page with the form of a job; empty where there is none.
    pub job_form: String,
    /// The address of the setup sheet of whatever job is in hand; empty where there is none.
    pub setup_sheet: String,
    /// The values that the sheet itself gives, under those of the job in hand, as JSON; empty where none.
    pub setup_given: String,
    /// The names of the calculators that judge a job.
    pub judges: Vec<String>,
    /// The address of the page that prints the terms of the trade; empty where there is none.
    pub glossary: String,
    pub phases: Vec<PhaseEntry>,
    /// The prepared jobs.
    pub jobs: Vec<JobEntry>,
}

/// One prepared job in lists.
#[derive(Debug, Clone, Serialize)]
pub struct JobEntry {
    pub job: String,
    /// The worst verdict of all checks: `go`, `caution` or `stop`.
    pub worst: &'static str,
    #[serde(flatten)]
    pub page: PageEntry,
}

/// One phase in lists.
#[derive(Debug, Clone, Serialize)]
pub struct PhaseEntry {
    pub slug: String,
    pub title: String,
    pub number: usize,
    pub purpose: String,
    pub url: String,
    pub pages: Vec<PageEntry>,
}

/// One page in lists.
#[derive(Debug, Clone, Serialize)]
pub struct PageEntry {
    pub title: String,
    pub url: String,
    pub time: Option<String>,
    pub description: String,
}

/// Something to go to.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Way {
    pub title: String,
    pub url: String,
}

/// The phase that a page belongs to.
#[derive(Debug, Clone, Serialize)]
pub struct PhaseOf {
    pub slug: String,
    pub title: String,
    pub number: usize,
}

/// A page's place in its phase.
#[derive(Debug, Clone, Serialize)]
pub struct Place {
    pub number: usize,
    pub of: usize,
}

/// A heading in the page's own list.
#[derive(Debug, Clone, Serialize)]
pub struct TocEntry {
    pub title: String,
    pub id: String,
    pub level: usize,
}

/// The page being printed.
#[derive(Debug, Clone, Default, Serialize)]
pub struct PageContext {
    pub title: String,
    pub kind: &'static str,
    pub url: String,
    pub root: &'static str,
    pub description: String,
    pub phase: Option<PhaseOf>,
    pub place: Option<Place>,
    pub crumbs: Vec<Way>,
    pub previous: Option<Way>,
    pub next: Option<Way>,
    pub time: Option<String>,
    pub people: Vec<String>,
    pub tools: Vec<String>,
    pub review: Option<String>,
    /// The prepared job that the page is.
    pub job: Option<String>,
    /// The page's own job values, as JSON; empty where it has none.
    pub given: String,
    pub toc: Vec<TocEntry>,
    pub content: String,
    pub values: Vec<Use>,
    pub fingerprint: String,
    /// The scripts that the page needs besides those of every page.
    pub scripts: Vec<&'static str>,
    /// Where the page is a test, what its sheet to sign says of it.
    pub sign_off: Option<SignOff>,
}

impl PageContext {
    /// A page that the generator makes itself.
    pub fn made(kind: &'static str, title: &str, url: &str, crumbs: Vec<Way>) -> Self {
        PageContext {
            title: title.to_string(),
            kind,
            url: url.to_string(),
            root: if url.contains('/') { "../" } else { "" },
            crumbs,
            fingerprint: ledger::fingerprint(&[]),
            ..PageContext::default()
        }
    }

    /// A page of the handbook.
    pub fn written(book: &Book, page: &Page, composed: &Composed) -> Self {
        let settings = &page.outline.settings;
        let phase = page
            .phase
            .and_then(|index| Some((index, book.phases.get(index)?)));
        let mut crumbs = Vec::new();
        if !page.is_front() {
            crumbs.push(home(book));
        }
        if let Some((_, phase)) = phase {
            crumbs.push(Way {
                title: phase.title.clone(),
                url: format!("{}/index.html", phase.slug),
            });
        }
        if settings.job.is_some() {
            crumbs.push(Way {
                title: "Jobs".to_string(),
                url: "index.html#jobs".to_string(),
            });
        }
        let same: Vec<&Page> = book
            .pages
            .iter()
            .filter(|one| one.phase.is_some() && one.phase == page.phase)
            .collect();
        let place = same.iter().position(|one| one.path == page.path);
        let toc = page
            .outline
            .headings
            .iter()
            .filter(|heading| heading.level <= 3);
        PageContext {
            description: composed.description.clone(),
            phase: phase.map(|(index, phase)| PhaseOf {
                slug: phase.slug.clone(),
                title: phase.title.clone(),
                number: index + 1,
            }),
            place: place.map(|index| Place {
                number: index + 1,
                of: same.len(),
            }),
            time: settings.time.clone(),
            people: settings.people.clone(),
            tools: settings.tools.clone(),
            review: settings.review.clone(),
            job: settings.job.as_ref().map(|job| job.value.clone()),
            given: given_json(settings),
            toc: toc
                .map(|heading| TocEntry {
                    title: heading.text.clone(),
                    id: heading.id.clone(),
                    level: heading.level,
                })
                .collect(),
            content: composed.html.clone(),
            values: ledger::once(&composed.uses).into_iter().cloned().collect(),
            fingerprint: ledger::fingerprint(&composed.uses),
            scripts: scripts(&composed.needs),
            sign_off: composed.sign_off.clone(),
            ..PageContext::made(
                if page.is_front() { "front" } else { "page" },
                &page.outline.title,
                &page.url,
                crumbs,
            )
        }
    }
}

fn given_json(settings: &PageSettings) -> String {
    if settings.given.is_empty() {
        return String::new();
    }
    let given = settings.given.iter();
    typed_json(given.map(|one| (&one.name.value, &one.text.value)))
}

/// The worst verdict of a prepared job, as its own setup sheets have it.
fn worst(composed: &Composed, graph: &Graph) -> Option<Is> {
    let scopes = composed.scopes.iter();
    scopes
        .filter_map(|scope| graph.catalog.worst(scope.job()))
        .max()
}

/// The place of the first page with a block, prepared jobs aside.
fn page_with(book: &Book, block: &str) -> Option<usize> {
    let mut pages = book.pages.iter();
    pages.position(|page| page.outline.settings.job.is_none() && page.outline.has_block(block))
}

/// The way to the front page.
pub fn home(book: &Book) -> Way {
    Way {
        title: book.title.clone(),
        url: "index.html".to_string(),
    }
}

impl Site {
    pub fn new(book: &Book, graph: &Graph, composed: &[Composed], own: &JobScope) -> Self {
        let entry = |(page, composed): (&Page, &Composed)| PageEntry {
            title: page.outline.title.clone(),
            url: page.url.clone(),
            time: page.outline.settings.time.clone(),
            description: composed.description.clone(),
        };
        let url =
            |page: Option<usize>| page.map_or_else(String::new, |at| book.pages[at].url.clone());
        let setup = page_with(book, SETUP_SHEET);
        // what the handbook gives, every page's scripts know
        let setup_given = setup
            .and_then(|at| composed.get(at)?.scopes.first())
            .filter(|scope| scope.job() != own.job())
            .map(|scope| typed_json(scope.job().iter()));
        let phases = book
            .phases
            .iter()
            .enumerate()
            .map(|(index, phase)| PhaseEntry {
                slug: phase.slug.clone(),
                title: phase.title.clone(),
                number: index + 1,
                purpose: phase.purpose.clone(),
                url: format!("{}/index.html", phase.slug),
                pages: book
                    .pages
                    .iter()
                    .zip(composed)
                    .filter(|(page, _)| page.phase == Some(index))
                    .map(entry)
                    .collect(),
            });
        Site {
            id: slug(&book.title),
            title: book.title.clone(),
            subtitle: book.subtitle.clone(),
            revision: book.revision.clone(),
            caution: book.caution.clone(),
            language: book.language.clone(),
            job: book.job.clone(),
            job_form: url(page_with(book, JOB_FORM)),
            setup_given: setup_given.unwrap_or_default(),
            setup_sheet: url(setup),
            judges: graph
                .catalog
                .calculators
                .values()
                .filter(|calculator| !calculator.checks.is_empty())
                .map(|calculator| calculator.name.clone())
                .collect(),
            glossary: book.glossary.clone().unwrap_or_default(),
            phases: phases.collect(),
            jobs: book
                .pages
                .iter()
                .zip(composed)
                .filter_map(|(page, composed)| {
                    let job = page.outline.settings.job.as_ref()?.value.clone();
                    let worst = worst(composed, graph).map_or("", Is::word);
                    let page = entry((page, composed));
                    Some(JobEntry { job, worst, page })
                })
                .collect(),
        }
    }

    /// Every page in reading order: the front page, then each phase and its pages.
    pub fn way_through(&self) -> Vec<Way> {
        let mut way = vec![Way {
            title: self.title.clone(),
            url: "index.html".to_string(),
        }];
        for phase in &self.phases {
            way.push(Way {
                title: phase.title.clone(),
                url: phase.url.clone(),
            });
            way.extend(phase.pages.iter().map(|page| Way {
                title: page.title.clone(),
                url: page.url.clone(),
            }));
        }
        way
    }
}
