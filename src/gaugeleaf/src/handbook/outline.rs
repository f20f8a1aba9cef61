//! What a page says of itself before it is composed: its settings, its title and
//! its headings, with the addresses that links use.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::{CodeBlockKind, Event, HeadingLevel, Tag, TagEnd};

use crate::handbook::forms;
use crate::handbook::kind::{self, Shapes};
use crate::markdown::excerpt::Excerpt;
use crate::markdown::ids::{Ids, slug, step_id, step_number};
use crate::markdown::nesting::Nesting;
use crate::markdown::parse::{parser, trimmed};
use crate::settings::{self, Assigned, Placed};

/// A page's head.
#[derive(Debug, Clone, Default)]
pub struct Outline {
    pub title: String,
    pub settings: PageSettings,
    /// Every heading but the title, in order.
    pub headings: Vec<Heading>,
    /// The blocks on the page that have an address: where each starts, and its address.
    pub blocks: Vec<(usize, String)>,
    /// How many steps the page has; they are `step-1`, `step-2`, …
    pub steps: usize,
    /// Where the page prints the terms of the trade, if it does.
    pub glossary: Option<Range<usize>>,
    /// The addresses given to headings and blocks.
    pub ids: Ids,
}

impl Outline {
    /// Every address on the page that a link may name.
    pub fn addresses(&self) -> impl Iterator<Item = String> {
        let headings = self.headings.iter().map(|heading| heading.id.clone());
        let blocks = self.blocks.iter().map(|(_, id)| id.clone());
        headings.chain(blocks).chain((1..=self.steps).map(step_id))
    }

    /// Whether a link may name this address.
    pub fn has_address(&self, id: &str) -> bool {
        let step = step_number(id).is_some_and(|number| (1..=self.steps).contains(&number));
        step || self.ids.contains(id)
    }

    /// Whether a block with this address stands on the page.
    pub fn has_block(&self, address: &str) -> bool {
        self.blocks.iter().any(|(_, id)| id == address)
    }

    /// The heading that starts at an offset of the file.
    pub fn heading_at(&self, start: usize) -> Option<&Heading> {
        let index = self
            .headings
            .binary_search_by_key(&start, |heading| heading.start)
            .ok()?;
        self.headings.get(index)
    }

    /// The address of the block that starts at an offset of the file.
    pub fn block_at(&self, start: usize) -> Option<&str> {
        let index = self
            .blocks
            .binary_search_by_key(&start, |(start, _)| *start)
            .ok()?;
        self.blocks.get(index).map(|(_, id)| id.as_str())
    }
}

/// What the `page` block holds.
#[derive(Debug, Clone, Default)]
pub struct PageSettings {
    pub order: Option<Placed<i64>>,
    pub time: Option<String>,
    pub people: Vec<String>,
    pub tools: Vec<String>,
    pub review: Option<String>,
    pub given: Vec<Assigned>,
    /// The page is a prepared job of this name; `given` are its values.
    pub job: Option<Placed<String>>,
    /// Where the block stands, for composing to leave it out.
    pub block: Option<Range<usize>>,
}

/// A heading and its address on the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    pub level: usize,
    pub id: String,
    pub text: String,
    /// Where it starts in the file, which tells it from its namesakes.
    pub start: usize,
}

