//! What a camera reads off a printed card: where it is told whether the card is current.

use gaugeleaf_engine::code_svg;

use crate::render::renderer::Renderer;
use crate::site::age::pages;
use crate::site::age::register::URL;
use crate::site::input::SiteInput;

/// A file for each page, where the handbook says at which address it is reached.
pub fn files(renderer: &mut Renderer, input: &SiteInput) {
    let Some(address) = address(input) else {
        return;
    };
    for page in pages(input) {
        let text = format!("{address}{URL}#{}", page.fingerprint);
        if let Some(svg) = code_svg(&text) {
            renderer.file(&url(page.fingerprint), svg.into_bytes());
        }
    }
}

/// Where the codes lead to; nobody prints the preview.
fn address<'i>(input: &'i SiteInput) -> Option<&'i String> {
    let printed = input.edition.script().is_none();
    input.handbook.address.as_ref().filter(|_| printed)
}

/// Where the codes lie.
pub fn urls(input: &SiteInput) -> Vec<String> {
    match address(input) {
        Some(_) => pages(input).map(|page| url(page.fingerprint)).collect(),
        None => Vec::new(),
    }
}

fn url(fingerprint: &str) -> String {
    format!("codes/{fingerprint}.svg")
}
