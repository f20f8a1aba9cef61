//! What templates are given. The names are the theme's contract: every field is
//! always there, empty where there is nothing to say.

use serde::Serialize;

use crate::handbook::history::History;
use crate::page::begin::Begin;
use crate::page::sign_off::SignOff;
use crate::values::ledger::Use;

/// The handbook, on every page.
#[derive(Debug, Clone, Serialize)]
pub struct Site {
    /// Tells this handbook's marks on a phone from another's.
    pub id: String,
    pub title: String,
    pub subtitle: String,
    pub revision: String,
    pub caution: String,
    /// Its equipment is invented: `TRAINING, INVENTED EQUIPMENT` stands beside every verdict.
    pub demonstration: bool,
    pub language: String,
    /// Who keeps its pages right, and who approves what is issued.
    pub owner: Option<String>,
    pub approver: Option<String>,
    /// Where the published site is reached; none where nobody said.
    pub address: Option<String>,
    /// What the job is called whose values the handbook prints.
    pub job: String,
    /// The address of the page with the form of a job; empty where there is none.
    pub job_form: String,
    /// The address of the setup sheet of whatever job is in hand; empty where there is none.
    pub setup_sheet: String,
    /// The address of the page that says whom to call; empty where there is none.
    pub emergency: String,
    /// The address of the page that prints the terms of the trade; empty where there is none.
    pub glossary: String,
    /// With their pages, and the prepared jobs, on the front page and on what the generator makes.
    pub phases: Vec<PhaseEntry>,
    pub jobs: Vec<JobEntry>,
}

/// One prepared job in lists.
#[derive(Debug, Clone, Serialize)]
pub struct JobEntry {
    pub job: String,
    /// The worst verdict of all checks: `go`, `caution`, `open` or `stop`.
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
pub struct NavLink {
    pub title: String,
    pub url: String,
}

/// The phase that a page belongs to.
#[derive(Debug, Clone, Default, Serialize)]
pub struct PhaseOf {
    pub slug: String,
    pub title: String,
    pub url: String,
    pub number: usize,
    /// How many pages it has.
    pub of: usize,
}

/// The issue since which a page says what it says.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct IssueOf {
    pub revision: String,
    pub day: String,
}

impl IssueOf {
    /// None where the page was never issued so.
    pub fn page(history: &History, url: &str, fingerprint: &str) -> Option<IssueOf> {
        history.issued(url, fingerprint).map(|issue| IssueOf {
            revision: issue.revision.clone(),
            day: issue.issued.clone(),
        })
    }
}

/// A page of the same phase, with its place there.
#[derive(Debug, Clone, Serialize)]
pub struct NearPage {
    pub number: usize,
    // no link in it that is flattened: its keys would be made anew for each of a dozen on a page
    pub title: String,
    pub url: String,
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
    pub description: String,
    pub phase: Option<PhaseOf>,
    pub place: Option<Place>,
    /// The pages of its phase that stand near it, itself among them; all in a short phase.
    pub near: Vec<NearPage>,
    pub crumbs: Vec<NavLink>,
    pub previous: Option<NavLink>,
    pub next: Option<NavLink>,
    pub time: Option<String>,
    pub people: Vec<String>,
    pub tools: Vec<String>,
    pub review: Option<String>,
    /// Who keeps it right, and who approves what is issued of it, where that isn't the handbook's.
    pub owner: Option<String>,
    pub approver: Option<String>,
    /// The issue since which it says what it says; none where it was never issued so.
    pub issue: Option<IssueOf>,
    /// The prepared job that the page is.
    pub job: Option<String>,
    /// Whose values hold on the page, as the engine is asked; empty where it gives none itself.
    pub given: String,
    pub toc: Vec<TocEntry>,
    pub content: String,
    pub values: Vec<Use>,
    pub fingerprint: String,
    /// Where it has no fingerprint, what else it was made from, in a mark.
    pub mark: String,
    /// The scripts that the page needs besides those of every page.
    pub scripts: Vec<&'static str>,
    /// Where its work begins, if it has any.
    pub begin: Option<Begin>,
    /// Where the page is a test, what its sheet to sign says of it.
    pub sign_off: Option<SignOff>,
}

impl PageContext {
    /// A page that the generator makes itself.
    pub fn made(kind: &'static str, title: &str, url: &str, crumbs: Vec<NavLink>) -> Self {
        PageContext {
            title: title.to_string(),
            kind,
            url: url.to_string(),
            crumbs,
            ..PageContext::default()
        }
    }
}
