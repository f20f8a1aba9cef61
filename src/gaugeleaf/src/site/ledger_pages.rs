//! The ledger: a list of its parts, a page for each phase and one for all else, and one file for
//! machines.

use serde::Serialize;

use crate::render::context::{NavLink, PageContext};
use crate::render::renderer::Renderer;
use crate::site::input::SiteInput;
use crate::site::navigation::home;
use crate::values::ledger::{PageUses, Use, json};

/// What lies in no phase.
const REST: (&str, &str) = ("other-pages", "Other pages");

/// One value in a part's table.
#[derive(Serialize)]
struct LedgerLine<'l> {
    page_title: &'l str,
    page_url: &'l str,
    #[serde(flatten)]
    value: &'l Use,
}

/// One part in the list of them.
#[derive(Serialize)]
struct PartEntry {
    title: String,
    url: String,
    pages: usize,
    values: usize,
}

pub fn pages(renderer: &mut Renderer, input: &SiteInput) {
    let handbook = input.handbook;
    let pages = handbook.pages.iter().zip(input.composed);
    let uses: Vec<(Option<usize>, PageUses)> = pages
        .map(|(page, composed)| {
            let uses = PageUses {
                file: &page.path,
                title: &page.outline.title,
                url: &page.url,
                uses: &composed.uses,
            };
            (page.phase, uses)
        })
        .collect();
    let phases = handbook.phases.iter().enumerate();
    let named = phases.map(|(at, phase)| (Some(at), phase.slug.as_str(), phase.title.as_str()));
    let list = NavLink {
        title: "Every value".to_string(),
        url: "ledger.html".to_string(),
    };
    let mut entries = Vec::new();
    for (phase, slug, title) in named.chain([(None, REST.0, REST.1)]) {
        let of_part = uses.iter().filter(|(of, _)| *of == phase);
        let part: Vec<&PageUses> = of_part
            .map(|(_, page)| page)
            .filter(|page| !page.uses.is_empty())
            .collect();
        if part.is_empty() {
            continue;
        }
        let url = format!("ledger/{slug}.html");
        let lines: Vec<LedgerLine> = part.iter().flat_map(|page| lines(page)).collect();
        let crumbs = vec![home(handbook), list.clone()];
        let page = PageContext {
            description: format!("Every value that these pages print: {title}."),
            ..PageContext::made("values", &format!("Every value: {title}"), &url, crumbs)
        };
        renderer.page(
            "ledger-part.html",
            &page,
            Some(("ledger", &lines)),
            "ledger",
        );
        entries.push(PartEntry {
            title: title.to_string(),
            url,
            pages: part.len(),
            values: lines.len(),
        });
    }
    let page = PageContext {
        description: "Every value that this handbook prints, with where it comes from.".to_string(),
        ..PageContext::made("ledger", &list.title, &list.url, vec![home(handbook)])
    };
    renderer.page("ledger.html", &page, Some(("parts", &entries)), "ledger");
    let text_of = |file: &str| input.files.texts.get(file).map_or("", String::as_str);
    let all = uses.iter().map(|(_, page)| page);
    renderer.file(
        "ledger.json",
        json(&handbook.revision, all, text_of),
        "ledger",
    );
}

fn lines<'l>(page: &'l PageUses) -> impl Iterator<Item = LedgerLine<'l>> {
    page.uses.iter().map(|value| LedgerLine {
        page_title: page.title,
        page_url: page.url,
        value,
    })
}
