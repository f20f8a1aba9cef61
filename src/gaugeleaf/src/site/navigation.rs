//! What templates are told of a handbook: its phases and pages, the way through them, its jobs.

use std::sync::Arc;

use gaugeleaf_calc::calculator::Verdict;

use crate::blocks::emergency::EmergencyBlock;
use crate::blocks::job_form::JobFormBlock;
use crate::blocks::setup_sheet::SetupSheetBlock;
use crate::handbook::addresses::page_url;
use crate::handbook::kind::BlockShape;
use crate::handbook::page::Page;
use crate::handbook::whole::Handbook;
use crate::language::tell;
use crate::markdown::ids::slug;
use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::render::context::{
    IssueOf, JobEntry, NavLink, PageContext, PageEntry, PhaseEntry, Place, Site, TocEntry,
};
use crate::site::way::Way;
use crate::values::graph::Graph;
use crate::values::ledger;

impl PageContext {
    /// A page of the handbook.
    pub fn written(
        handbook: &Handbook,
        page: &Page,
        composed: &Composed<ComposedPage>,
        way: &Way,
    ) -> Self {
        let settings = &page.outline.settings;
        let phase = page.phase.and_then(|phase| way.phase(phase));
        let mut crumbs = Vec::new();
        if !page.is_front() {
            crumbs.push(home(handbook));
        }
        if let Some(phase) = phase {
            crumbs.push(NavLink {
                title: phase.title.clone(),
                url: phase.url.clone(),
            });
        }
        if settings.job.is_some() {
            crumbs.push(NavLink {
                title: tell::jobs(),
                url: "index.html#jobs".to_string(),
            });
        }
        let place = page.phase.zip(way.place(page));
        let (previous, next) = way.neighbours(&page.url);
        let toc = page
            .outline
            .headings
            .iter()
            .filter(|heading| heading.level <= 3);
        PageContext {
            description: composed.value.description.clone(),
            place: phase.zip(place).map(|(phase, (_, at))| Place {
                number: at + 1,
                of: phase.of,
            }),
            phase: phase.cloned(),
            near: place.map_or_else(Vec::new, |(phase, at)| way.near(phase, at)),
            previous,
            next,
            time: settings.time.clone(),
            people: settings.people.clone(),
            tools: settings.tools.clone(),
            review: settings.review.clone(),
            owner: settings.owner.clone(),
            approver: settings.approver.clone(),
            issue: IssueOf::page(&handbook.history, &page.url, &composed.value.fingerprint),
            job: settings.job.as_ref().map(|job| job.value.clone()),
            given: composed.value.request.clone(),
            toc: toc
                .map(|heading| TocEntry {
                    title: heading.text.clone(),
                    id: heading.id.clone(),
                    level: heading.level,
                })
                .collect(),
            values: ledger::once(&composed.uses).into_iter().cloned().collect(),
            fingerprint: composed.value.fingerprint.clone(),
            scripts: composed.value.scripts.clone(),
            begin: composed.value.begin.clone(),
            sign_off: composed.value.sign_off.clone(),
            ..PageContext::made(
                if page.is_front() { "front" } else { "page" },
                &page.outline.title,
                &page.url,
                crumbs,
            )
        }
    }
}

/// The worst verdict of a prepared job, as its own setup sheets have it.
fn worst(composed: &Composed<ComposedPage>, graph: &Graph) -> Option<Verdict> {
    let scopes = composed.value.scopes.iter();
    scopes
        .filter_map(|scope| graph.catalog.worst(scope.job()))
        .max()
}

/// The place of the first page with a block, prepared jobs aside.
fn page_with(handbook: &Handbook, block: &str) -> Option<usize> {
    let mut pages = handbook.pages.iter();
    pages.position(|page| page.outline.settings.job.is_none() && page.outline.has_block(block))
}

/// The way to the front page.
pub fn home(handbook: &Handbook) -> NavLink {
    NavLink {
        title: handbook.title.clone(),
        url: "index.html".to_string(),
    }
}

fn entry(page: &Page, composed: &Composed<ComposedPage>) -> PageEntry {
    PageEntry {
        title: page.outline.title.clone(),
        url: page.url.clone(),
        time: page.outline.settings.time.clone(),
        description: composed.value.description.clone(),
    }
}

impl Site {
    /// What is known before any page is composed: all but the lists of pages and of jobs.
    pub fn frame(handbook: &Handbook) -> Self {
        let url = |page: Option<usize>| {
            page.map_or_else(String::new, |at| handbook.pages[at].url.clone())
        };
        let phases = handbook.phases.iter().enumerate();
        let phases = phases.map(|(index, phase)| PhaseEntry {
            slug: phase.slug.clone(),
            title: phase.title.clone(),
            number: index + 1,
            purpose: phase.purpose.clone(),
            url: format!("{}/index.html", phase.slug),
            pages: Vec::new(),
        });
        Site {
            id: slug(&handbook.title),
            title: handbook.title.clone(),
            subtitle: handbook.subtitle.clone(),
            revision: handbook.revision.clone(),
            owner: handbook.owner.clone(),
            approver: handbook.approver.clone(),
            address: handbook.address.clone(),
            caution: handbook.caution.clone(),
            demonstration: handbook.demonstration,
            language: handbook.language.clone(),
            job: handbook.job.clone(),
            job_form: url(page_with(handbook, JobFormBlock.name())),
            setup_sheet: url(page_with(handbook, SetupSheetBlock.name())),
            emergency: url(page_with(handbook, EmergencyBlock.name())),
            glossary: handbook
                .glossary
                .as_deref()
                .map(page_url)
                .unwrap_or_default(),
            phases: phases.collect(),
            jobs: Vec::new(),
        }
    }

    /// The same with its lists.
    #[must_use]
    pub fn listing(
        mut self,
        handbook: &Handbook,
        graph: &Graph,
        composed: &[Arc<Composed<ComposedPage>>],
    ) -> Self {
        for (page, composed) in handbook.pages.iter().zip(composed) {
            if let Some(phase) = page.phase.and_then(|at| self.phases.get_mut(at)) {
                phase.pages.push(entry(page, composed));
            }
            if let Some(job) = &page.outline.settings.job {
                self.jobs.push(JobEntry {
                    job: job.value.clone(),
                    worst: worst(composed, graph).map_or("", Verdict::word),
                    page: entry(page, composed),
                });
            }
        }
        self
    }
}
