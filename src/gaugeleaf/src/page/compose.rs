//! The stages of one page, in their order.

use std::collections::BTreeSet;

use gaugeleaf_calc::finding::Finding;

use crate::handbook::book::Book;
use crate::handbook::files::Handbook;
use crate::handbook::page::Page;
use crate::handbook::places::WORDS_FILE;
use crate::markdown::event::{Piece, to_html};
use crate::markdown::parse::parser;
use crate::page::desk::Desk;
use crate::page::kind::{Kinds, scripts};
use crate::page::sections::{self, Section};
use crate::page::sign_off::SignOff;
use crate::page::views::Views;
use crate::page::{
    fences, footnotes, hazards, headings, images, links, listings, raw_html, steps, tables, terms,
    value_links,
};
use crate::values::graph::Graph;
use crate::values::ledger::Use;
use crate::values::scope::JobScope;

/// A page composed.
#[derive(Debug, Default)]
pub struct Composed {
    pub html: String,
    /// Every value that the page prints, in order.
    pub uses: Vec<Use>,
    /// The opening words.
    pub description: String,
    /// What a search can lead to.
    pub sections: Vec<Section>,
    /// The pictures that the page shows, by their paths in the handbook.
    pub shown: BTreeSet<String>,
    /// The scripts that the page needs besides those of every page.
    pub scripts: Vec<&'static str>,
    /// Where the page is a test, what its sheet to sign says of it.
    pub sign_off: Option<SignOff>,
    /// The values that each of the page's setup sheets is worked out from; without one, the page's.
    pub scopes: Vec<JobScope>,
}

/// What a page is composed with.
#[derive(Clone, Copy)]
pub struct With<'w> {
    pub kinds: &'w Kinds,
    pub views: &'w dyn Views,
}

/// Composes one page of a handbook.
pub fn compose(
    page: &Page,
    book: &Book,
    handbook: &Handbook,
    graph: &Graph,
    own: &JobScope,
    with: &With,
) -> (Composed, Vec<Finding>) {
    let text = handbook.texts.get(&page.path).map_or("", String::as_str);
    let mut findings = Vec::new();
    let scope = own.with(
        graph,
        &page.path,
        &page.outline.settings.given,
        &mut findings,
    );
    let mut desk = Desk {
        file: &page.path,
        text,
        page,
        book,
        texts: &handbook.texts,
        pictures: &handbook.bytes,
        graph,
        views: with.views,
        own,
        scope,
        sheets: Vec::new(),
        findings,
        uses: Vec::new(),
        shown: BTreeSet::new(),
        ids: page.outline.ids.clone(),
        words_text: handbook.texts.get(WORDS_FILE).map_or("", String::as_str),
        terms: Vec::new(),
        kinds: BTreeSet::new(),
        sign_off: None,
        away: false,
    };
    let pieces: Vec<Piece> = parser(text).into_offset_iter().collect();
    let pieces = raw_html::refuse(pieces, &mut desk);
    let pieces = fences::blocks(pieces, with.kinds, &mut desk);
    let pieces = value_links::value_links(pieces, &mut desk);
    let pieces = images::images(pieces, &mut desk);
    let pieces = links::links(pieces, &mut desk);
    let pieces = footnotes::footnotes(pieces, &mut desk);
    let description = sections::description(&pieces);
    let mut sections = sections::sections(&pieces, &page.outline);
    sections.append(&mut desk.terms);
    let pieces = terms::terms(pieces, &desk);
    let pieces = listings::listings(pieces, with.kinds, &mut desk);
    let pieces = tables::tables(pieces, &page.outline.title);
    let pieces = headings::headings(pieces, &page.outline);
    let pieces = hazards::hazards(pieces, &mut desk);
    let pieces = steps::steps(pieces);
    let mut html = to_html(pieces);
    if page.outline.steps > 0 {
        html.push_str(&tick_bar(page.outline.steps, &mut desk));
    }
    let Desk {
        mut uses,
        shown,
        kinds,
        sign_off,
        findings,
        sheets,
        scope,
        ..
    } = desk;
    uses.sort_by_key(|one| one.start);
    (
        Composed {
            html,
            uses,
            description,
            sections,
            shown,
            scripts: scripts(with.kinds, &kinds, page.outline.steps > 0),
            sign_off,
            scopes: if sheets.is_empty() {
                vec![scope]
            } else {
                sheets
            },
        },
        findings,
    )
}

/// What counts the page's ticked steps.
fn tick_bar(steps: usize, desk: &mut Desk) -> String {
    desk.part("blocks/step-bar.html", "steps", &steps)
        .unwrap_or_default()
}
