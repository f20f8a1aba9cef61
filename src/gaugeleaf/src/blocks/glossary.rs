//! The block that prints every term of the trade, and what the search can find of it.

use std::ops::Range;

use pulldown_cmark::{Event, Tag, TagEnd};
use serde::Serialize;

use crate::handbook::kind::Shape;
use crate::handbook::places::WORDS_FILE;
use crate::handbook::targets::target;
use crate::handbook::words::Term;
use crate::markdown::event::{Piece, to_html, words};
use crate::markdown::parse::parser;
use crate::page::desk::Desk;
use crate::page::kind::{Fence, Kind};
use crate::page::sections::{Section, SectionKind};
use crate::page::{links, raw_html, value_links};

/// `glossary`: the terms of the trade.
pub struct GlossaryBlock;

impl Shape for GlossaryBlock {
    fn name(&self) -> &'static str {
        "glossary"
    }

    fn prints_terms(&self) -> bool {
        true
    }
}

impl Kind for GlossaryBlock {
    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        fence.alone(self.name(), desk);
        fence.html(glossary(&fence.range, desk))
    }
}

/// What `blocks/glossary.html` is given as `terms`.
#[derive(Serialize)]
struct Entry<'t> {
    id: &'t str,
    name: &'t str,
    means: String,
    also: String,
    /// The page that tells more, and its title.
    url: String,
    title: String,
}

/// Prints the terms; their sections are left on the desk.
pub fn glossary(range: &Range<usize>, desk: &mut Desk) -> Option<String> {
    let mut entries = Vec::new();
    let book = desk.book;
    for term in &book.words {
        let (means, plain) = meaning(term, range.start, desk);
        let also = term.also.join(", ");
        let said = if also.is_empty() {
            String::new()
        } else {
            format!(" Also said: {also}.")
        };
        desk.terms.push(Section {
            kind: SectionKind::Term,
            id: term.id.clone(),
            title: term.name.clone(),
            text: format!("{plain}{said}"),
        });
        let see = term.see.as_ref();
        let (url, title) = match see.and_then(|see| target(&see.value, &book.pages)) {
            Some((page, place)) => {
                let hash = if place.is_empty() { "" } else { "#" };
                let heading = page
                    .outline
                    .headings
                    .iter()
                    .find(|heading| heading.id == place);
                let title = heading.map_or(&page.outline.title, |heading| &heading.text);
                (
                    format!("{}{}{hash}{place}", desk.root(), page.url),
                    title.clone(),
                )
            }
            None => (String::new(), String::new()),
        };
        let (id, name) = (&term.id, &term.name);
        entries.push(Entry {
            id,
            name,
            means,
            also,
            url,
            title,
        });
    }
    desk.part("blocks/glossary.html", "terms", &entries)
}

/// A term's meaning as HTML and in plain words; its faults stand in the file of words.
fn meaning(term: &Term, start: usize, desk: &mut Desk) -> (String, String) {
    let page = (desk.file, desk.text);
    // ranges are made the file's own before any stage looks at them
    let whole = desk.words_text;
    let written = whole.get(term.means.span.clone()).unwrap_or("");
    let pieces: Vec<Piece> = parser(&term.means.value)
        .into_offset_iter()
        .map(|(event, range)| (event, term.means.inner(written, &range)))
        .filter(|(event, _)| {
            !matches!(
                event,
                Event::Start(Tag::Paragraph) | Event::End(TagEnd::Paragraph)
            )
        })
        .collect();
    (desk.file, desk.text) = (WORDS_FILE, whole);
    let used = desk.uses.len();
    let pieces = raw_html::refuse(pieces, desk);
    let pieces = value_links::value_links(pieces, desk);
    let pieces = links::links(pieces, desk);
    (desk.file, desk.text) = page;
    for one in &mut desk.uses[used..] {
        // on the page, the values stand where the block does
        one.start = start;
    }
    let plain = words(pieces.iter().map(|(event, _)| event));
    (to_html(pieces), plain)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::testing::on_desk;
    use crate::settings::Placed;
    use crate::values::graph::Graph;

    #[test]
    fn a_value_that_differs_in_a_meaning_is_a_finding_in_the_file_of_words() {
        let file = "[[term]]\nname = \"dump\"\nmeans = \"Takes [3 s](value:dump_time) at most.\"\n";
        let from = file.find("\"Takes").expect("the meaning");
        let term = Term {
            name: "dump".into(),
            means: Placed {
                value: "Takes [3 s](value:dump_time) at most.".into(),
                span: from..file.len() - 1,
            },
            ..Term::default()
        };
        on_desk("# T\n", &[], &Graph::built_in(), |_, desk| {
            desk.words_text = file;
            meaning(&term, 0, desk);
            let finding = &desk.findings[0];
            assert_eq!(
                (finding.code.name(), finding.file.as_str()),
                ("value-differs", WORDS_FILE)
            );
            assert_eq!(&file[finding.span.clone()], "3 s");
        });
    }
}
