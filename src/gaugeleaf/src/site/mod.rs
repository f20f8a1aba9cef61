//! Composed pages, the catalog and the theme become the site's files.

pub mod calculator_list;
mod calculators;
mod data;
mod limits;
pub mod materials;
pub mod navigation;
mod search;
pub mod tables;

use gaugeleaf_calc::finding::Finding;
use rayon::prelude::*;
use serde::Serialize;

use crate::handbook::book::Book;
use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::render::context::{PageContext, PhaseOf, Site, Way};
use crate::render::press::Press;
use crate::site::materials::Materials;
use crate::site::navigation::home;
use crate::values::ledger::{self, PageUses, Use};

/// One value in the ledger's page.
#[derive(Serialize)]
struct LedgerLine<'l> {
    page_title: &'l str,
    page_url: &'l str,
    #[serde(flatten)]
    value: &'l Use,
}

/// Renders the whole site.
pub fn render(materials: &Materials) -> (crate::render::files::SiteFiles, Vec<Finding>) {
    let Materials {
        handbook,
        book,
        graph,
        theme,
        composed,
        edition,
        ..
    } = *materials;
    let site = Site::new(book, graph, composed, materials.own);
    let mut press = Press::new(theme, &site, edition);
    written_pages(&mut press, book, composed);
    phase_pages(&mut press, book);
    calculators::pages(&mut press, materials);
    tables::pages(&mut press, book, graph);
    let crumbs = vec![home(book)];
    press.page(
        "search.html",
        &PageContext::made("search", "Search", "search.html", crumbs.clone()),
        None,
        "search",
    );
    let uses = uses(book, composed);
    let lines: Vec<LedgerLine> = uses
        .iter()
        .flat_map(|page| {
            page.uses.iter().map(|value| LedgerLine {
                page_title: &page.title,
                page_url: &page.url,
                value,
            })
        })
        .collect();
    let page = PageContext {
        description: "Every value that this handbook prints, with where it comes from.".to_string(),
        ..PageContext::made("values", "Every value", "ledger.html", crumbs)
    };
    press.page("ledger.html", &page, Some(("ledger", &lines)), "ledger");
    let text_of = |file: &str| handbook.texts.get(file).cloned().unwrap_or_default();
    press.file("ledger.json", ledger::json(&uses, text_of), "ledger");
    let shown: std::collections::BTreeSet<&String> =
        composed.iter().flat_map(|page| &page.needs.files).collect();
    for path in shown {
        let bytes = handbook.bytes.get(path).cloned().unwrap_or_default();
        press.file(path.strip_prefix("content/").unwrap_or(path), bytes, path);
    }
    for (path, bytes) in theme.assets() {
        press.file(&path, bytes, "themes");
    }
    let search = search::index(materials, &site);
    press.file("scripts/catalog.js", data::catalog(graph, book), "themes");
    for (name, bytes) in [
        ("search-index", search.index),
        ("search-texts", search.texts),
    ] {
        let script = data::search(name, &bytes);
        press.file(&format!("scripts/{name}.js"), script, "themes");
    }
    (press.files, press.findings)
}

fn uses(book: &Book, composed: &[Composed<ComposedPage>]) -> Vec<PageUses> {
    let pages = book.pages.iter().zip(composed);
    pages
        .map(|(page, composed)| PageUses {
            file: page.path.clone(),
            title: page.outline.title.clone(),
            url: page.url.clone(),
            uses: composed.uses.clone(),
        })
        .collect()
}

fn written_pages(press: &mut Press, book: &Book, composed: &[Composed<ComposedPage>]) {
    let way = press.site.way_through();
    let pages = book.pages.par_iter().zip(composed);
    let printed: Vec<_> = pages
        .map(|(page, composed)| {
            let mut context = PageContext::written(book, page, composed);
            (context.previous, context.next) = neighbours(&way, &page.url);
            let printer = press.printer(&page.url);
            context.content = printer.html(&composed.value.nodes, &page.outline.title)?;
            let template = if page.is_front() {
                "front.html"
            } else {
                "page.html"
            };
            press.print(template, &context, None)
        })
        .collect();
    for (page, printed) in book.pages.iter().zip(printed) {
        press.add(&page.url, printed, &page.path);
    }
}

fn phase_pages(press: &mut Press, book: &Book) {
    let site = press.site;
    let way = site.way_through();
    for phase in &site.phases {
        let mut page = PageContext {
            description: phase.purpose.clone(),
            phase: Some(PhaseOf {
                slug: phase.slug.clone(),
                title: phase.title.clone(),
                number: phase.number,
            }),
            ..PageContext::made("phase", &phase.title, &phase.url, vec![home(book)])
        };
        (page.previous, page.next) = neighbours(&way, &phase.url);
        let from = format!("content/{}/phase.toml", phase.slug);
        press.page("phase.html", &page, Some(("phase", phase)), &from);
    }
}

/// What comes before and after an address on the way through the handbook.
fn neighbours(way: &[Way], url: &str) -> (Option<Way>, Option<Way>) {
    let Some(at) = way.iter().position(|one| one.url == url) else {
        return (None, None);
    };
    (
        at.checked_sub(1)
            .and_then(|before| way.get(before))
            .cloned(),
        way.get(at + 1).cloned(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_page_has_nothing_before_it_and_the_last_nothing_after() {
        let way = ["a", "b"].map(|url| Way {
            title: url.to_string(),
            url: url.to_string(),
        });
        assert_eq!(neighbours(&way, "a"), (None, Some(way[1].clone())));
        assert_eq!(neighbours(&way, "b"), (Some(way[0].clone()), None));
        assert_eq!(neighbours(&way, "c"), (None, None));
    }
}