/// Reads a page's head; what is wrong with it is added to the findings.
pub fn outline(path: &str, text: &str, shapes: &Shapes, findings: &mut Vec<Finding>) -> Outline {
    let mut outline = Outline::default();
    if text.trim().is_empty() {
        findings.push(
            Finding::error(Code::EmptyPage, path, 0..0, "this page is empty")
                .help("write a heading and some text, or delete the file"),
        );
        return outline;
    }
    let mut titled = false;
    let mut ids = Ids::default();
    let mut events = parser(text).into_offset_iter().peekable();
    if let Some((Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))), range)) = events.peek()
        && info.trim() == "page"
    {
        let block = range.clone();
        let mut body = Excerpt::at(block.start);
        events.next();
        for (event, range) in events.by_ref() {
            match event {
                Event::Text(piece) => body.push(&piece, range.start),
                _ => break,
            }
        }
        outline.settings = page_settings(path, &body, findings);
        outline.settings.block = Some(block);
    }
    let mut nesting = Nesting::default();
    while let Some((event, range)) = events.next() {
        outline.steps += usize::from(nesting.opens_step(&event));
        if let Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) = &event
            && let Some((kind, name)) = kind::of(info, shapes)
        {
            if kind.prints_terms() && outline.glossary.is_none() {
                outline.glossary = Some(trimmed(text, range.clone()));
            }
            if let Some(address) = kind.address(name) {
                outline.blocks.push((range.start, ids.give(&address)));
            }
        }
        let Event::Start(Tag::Heading { level, .. }) = event else {
            continue;
        };
        let mut words = String::new();
        for (event, _) in events.by_ref() {
            match event {
                Event::Text(piece) | Event::Code(piece) => words.push_str(&piece),
                Event::SoftBreak | Event::HardBreak => words.push(' '),
                Event::End(TagEnd::Heading(_)) => break,
                _ => {}
            }
        }
        if level == HeadingLevel::H1 {
            if titled {
                findings.push(
                    Finding::error(
                        Code::TwoTitles,
                        path,
                        trimmed(text, range),
                        "a page has one title",
                    )
                    .help("write further headings with two or more # marks"),
                );
            } else {
                titled = true;
                outline.title = words.trim().to_string();
            }
            continue;
        }
        let id = ids.give(&slug(&words));
        let text = words.trim().to_string();
        outline.headings.push(Heading {
            level: level as usize,
            id,
            text,
            start: range.start,
        });
    }
    if outline.title.is_empty() {
        let message = "this page has no title";
        findings.push(
            Finding::error(Code::NoTitle, path, 0..0, message)
                .help("start the text with a line like # Title"),
        );
    }
    outline.ids = ids;
    outline
}

fn page_settings(path: &str, body: &Excerpt, findings: &mut Vec<Finding>) -> PageSettings {
    settings::read(path, body, forms::PAGE, findings, |settings| {
        let values =
            |texts: Vec<Placed<String>>| texts.into_iter().map(|text| text.value).collect();
        PageSettings {
            order: settings.whole("order"),
            time: settings.text("time").map(|text| text.value),
            people: values(settings.texts("people")),
            tools: values(settings.texts("tools")),
            review: settings.date("review"),
            given: settings.quantities("given"),
            job: settings.text("job"),
            block: None,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::shapes;

    #[test]
    fn the_head_of_a_page_is_its_settings_its_title_and_its_headings() {
        let text = "```page\norder = 3\npeople = [\"lead\"]\n```\n\n# Fit it\n\n## Set *the* pitch\n\n## Set the pitch\n\n1. a\n   1. b\n2. c\n";
        let mut findings = Vec::new();
        let outline = outline("a.md", text, &shapes(), &mut findings);
        assert_eq!(findings, []);
        assert_eq!(outline.title, "Fit it");
        assert_eq!(outline.settings.people, ["lead"]);
        let ids: Vec<_> = outline
            .headings
            .iter()
            .map(|heading| heading.id.as_str())
            .collect();
        assert_eq!(ids, ["set-the-pitch", "set-the-pitch-2"]);
        assert_eq!(outline.steps, 2);
    }

    #[test]
    fn an_empty_page_and_a_page_without_title_are_findings() {
        let codes = |text: &str| {
            let mut findings = Vec::new();
            outline("a.md", text, &shapes(), &mut findings);
            findings
                .into_iter()
                .map(|finding| finding.code.name())
                .collect::<Vec<_>>()
        };
        assert_eq!(codes(" \n"), ["empty-page"]);
        assert_eq!(codes("Text.\n"), ["no-title"]);
        assert_eq!(codes("# A\n\n# B\n"), ["two-titles"]);
    }

    #[test]
    fn a_wrong_setting_is_found_where_it_stands_even_with_crlf() {
        let mut findings = Vec::new();
        outline(
            "a.md",
            "```page\r\norder = 1\r\ntime = 4\r\n```\r\n\r\n# A\r\n",
            &shapes(),
            &mut findings,
        );
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("wrong-kind", 27..28)
        );
    }
}
