//! The handbook's own pages, each printed as soon as it is composed, so that what it was composed of
//! needn't be held until all are.

use gaugeleaf_calc::finding::Finding;

use crate::handbook::page::Page;
use crate::handbook::whole::Handbook;
use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::render::context::PageContext;
use crate::render::renderer::Renderer;
use crate::site::way::Way;

/// That a page was printed and handed over, or what kept it from that.
pub type HandedOver = Result<(), Finding>;

/// A page as it is printed.
///
/// # Errors
/// What is wrong with a template.
pub fn html(
    renderer: &Renderer,
    handbook: &Handbook,
    page: &Page,
    composed: &Composed<ComposedPage>,
    way: &Way,
) -> Result<Vec<u8>, Finding> {
    let mut context = PageContext::written(handbook, page, composed, way);
    let printer = renderer.printer(&page.url);
    context.content = printer.html(&composed.value.nodes, &page.outline.title)?;
    let template = match page.is_front() {
        true => "front.html",
        false => "page.html",
    };
    renderer.print(template, &context, None)
}

/// Prints a page and hands it over.
pub fn print(
    renderer: &Renderer,
    handbook: &Handbook,
    page: &Page,
    composed: &Composed<ComposedPage>,
    way: &Way,
) -> HandedOver {
    let html = html(renderer, handbook, page, composed, way)?;
    renderer.file(&page.url, html);
    Ok(())
}
