//! Raw HTML is refused: nothing needs it, and a page must not be able to run a script.

use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::{Event, Tag, TagEnd};

use crate::markdown::event::{Piece, take_until};
use crate::markdown::parse::trimmed;
use crate::page::desk::Desk;

/// Takes every piece of raw HTML out, with a finding for each.
pub fn refuse<'a>(pieces: Vec<Piece<'a>>, desk: &mut Desk) -> Vec<Piece<'a>> {
    let mut out = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.into_iter();
    while let Some((event, range)) = pieces.next() {
        match event {
            Event::Start(Tag::HtmlBlock) => drop(take_until(&mut pieces, &TagEnd::HtmlBlock)),
            Event::Html(_) | Event::InlineHtml(_) => {}
            event => {
                out.push((event, range));
                continue;
            }
        }
        let span = trimmed(desk.text, range);
        let shown = desk.text.get(span.clone()).unwrap_or("");
        let first = shown.lines().next().unwrap_or("");
        let message = format!("raw HTML is refused: {first}");
        desk.findings.push(
            Finding::error(Code::RawHtml, desk.file, span, message)
                .help("write it in Markdown, or put the text between ` marks to show it as it is"),
        );
    }
    out
}

#[cfg(test)]
mod tests {
    use crate::page::raw_html::refuse;
    use crate::page::testing::with_desk;

    #[test]
    fn html_in_a_line_and_in_a_block_are_each_one_finding_in_their_place() {
        let (html, findings) = with_desk("a <b>c\n\n<script>\nx\n</script>\n", refuse);
        assert_eq!(html, "<p>a c</p>\n");
        let spans: Vec<_> = findings
            .iter()
            .map(|finding| finding.span.clone())
            .collect();
        assert_eq!(spans, [2..5, 8..28]);
    }
}
