//! Composed pages, the catalog and the theme become the site's files.

pub mod age;
pub mod calculator_list;
pub mod calculators;
mod data;
mod grounds;
mod heading;
mod home_screen;
pub mod input;
mod ledger_pages;
mod limits;
mod lookup_table;
mod made;
mod meanings;
pub mod navigation;
pub mod paths;
pub mod portable;
mod schemas;
mod search;
mod sheets;
mod symbols;
pub mod tables;
pub mod way;
pub mod written;

use gaugeleaf_calc::finding::Finding;

use crate::handbook::whole::Handbook;
use crate::language::tell;
use crate::render::context::PageContext;
use crate::render::files::SiteSink;
use crate::render::renderer::{MoreView, Renderer};
use crate::site::input::SiteInput;
use crate::site::made::made_pages;
use crate::site::navigation::home;
use crate::site::way::Way;
use crate::site::written::HandedOver;

/// Renders the whole site; `written` is what became of printing each page when it was composed.
pub fn render(
    input: &SiteInput,
    written: Vec<Option<HandedOver>>,
    sink: &dyn SiteSink,
) -> Vec<Finding> {
    let site = input
        .frame
        .clone()
        .listing(input.handbook, input.graph, input.composed);
    let mut renderer = Renderer::new(input.theme, &site, input.edition, sink);
    let pages = input.handbook.pages.iter();
    for ((page, composed), printed) in pages.zip(input.composed).zip(written) {
        let printed = printed.unwrap_or_else(|| {
            written::print(&renderer, input.handbook, page, composed, input.way)
        });
        renderer.told(printed);
    }
    for part in &PARTS {
        (part.make)(&mut renderer, input);
    }
    renderer.marks(&page_marks(input));
    renderer.findings
}

/// What tells the pages of this edition from those of another: fingerprints, and the catalog's mark
/// for the calculators.
pub fn page_marks(input: &SiteInput) -> Vec<String> {
    let written = input.composed.iter();
    let written = written.map(|composed| composed.value.fingerprint.clone());
    let made = made_pages(input).iter();
    let made = made.map(|page| page.fingerprint.clone());
    let calculators = calculators::mark(input);
    written.chain(made).chain([calculators]).collect()
}

/// What changes a part of the site that the generator makes by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MadeFrom {
    /// The program alone.
    Program,
    Theme,
    /// The theme, and the site with its lists of pages.
    Lists,
    /// These, and everything that can be worked out, with its values and where they are printed.
    Values,
    /// Any page.
    Pages,
}

/// A part of the site that the generator makes by itself.
pub struct SitePart {
    pub name: &'static str,
    pub from: MadeFrom,
    pub make: fn(&mut Renderer, &SiteInput),
}

/// All of them; together with the written pages, the whole site.
pub const PARTS: [SitePart; 13] = [
    SitePart {
        name: "phases, search page and home screen",
        from: MadeFrom::Lists,
        make: list_pages,
    },
    SitePart {
        name: "calculators",
        from: MadeFrom::Values,
        make: calculators::pages,
    },
    SitePart {
        name: "tables",
        from: MadeFrom::Values,
        make: tables::pages,
    },
    SitePart {
        name: "catalog",
        from: MadeFrom::Values,
        make: |renderer, input| {
            renderer.data("catalog", data::catalog(input));
            renderer.data("drawings", data::drawings(input.graph));
        },
    },
    SitePart {
        name: "ledger",
        from: MadeFrom::Pages,
        make: ledger_pages::pages,
    },
    SitePart {
        name: "grounds of sign-offs",
        from: MadeFrom::Pages,
        make: |renderer, input| renderer.data("grounds", grounds::script(input).into_bytes()),
    },
    SitePart {
        name: "ticks of the pages",
        from: MadeFrom::Pages,
        make: |renderer, input| renderer.data("sheets", sheets::script(input).into_bytes()),
    },
    SitePart {
        name: "meanings of the terms",
        from: MadeFrom::Pages,
        make: |renderer, input| renderer.data("meanings", meanings::script(input).into_bytes()),
    },
    SitePart {
        name: "register of the pages",
        from: MadeFrom::Pages,
        make: |renderer, input| {
            age::register::page(renderer, input);
            renderer.data("cards", age::register::script(input).into_bytes());
            age::code::files(renderer, input);
        },
    },
    SitePart {
        name: "files",
        from: MadeFrom::Pages,
        make: shown_files,
    },
    SitePart {
        name: "assets",
        from: MadeFrom::Theme,
        make: |renderer, input| {
            for (path, bytes) in input.theme.assets() {
                renderer.file(&path, bytes);
            }
        },
    },
    SitePart {
        name: "schemas",
        from: MadeFrom::Program,
        make: |renderer, _| {
            for (name, schema) in schemas::schemas() {
                renderer.file(&format!("schemas/{name}"), schema);
            }
        },
    },
    SitePart {
        name: "search index",
        from: MadeFrom::Pages,
        make: search_files,
    },
];

fn list_pages(renderer: &mut Renderer, input: &SiteInput) {
    let handbook = input.handbook;
    phase_pages(renderer, handbook, input.way);
    let search = PageContext::made(
        "search",
        &tell::search(),
        "search.html",
        vec![home(handbook)],
    );
    renderer.page("search.html", &search, None);
    let lost = PageContext::made(
        "not-found",
        &tell::not_found(),
        "not-found.html",
        vec![home(handbook)],
    );
    renderer.page("not-found.html", &lost, None);
    renderer.file("handbook.webmanifest", home_screen::manifest(handbook));
}

fn shown_files(renderer: &mut Renderer, input: &SiteInput) {
    for path in paths::shown(input) {
        let bytes = input.files.bytes.get(path).cloned().unwrap_or_default();
        renderer.file(path.strip_prefix("content/").unwrap_or(path), bytes);
    }
}

fn search_files(renderer: &mut Renderer, input: &SiteInput) {
    let search = search::index(input, renderer.site);
    for (name, bytes) in [
        ("search-index", search.index),
        ("search-texts", search.texts),
    ] {
        renderer.data(name, data::search(name, &bytes));
    }
}

fn phase_pages(renderer: &mut Renderer, handbook: &Handbook, way: &Way) {
    let site = renderer.site;
    for (index, phase) in site.phases.iter().enumerate() {
        let mut page = PageContext {
            description: phase.purpose.clone(),
            phase: way.phase(index).cloned(),
            near: way.near(index, 0),
            ..PageContext::made("phase", &phase.title, &phase.url, vec![home(handbook)])
        };
        (page.previous, page.next) = way.neighbours(&phase.url);
        renderer.page("phase.html", &page, Some(MoreView::new("phase", phase)));
    }
}
