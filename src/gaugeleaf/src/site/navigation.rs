//! What templates are told of a handbook: its phases and pages, the way through them, its jobs.

use gaugeleaf_calc::calculator::Verdict;

use crate::blocks::job_form::JobFormBlock;
use crate::blocks::setup_sheet::SetupSheetBlock;
use crate::handbook::addresses::page_url;
use crate::handbook::kind::BlockShape;
use crate::handbook::page::Page;
use crate::handbook::whole::Handbook;
use crate::markdown::ids::slug;
use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::render::context::{
    JobEntry, NavLink, PageContext, PageEntry, PhaseEntry, PhaseOf, Place, Site, TocEntry,
};
use crate::values::graph::Graph;
use crate::values::ledger;

impl PageContext {
    /// A page of the handbook.
    pub fn written(handbook: &Handbook, page: &Page, composed: &Composed<ComposedPage>) -> Self {
        let settings = &page.outline.settings;
        let phase = page
            .phase
            .and_then(|index| Some((index, handbook.phases.get(index)?)));
        let mut crumbs = Vec::new();
        if !page.is_front() {
            crumbs.push(home(handbook));
        }
        if let Some((_, phase)) = phase {
            crumbs.push(NavLink {
                title: phase.title.clone(),
                url: format!("{}/index.html", phase.slug),
            });
        }
        if settings.job.is_some() {
            crumbs.push(NavLink {
                title: "Jobs".to_string(),
                url: "index.html#jobs".to_string(),
            });
        }
        let same: Vec<&Page> = handbook
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
            description: composed.value.description.clone(),
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
            given: composed.value.request.clone(),
            toc: toc
                .map(|heading| TocEntry {
                    title: heading.text.clone(),
                    id: heading.id.clone(),
                    level: heading.level,
                })
                .collect(),
            values: ledger::once(&composed.uses).into_iter().cloned().collect(),
            fingerprint: ledger::fingerprint(&composed.uses),
            scripts: composed.value.scripts.clone(),
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

impl Site {
    pub fn new(handbook: &Handbook, graph: &Graph, composed: &[Composed<ComposedPage>]) -> Self {
        let entry = |(page, composed): (&Page, &Composed<ComposedPage>)| PageEntry {
            title: page.outline.title.clone(),
            url: page.url.clone(),
            time: page.outline.settings.time.clone(),
            description: composed.value.description.clone(),
        };
        let url = |page: Option<usize>| {
            page.map_or_else(String::new, |at| handbook.pages[at].url.clone())
        };
        let setup = page_with(handbook, SetupSheetBlock.name());
        let phases = handbook
            .phases
            .iter()
            .enumerate()
            .map(|(index, phase)| PhaseEntry {
                slug: phase.slug.clone(),
                title: phase.title.clone(),
                number: index + 1,
                purpose: phase.purpose.clone(),
                url: format!("{}/index.html", phase.slug),
                pages: handbook
                    .pages
                    .iter()
                    .zip(composed)
                    .filter(|(page, _)| page.phase == Some(index))
                    .map(entry)
                    .collect(),
            });
        Site {
            id: slug(&handbook.title),
            title: handbook.title.clone(),
            subtitle: handbook.subtitle.clone(),
            revision: handbook.revision.clone(),
            caution: handbook.caution.clone(),
            demonstration: handbook.demonstration,
            language: handbook.language.clone(),
            job: handbook.job.clone(),
            job_form: url(page_with(handbook, JobFormBlock.name())),
            setup_sheet: url(setup),
            glossary: handbook
                .glossary
                .as_deref()
                .map(page_url)
                .unwrap_or_default(),
            phases: phases.collect(),
            jobs: handbook
                .pages
                .iter()
                .zip(composed)
                .filter_map(|(page, composed)| {
                    let job = page.outline.settings.job.as_ref()?.value.clone();
                    let worst = worst(composed, graph).map_or("", Verdict::word);
                    let page = entry((page, composed));
                    Some(JobEntry { job, worst, page })
                })
                .collect(),
        }
    }

    /// Every page in reading order: the front page, then each phase and its pages.
    pub fn reading_order(&self) -> Vec<NavLink> {
        let mut order = vec![NavLink {
            title: self.title.clone(),
            url: "index.html".to_string(),
        }];
        for phase in &self.phases {
            order.push(NavLink {
                title: phase.title.clone(),
                url: phase.url.clone(),
            });
            order.extend(phase.pages.iter().map(|page| NavLink {
                title: page.title.clone(),
                url: page.url.clone(),
            }));
        }
        order
    }
}
