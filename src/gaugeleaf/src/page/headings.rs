//! Headings get the addresses of the outline; the title is the template's to print.

use pulldown_cmark::{Event, HeadingLevel, Tag, TagEnd};

use crate::handbook::outline::Outline;
use crate::markdown::event::{Piece, html, take_until};

/// Puts the outline's address on each heading and takes the title out.
pub fn headings<'a>(pieces: Vec<Piece<'a>>, outline: &Outline) -> Vec<Piece<'a>> {
    let mut out = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.into_iter();
    while let Some((event, range)) = pieces.next() {
        match event {
            Event::Start(Tag::Heading {
                level: HeadingLevel::H1,
                ..
            }) => {
                take_until(&mut pieces, &TagEnd::Heading(HeadingLevel::H1));
            }
            Event::Start(Tag::Heading { level, .. }) => {
                let heading = outline.heading_at(range.start);
                let id = heading.map_or("", |heading| heading.id.as_str());
                out.push(html(format!("<{level} id=\"{id}\">"), range));
            }
            Event::End(TagEnd::Heading(level)) => out.push(html(format!("</{level}>\n"), range)),
            event => out.push((event, range)),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use crate::blocks::registry::shapes;
    use crate::handbook::outline::outline;
    use crate::page::headings::headings;
    use crate::page::testing::rendered;

    #[test]
    fn headings_carry_the_addresses_that_links_use() {
        let text = "# Title\n\n## Set it\n";
        let outline = outline("a.md", text, &shapes(), &mut Vec::new());
        let html = rendered(text, |pieces| headings(pieces, &outline));
        assert_eq!(html, "<h2 id=\"set-it\">Set it</h2>\n");
    }
}
