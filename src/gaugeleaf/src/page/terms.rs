//! The first mention of a term in each section leads to what it means.

use std::collections::BTreeSet;

use pulldown_cmark::{Event, Tag, TagEnd};

use crate::handbook::words::{Term, mention};
use crate::markdown::escape::escape;
use crate::markdown::event::Piece;
use crate::page::desk::Desk;

/// Links the terms; never in headings, links, code, hazards and other quotes, nor on the
/// glossary's own page.
pub fn terms<'a>(pieces: Vec<Piece<'a>>, desk: &Desk) -> Vec<Piece<'a>> {
    let book = desk.book;
    let Some(glossary) = book.glossary.as_ref().filter(|url| **url != desk.page.url) else {
        return pieces;
    };
    let mut out = Vec::with_capacity(pieces.len());
    let mut met: BTreeSet<&str> = BTreeSet::new();
    let (mut closed, mut written) = (0usize, 0isize);
    for (event, range) in pieces {
        match &event {
            Event::Start(Tag::Heading { .. }) => {
                met.clear();
                closed += 1;
            }
            Event::Start(tag) if shuts(tag) => closed += 1,
            Event::End(end) if opens(end) => closed = closed.saturating_sub(1),
            // a value stands between its own tags
            Event::InlineHtml(html) => {
                let ends = html.matches("</").count() as isize;
                written += html.matches('<').count() as isize
                    - 2 * ends
                    - html.matches("<img").count() as isize;
            }
            Event::Text(text) if closed == 0 && written <= 0 => {
                for piece in linked(
                    text,
                    &book.words,
                    &mut met,
                    &format!("{}{glossary}", desk.root()),
                ) {
                    out.push((piece, range.clone()));
                }
                continue;
            }
            _ => {}
        }
        out.push((event, range));
    }
    out
}

fn shuts(tag: &Tag) -> bool {
    matches!(
        tag,
        Tag::Link { .. }
            | Tag::CodeBlock(_)
            | Tag::BlockQuote(_)
            | Tag::Image { .. }
            | Tag::TableHead
    )
}

fn opens(end: &TagEnd) -> bool {
    matches!(
        end,
        TagEnd::Heading(_)
            | TagEnd::Link
            | TagEnd::CodeBlock
            | TagEnd::BlockQuote(_)
            | TagEnd::Image
            | TagEnd::TableHead
    )
}

/// A text with its first mentions linked; of two that overlap, the longer.
fn linked<'a, 't>(
    text: &str,
    terms: &'t [Term],
    met: &mut BTreeSet<&'t str>,
    glossary: &str,
) -> Vec<Event<'a>> {
    let mut found = Vec::new();
    for term in terms
        .iter()
        .filter(|term| !met.contains(term.name.as_str()))
    {
        if let Some(range) = mention(text, &term.name) {
            found.push((range, term));
        }
    }
    found.sort_by_key(|(range, _)| (std::cmp::Reverse(range.len()), range.start));
    let mut kept: Vec<(std::ops::Range<usize>, &Term)> = Vec::new();
    for (range, term) in found {
        if kept
            .iter()
            .all(|(other, _)| other.end <= range.start || range.end <= other.start)
        {
            met.insert(term.name.as_str());
            kept.push((range, term));
        }
    }
    kept.sort_by_key(|(range, _)| range.start);
    let mut events = Vec::new();
    let mut at = 0;
    for (range, term) in kept {
        events.push(Event::Text(text[at..range.start].to_string().into()));
        let open = format!(
            "<a class=\"term\" href=\"{}#{}\">",
            escape(glossary),
            escape(&term.id)
        );
        events.push(Event::InlineHtml(open.into()));
        events.push(Event::Text(text[range.clone()].to_string().into()));
        events.push(Event::InlineHtml("</a>".into()));
        at = range.end;
    }
    events.push(Event::Text(text[at..].to_string().into()));
    events
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::testing::rendered;

    fn with_terms(text: &str) -> String {
        let term = |name: &str| Term {
            name: name.into(),
            id: format!("term-{}", name.replace(' ', "-")),
            ..Term::default()
        };
        let all = [term("dump"), term("tube"), term("tube sheet")];
        rendered(text, |pieces| {
            let mut met = BTreeSet::new();
            let link = |(event, range): Piece<'_>| match event {
                Event::Text(text) => linked(&text, &all, &mut met, "glossary.html")
                    .into_iter()
                    .map(|event| (event, range.clone()))
                    .collect(),
                event => vec![(event.into_static(), range)],
            };
            pieces.into_iter().flat_map(link).collect()
        })
    }

    #[test]
    fn the_first_mention_is_linked_and_the_longer_term_wins() {
        assert_eq!(
            with_terms("The tube sheet, a tube, the dump, the dump.\n"),
            "<p>The <a class=\"term\" href=\"glossary.html#term-tube-sheet\">tube sheet</a>, a tube, \
             the <a class=\"term\" href=\"glossary.html#term-dump\">dump</a>, the dump.</p>\n"
        );
    }
}
