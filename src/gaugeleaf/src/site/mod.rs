//! Composed pages, the catalog and the theme become the site's files.

pub mod calculator_list;
pub mod calculators;
mod data;
pub mod input;
mod ledger_pages;
mod limits;
pub mod navigation;
pub mod paths;
mod schemas;
mod search;
pub mod tables;
pub mod way;
pub mod written;

use gaugeleaf_calc::finding::Finding;

use crate::handbook::whole::Handbook;
use crate::render::context::PageContext;
use crate::render::files::SiteSink;
use crate::render::renderer::Renderer;
use crate::site::input::SiteInput;
use crate::site::navigation::home;
use crate::site::way::Way;
use crate::site::written::HandedOver;

/// Renders the whole site; `written` is what became of printing each page when it was composed.
pub fn render(
    input: &SiteInput,
    written: Vec<Option<HandedOver>>,
    sink: &dyn SiteSink,
) -> Vec<Finding> {
    let SiteInput {
        files,
        handbook,
        graph,
        theme,
        composed,
        edition,
        frame,
        way,
        ..
    } = *input;
    let site = frame.clone().listing(handbook, graph, composed);
    let mut renderer = Renderer::new(theme, &site, edition, sink);
    for ((page, composed), printed) in handbook.pages.iter().zip(composed).zip(written) {
        let printed =
            printed.unwrap_or_else(|| written::print(&renderer, handbook, page, composed, way));
        renderer.told(printed);
    }
    phase_pages(&mut renderer, handbook, way);
    calculators::pages(&mut renderer, input);
    tables::pages(&mut renderer, handbook, graph);
    let search = PageContext::made("search", "Search", "search.html", vec![home(handbook)]);
    renderer.page("search.html", &search, None);
    ledger_pages::pages(&mut renderer, input);
    for path in paths::shown(input) {
        let bytes = files.bytes.get(path).cloned().unwrap_or_default();
        renderer.file(path.strip_prefix("content/").unwrap_or(path), bytes);
    }
    for (path, bytes) in theme.assets() {
        renderer.file(&path, bytes);
    }
    for (name, schema) in schemas::schemas() {
        renderer.file(&format!("schemas/{name}"), schema);
    }
    let search = search::index(input, &site);
    renderer.file("scripts/catalog.js", data::catalog(graph, handbook));
    for (name, bytes) in [
        ("search-index", search.index),
        ("search-texts", search.texts),
    ] {
        let script = data::search(name, &bytes);
        renderer.file(&format!("scripts/{name}.js"), script);
    }
    renderer.findings
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
        renderer.page("phase.html", &page, Some(("phase", phase)));
    }
}
