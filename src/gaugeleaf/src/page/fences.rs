//! Fenced blocks that are more than listings.

use std::ops::Range;

use gaugeleaf_calc::finding::Finding;
use pulldown_cmark::{CodeBlockKind, Event, Tag, TagEnd};

use crate::blocks::glossary::glossary;
use crate::blocks::named::{Block, address, named};
use crate::blocks::question::{Asked, question};
use crate::blocks::{chart, checks, figure, job_form, setup_sheet, test_page, tube_map, widget};
use crate::markdown::event::{Piece, html, take_until};
use crate::markdown::excerpt::Excerpt;
use crate::markdown::parse::parser;
use crate::markdown::place::info_span;
use crate::page::desk::Desk;

/// The blocks' names, as a fence says them.
pub const NAMES: [&str; 11] = [
    "page",
    "calculator",
    "chart",
    "figure",
    "checks",
    "question",
    "test",
    "setup-sheet",
    "job-form",
    "tube-map",
    "glossary",
];

/// Replaces every block of ours by its HTML.
pub fn blocks<'a>(pieces: Vec<Piece<'a>>, desk: &mut Desk) -> Vec<Piece<'a>> {
    let mut out = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.into_iter();
    while let Some((event, range)) = pieces.next() {
        let words = match &event {
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => {
                info.split_whitespace().map(str::to_string).collect()
            }
            _ => Vec::new(),
        };
        let Some(kind) = words.first().filter(|word| NAMES.contains(&word.as_str())) else {
            out.push((event, range));
            continue;
        };
        let body = body(range.start, &mut pieces);
        let names = &words[1..];
        let text = match kind.as_str() {
            "page" => {
                page(&range, desk);
                None
            }
            "checks" => {
                nameless(kind, names, &range, desk);
                let id = address(kind, &range, desk);
                out.extend(checks::checks(&id, &body, &range, desk));
                None
            }
            "question" => {
                nameless(kind, names, &range, desk);
                let asked = Asked {
                    id: address(kind, &range, desk),
                    body: &body,
                    range: range.clone(),
                    place: Some(test_page::place(desk.page, desk.text, range.start)),
                };
                question(&asked, desk).map(|(text, _)| text)
            }
            "setup-sheet" => {
                nameless(kind, names, &range, desk);
                let id = address(kind, &range, desk);
                setup_sheet::setup_sheet(&id, &body, &range, desk)
            }
            "job-form" => {
                nameless(kind, names, &range, desk);
                job_form::form(&address(kind, &range, desk), &range, desk)
            }
            "tube-map" => {
                nameless(kind, names, &range, desk);
                tube_map::map(&address(kind, &range, desk), &body, &range, desk)
            }
            "glossary" => {
                nameless(kind, names, &range, desk);
                glossary(&range, desk)
            }
            "test" => test_page::test(&address(kind, &range, desk), names, &range, desk),
            _ => block(kind, names, range.clone(), body, desk),
        };
        out.extend(text.map(|text| html(text, range)));
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

/// A block that stands for itself has no name.
fn nameless(kind: &str, names: &[String], range: &Range<usize>, desk: &mut Desk) {
    let Some(name) = names.first() else { return };
    let span = info_span(desk.text, range.clone(), name);
    let message = format!("a {kind} block has no name");
    desk.findings.push(
        Finding::error("named-block", desk.file, span, message).help(format!("write ```{kind}")),
    );
}

/// The page's settings print nothing; anywhere but at the top they do nothing either.
fn page(range: &Range<usize>, desk: &mut Desk) {
    if desk.page.outline.settings.block.as_ref() != Some(range) {
        desk.findings.push(
            Finding::error(
                "late-page-block",
                desk.file,
                info_span(desk.text, range.clone(), "page"),
                "a page block stands at the very top of its page, once",
            )
            .help("move these settings to the top"),
        );
    }
}

fn block(
    kind: &str,
    names: &[String],
    range: Range<usize>,
    body: Excerpt,
    desk: &mut Desk,
) -> Option<String> {
    let calculator = named(kind, names, range.clone(), desk)?;
    let block = Block {
        calculator,
        id: address(&calculator.name, &range, desk),
        body,
        span: info_span(desk.text, range, &calculator.name),
    };
    match kind {
        "calculator" => widget::on_page(&block, desk),
        "chart" => chart::chart(&block, desk),
        _ => figure::figure(&block, desk),
    }
}

#[cfg(test)]
mod tests {
    use crate::page::fences::blocks;
    use crate::page::testing::with_desk;

    #[test]
    fn a_block_of_an_unknown_calculator_offers_the_nearest_at_its_name() {
        let (_, findings) = with_desk("```calculator guide-tube-lenght\n```\n", blocks);
        assert_eq!(
            (findings[0].code, findings[0].span.clone()),
            ("unknown-calculator", 14..31)
        );
        assert_eq!(findings[0].help.as_deref(), Some("write guide-tube-length"));
    }

    #[test]
    fn a_block_without_a_name_and_a_late_page_block_are_findings() {
        let (_, findings) = with_desk("# T\n\n```chart\n```\n\n```page\n```\n", blocks);
        let codes: Vec<_> = findings.iter().map(|finding| finding.code).collect();
        assert_eq!(codes, ["unnamed-block", "late-page-block"]);
    }
}
