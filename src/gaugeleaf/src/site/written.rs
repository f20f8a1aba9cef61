//! The handbook's own pages, each printed as soon as it is composed, so that what it was composed of
//! needn't be held until all are.

use gaugeleaf_calc::finding::Finding;

use crate::handbook::page::Page;
use crate::handbook::whole::Handbook;
use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::render::context::{PageContext, Site};
use crate::render::edition::Edition;
use crate::render::files::SiteSink;
use crate::render::renderer::Renderer;
use crate::render::theme::Theme;
use crate::site::way::Way;

/// That a page was printed and handed over, or what kept it from that.
pub type HandedOver = Result<(), Finding>;

/// What written pages are printed with.
pub struct WrittenPages<'w> {
    handbook: &'w Handbook,
    renderer: Renderer<'w>,
    way: &'w Way,
}

impl<'w> WrittenPages<'w> {
    /// `frame` is the site before its lists.
    pub fn new(
        theme: &'w Theme,
        handbook: &'w Handbook,
        frame: &'w Site,
        way: &'w Way,
        edition: &'w dyn Edition,
        files: &'w dyn SiteSink,
    ) -> WrittenPages<'w> {
        let renderer = Renderer::new(theme, frame, edition, files);
        WrittenPages {
            handbook,
            renderer,
            way,
        }
    }

    /// A page; none of the front page, whose lists tell of all the others.
    pub fn print(&self, page: &Page, composed: &Composed<ComposedPage>) -> Option<HandedOver> {
        let print = || print(&self.renderer, self.handbook, page, composed, self.way);
        (!page.is_front()).then(print)
    }
}

/// Any page.
pub fn print(
    renderer: &Renderer,
    handbook: &Handbook,
    page: &Page,
    composed: &Composed<ComposedPage>,
    way: &Way,
) -> HandedOver {
    let mut context = PageContext::written(handbook, page, composed, way);
    let printer = renderer.printer(&page.url);
    context.content = printer.html(&composed.value.nodes, &page.outline.title)?;
    let template = match page.is_front() {
        true => "front.html",
        false => "page.html",
    };
    let html = renderer.print(template, &context, None)?;
    renderer.file(&page.url, html);
    Ok(())
}
