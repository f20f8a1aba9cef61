//! Finds the fenced blocks that are more than listings.

use std::ops::Range;

use pulldown_cmark::{CodeBlockKind, Event, Tag, TagEnd};

use crate::markdown::event::{Piece, take_until};
use crate::markdown::excerpt::Excerpt;
use crate::markdown::parse::parser;
use crate::markdown::place::fence_words;
use crate::page::desk::Desk;
use crate::page::kind::{Fence, Kinds};
use crate::settings::Placed;

/// Replaces every block of a known kind by what it puts on the page.
pub fn blocks<'a>(pieces: Vec<Piece<'a>>, kinds: &Kinds, desk: &mut Desk) -> Vec<Piece<'a>> {
    let mut out = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.into_iter();
    while let Some((event, range)) = pieces.next() {
        let first = match &event {
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => {
                info.split_whitespace().next()
            }
            _ => None,
        };
        let Some(kind) = kinds.iter().find(|kind| first == Some(kind.name())) else {
            out.push((event, range));
            continue;
        };
        let mut words = fence_words(desk.text, range.clone()).into_iter();
        let fence = Fence {
            kind: words.next().map_or(range.clone(), |(_, at)| at),
            names: words.map(|(value, span)| Placed { value, span }).collect(),
            body: body(range.start, &mut pieces),
            range,
        };
        let pieces = kind.compose(&fence, desk);
        if !pieces.is_empty() {
            desk.kinds.insert(kind.name());
        }
        out.extend(pieces);
    }
    out
}

/// A block's body; the block's start is taken already.
fn body<'a>(start: usize, pieces: &mut impl Iterator<Item = Piece<'a>>) -> Excerpt {
    let mut body = Excerpt::at(start);
    for (event, range) in take_until(pieces, &TagEnd::CodeBlock) {
        if let Event::Text(text) = event {
            body.push(&text, range.start);
        }
    }
    body
}

/// Every block of a kind in a page's text, with its place.
pub fn bodies(text: &str, kind: &str) -> Vec<(Range<usize>, Excerpt)> {
    let mut found = Vec::new();
    let mut pieces = parser(text).into_offset_iter();
    while let Some((event, range)) = pieces.next() {
        if let Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) = &event
            && info.split_whitespace().next() == Some(kind)
        {
            found.push((range.clone(), body(range.start, &mut pieces)));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use crate::page::testing::blocks;
    use crate::page::testing::with_desk;

    #[test]
    fn a_block_of_an_unknown_calculator_offers_the_nearest_at_its_name() {
        let (_, findings) = with_desk("```calculator guide-tube-lenght\n```\n", blocks);
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("unknown-calculator", 14..31)
        );
        assert_eq!(findings[0].help.as_deref(), Some("write guide-tube-length"));
    }

    #[test]
    fn a_block_without_a_name_and_a_late_page_block_are_findings() {
        let (_, findings) = with_desk("# T\n\n```chart\n```\n\n```page\n```\n", blocks);
        let codes: Vec<_> = findings.iter().map(|finding| finding.code.name()).collect();
        assert_eq!(codes, ["unnamed-block", "late-page-block"]);
    }
}
