//! The block that prints every term of the trade, and what the search can find of it.

use pulldown_cmark::Tag;
use serde::Serialize;

use crate::handbook::kind::BlockShape;
use crate::handbook::places::WORDS_FILE;
use crate::handbook::targets::target;
use crate::handbook::words::GlossaryTerm;
use crate::language::tell;
use crate::markdown::tree::What;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::inline::parsed;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, Href, Line, Node, words};
use crate::page::route::Route;
use crate::page::sections::{Section, SectionKind};
use crate::page::text::text;

/// A reader wants the commonest; the search knows the rest.
const MOST_SAID: usize = 6;

/// `glossary`: the terms of the trade.
pub struct GlossaryBlock;

impl BlockShape for GlossaryBlock {
    fn name(&self) -> &'static str {
        "glossary"
    }

    fn help(&self) -> &'static str {
        "Every term of the trade with its meaning; on one page of the handbook."
    }

    fn prints_terms(&self) -> bool {
        true
    }
}

impl BlockKind for GlossaryBlock {
    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let mut all = fence.unnamed(self.name(), context);
        let block = all.take(glossary(fence.range.start, context));
        all.with(Some(block))
    }
}

/// What `blocks/glossary.html` is given as `terms`.
#[derive(Serialize)]
struct TermView<'t> {
    id: &'t str,
    name: &'t str,
    means: Line,
    also: String,
    /// The page that tells more, and its title.
    url: Option<Href>,
    title: String,
}

/// Every term; `start` is where the block stands.
fn glossary(start: usize, context: &Context) -> Composed<Block> {
    let mut all = Composed::of(());
    let (mut entries, mut lines, mut found) = (Vec::new(), Vec::new(), Vec::new());
    for term in context.terms() {
        let means = all.take(meaning(term, start, context));
        let also = &term.also[..term.also.len().min(MOST_SAID)];
        let also = also.join(", ");
        let said = if also.is_empty() {
            String::new()
        } else {
            format!(" {}", tell::also_said(&also))
        };
        found.push(Section {
            kind: SectionKind::Term,
            id: term.id.clone(),
            title: term.name.clone(),
            text: format!("{}{said}", words(&means)),
            ..Section::default()
        });
        let (url, title) = more(term, context).unzip();
        entries.push(TermView {
            id: &term.id,
            name: &term.name,
            means: Line::of(&mut lines, means),
            also,
            url,
            title: title.unwrap_or_default(),
        });
    }
    all.with(Block {
        found,
        ..Block::new("blocks/glossary.html", "terms", &entries).lines(lines)
    })
}

/// Where to read more of a term, and what stands over it there.
fn more(term: &GlossaryTerm, context: &Context) -> Option<(Href, String)> {
    let (page, place) = target(&term.see.as_ref()?.value, |path| context.outline_of(path))?;
    let mut headings = page.outline.headings.iter();
    let heading = headings.find(|heading| heading.id == place);
    let title = heading.map_or(&page.outline.title, |heading| &heading.text);
    Some((Route::page(&page.path).at(place).into(), title.clone()))
}

/// A term's meaning; its faults stand in the file of words.
fn meaning(term: &GlossaryTerm, start: usize, context: &Context) -> Composed<Vec<Node>> {
    let there = context.in_file(WORDS_FILE);
    let nodes = parsed(&term.means, there.text);
    // a meaning is a line of its entry, whatever it is made of
    let lines = nodes.into_iter().flat_map(|node| match node.what {
        What::Tag(tag, inside) if *tag == Tag::Paragraph => inside,
        _ => vec![node],
    });
    let mut means = text(&lines.collect::<Vec<_>>(), &there);
    for one in &mut means.uses {
        // on the page, the values stand where the block does
        one.start = start;
    }
    means
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::testing::Sample;
    use gaugeleaf_calc::finding::settings::Placed;

    #[test]
    fn a_value_that_differs_in_a_meaning_is_a_finding_in_the_file_of_words() {
        let file = "[[term]]\nname = \"dump\"\nmeans = \"Takes [3 s](value:dump_time) at most.\"\n";
        let from = file.find("\"Takes").expect("the meaning");
        let term = GlossaryTerm {
            name: "dump".into(),
            means: Placed {
                value: "Takes [3 s](value:dump_time) at most.".into(),
                span: from..file.len() - 1,
            },
            ..GlossaryTerm::default()
        };
        let mut sample = Sample::new("# T\n");
        let words = (WORDS_FILE.to_string(), file.to_string());
        sample.files.texts.extend([words]);
        sample.context(|context| {
            let finding = &meaning(&term, 0, context).findings[0];
            assert_eq!(
                (finding.code.name(), finding.file.as_str()),
                ("value-differs", WORDS_FILE)
            );
            assert_eq!(&file[finding.span.clone()], "3 s");
        });
    }
}
