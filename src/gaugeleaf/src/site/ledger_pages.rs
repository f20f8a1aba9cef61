//! The ledger: a list of its parts, a page for each phase and one for all else, and one file for
//! machines.

use std::collections::HashMap;

use serde::Serialize;

use crate::handbook::page::Page;
use crate::language::tell;
use crate::render::context::{NavLink, PageContext};
use crate::render::renderer::{MoreView, Renderer};
use crate::site::input::SiteInput;
use crate::site::made::made_pages;
use crate::site::navigation::home;
use crate::values::ledger::{PageUses, UsedValue, json};
use crate::values::ledger_head::{LedgerCalculator, LedgerHead, LedgerNamed};

/// The file of what lies in no phase.
const REST: &str = "other-pages";

/// One value in a part's table; what `UsedValue` is to templates, field by field: were it
/// flattened, its keys would be made anew for each line.
#[derive(Serialize)]
struct LedgerLine<'l> {
    page_title: &'l str,
    page_url: &'l str,
    text: &'l str,
    also: &'l str,
    label: &'l str,
    name: &'l str,
    formula: &'l str,
    source: &'l str,
    given: &'l str,
    ground: &'l str,
    of: &'l str,
}

impl<'l> LedgerLine<'l> {
    fn new(page: &'l Page, value: &'l UsedValue) -> LedgerLine<'l> {
        LedgerLine {
            page_title: &page.outline.title,
            page_url: &page.url,
            text: &value.text,
            also: &value.also,
            label: &value.label,
            name: &value.name,
            formula: &value.formula,
            source: &value.source,
            given: &value.given,
            ground: value.ground,
            of: &value.of,
        }
    }
}

/// One part in the list of them.
#[derive(Debug, Clone, Serialize)]
pub struct PartEntry {
    pub title: String,
    pub url: String,
    pages: usize,
    values: usize,
    #[serde(skip)]
    phase: Option<usize>,
}

/// The parts that have any value, with what lies in no phase last.
pub fn parts(input: &SiteInput) -> Vec<PartEntry> {
    let phases = input.handbook.phases.iter().enumerate();
    let others = tell::other_pages();
    let named = phases.map(|(at, phase)| (Some(at), phase.slug.as_str(), phase.title.as_str()));
    let mut parts: Vec<PartEntry> = named
        .chain([(None, REST, others.as_str())])
        .map(|(phase, slug, title)| PartEntry {
            title: title.to_string(),
            url: format!("ledger/{slug}.html"),
            pages: 0,
            values: 0,
            phase,
        })
        .collect();
    let rest = input.handbook.phases.len();
    for (page, composed) in input.handbook.pages.iter().zip(input.composed) {
        if composed.uses.is_empty() {
            continue;
        }
        if let Some(part) = parts.get_mut(page.phase.unwrap_or(rest)) {
            part.pages += 1;
            part.values += composed.uses.len();
        }
    }
    parts.retain(|part| part.values > 0);
    parts
}

pub fn pages(renderer: &mut Renderer, input: &SiteInput) {
    let handbook = input.handbook;
    let both = handbook.pages.iter().zip(input.composed);
    let mut of_parts: HashMap<Option<usize>, Vec<LedgerLine>> = HashMap::new();
    for (page, composed) in both.clone() {
        let lines = of_parts.entry(page.phase).or_default();
        let uses = composed.uses.iter();
        lines.extend(uses.map(|one| LedgerLine::new(page, &one.value)));
    }
    let list = NavLink {
        title: tell::every_value(),
        url: "ledger.html".to_string(),
    };
    let parts = parts(input);
    for part in &parts {
        let crumbs = vec![home(handbook), list.clone()];
        let title = tell::every_value_of(&part.title);
        let page = PageContext {
            description: tell::about_values_of(&part.title),
            ..PageContext::made("values", &title, &part.url, crumbs)
        };
        let lines = of_parts.remove(&part.phase).unwrap_or_default();
        renderer.page(
            "ledger-part.html",
            &page,
            Some(MoreView::new("ledger", &lines)),
        );
    }
    let page = PageContext {
        description: tell::about_values(),
        ..PageContext::made("ledger", &list.title, &list.url, vec![home(handbook)])
    };
    renderer.page("ledger.html", &page, Some(MoreView::new("parts", &parts)));
    let text_of = |file: &str| input.files.texts.get(file).map_or("", String::as_str);
    let uses = both.map(|(page, composed)| PageUses {
        file: &page.path,
        url: &page.url,
        title: &page.outline.title,
        fingerprint: &composed.value.fingerprint,
        uses: &composed.uses,
        acts: &composed.value.acts,
    });
    let made = made_pages(input).iter().map(|page| PageUses {
        file: "",
        url: &page.url,
        title: &page.title,
        fingerprint: &page.fingerprint,
        uses: &[],
        acts: &page.acts,
    });
    let calculators = input.graph.catalog.calculators.values();
    let head = LedgerHead {
        revision: &handbook.revision,
        title: &handbook.title,
        caution: &handbook.caution,
        demonstration: handbook.demonstration,
        named: LedgerNamed::all(input.graph, input.own.job()),
        calculators: calculators.map(LedgerCalculator::new).collect(),
    };
    renderer.file("ledger.json", json(&head, uses.chain(made), text_of));
}
