//! What a page says of itself before it is composed: its settings, its title and
//! its headings, with the addresses that links use.

use std::ops::Range;

use gaugeleaf_calc::finding::settings::{self, Binding, Placed};
use gaugeleaf_calc::finding::{Code, Excerpt, Finding};
use pulldown_cmark::{Event, HeadingLevel, Tag};

use crate::handbook::answered::{Answered, answered};
use crate::handbook::file_kinds;
use crate::handbook::kind::{self, BlockShape, BlockShapes};
use crate::markdown::ids::{Ids, slug, step_id, step_number};
use crate::markdown::parse::trimmed;
use crate::markdown::place::SCHEME;
use crate::markdown::steps::StepCount;
use crate::markdown::tree::{self, MarkdownNode, Tree, What};

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
    /// Each row of its tables is a place of its own.
    pub finds_rows: bool,
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

    fn block(&mut self, kind: &dyn BlockShape, name: &str, range: Range<usize>) {
        if kind.prints_terms() && self.glossary.is_none() {
            self.glossary = Some(range.clone());
        }
        self.finds_rows |= kind.finds_rows();
        if let Some(address) = kind.address(name) {
            self.blocks.push((range.start, self.ids.give(&address)));
        }
    }

    fn heading(&mut self, level: usize, words: &str, start: usize) {
        self.headings.push(Heading {
            level,
            id: self.ids.give(&slug(words)),
            text: words.trim().to_string(),
            start,
        });
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
    /// Who keeps the page right, and who approves what is issued of it, where that isn't the handbook's.
    pub owner: Option<String>,
    pub approver: Option<String>,
    pub given: Vec<Binding>,
    /// The page is a prepared job of this name; `given` are its values.
    pub job: Option<Placed<String>>,
    /// The kit that the job uses, if it isn't the handbook's.
    pub kit: Option<Placed<String>>,
    /// What people say for the page.
    pub also: Vec<String>,
    /// It is for others than the crew.
    pub aside: bool,
    /// Nothing is to be above it for whoever says what people say for it.
    pub urgent: bool,
    /// The stops on this page that somebody answers for.
    pub answered: Vec<Answered>,
    /// Where the block stands, for composing to leave it out.
    pub block: Option<Range<usize>>,
}

impl PageSettings {
    /// The name of the kit that the job uses; empty for the handbook's.
    pub fn kit(&self) -> &str {
        self.kit.as_ref().map_or("", |kit| &kit.value)
    }
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
pub fn outline(
    path: &str,
    text: &str,
    tree: &Tree,
    shapes: &BlockShapes,
    findings: &mut Vec<Finding>,
) -> Outline {
    let mut outline = Outline::default();
    if text.trim().is_empty() {
        findings.push(
            Finding::error(Code::EmptyPage, path, 0..0, "this page is empty")
                .breaks([format!("{path}#")])
                .help("write a heading and some text, or delete the file"),
        );
        return outline;
    }
    if let Some(block) = tree
        .nodes
        .first()
        .filter(|node| node.fence() == Some("page"))
    {
        outline.settings = page_settings(path, &block.body(), findings);
        outline.settings.block = Some(block.range.clone());
    }
    outline.steps = steps(path, text, &tree.nodes, findings);
    let mut titles = Vec::new();
    tree::each(&tree.nodes, &mut |node| {
        if let Some((kind, name)) = node.fence().and_then(|info| kind::of(info, shapes)) {
            outline.block(kind, name, trimmed(text, node.range.clone()));
        }
        let Some(Tag::Heading { level, .. }) = node.tag() else {
            return;
        };
        let words = tree::words(node.inside());
        if *level == HeadingLevel::H1 {
            titles.push((words, node.range.clone()));
        } else {
            outline.heading(*level as usize, &words, node.range.start);
        }
    });
    let mut error = |code, span, message: &str, help: &str| {
        findings.push(Finding::error(code, path, span, message).help(help));
    };
    for (_, range) in titles.iter().skip(1) {
        let help = "write further headings with two or more # marks";
        let range = trimmed(text, range.clone());
        error(Code::TwoTitles, range, "a page has one title", help);
    }
    if let Some((words, _)) = titles.first() {
        outline.title = words.trim().to_string();
    }
    if outline.title.is_empty() {
        let help = "start the text with a line like # Title";
        error(Code::NoTitle, 0..0, "this page has no title", help);
    }
    for range in unlisted(&tree.nodes) {
        let help = "write it in the text below";
        let message =
            "a heading holds no value and no footnote: lists and links name it without them";
        error(Code::ValueInHeading, range, message, help);
    }
    if let Some(range) = &tree.too_deep {
        let help = "take lists and quotes out of each other";
        let message = "this stands in too many lists and quotes";
        error(
            Code::DeepNesting,
            trimmed(text, range.clone()),
            message,
            help,
        );
    }
    outline
}

/// What stands in headings and can't be told in a list: values, which follow the job, and footnotes.
fn unlisted(nodes: &[MarkdownNode]) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    tree::each(nodes, &mut |node| {
        if !matches!(node.tag(), Some(Tag::Heading { .. })) {
            return;
        }
        tree::each(node.inside(), &mut |part| {
            let unlisted = match &part.what {
                What::Tag(tag, _) => {
                    matches!(&**tag, Tag::Link { dest_url, .. } if dest_url.starts_with(SCHEME))
                }
                What::Leaf(leaf) => matches!(&**leaf, Event::FootnoteReference(_)),
                What::Text(_) => false,
            };
            if unlisted {
                found.push(part.range.clone());
            }
        });
    });
    found
}

/// How many steps a page has. A list is told whose first number is neither 1, nor the one that is
/// printed, nor goes on from the list before as it was typed: whoever wrote it means something by it.
fn steps(path: &str, text: &str, nodes: &[MarkdownNode], findings: &mut Vec<Finding>) -> usize {
    let mut count = StepCount::default();
    let mut goes_on = 1;
    for node in nodes {
        let What::Tag(tag, items) = &node.what else {
            continue;
        };
        let next = count.total() + 1;
        count.of(tag, items.len());
        let Tag::List(Some(typed)) = **tag else {
            continue;
        };
        if ![1, next as u64, goes_on].contains(&typed) {
            let start = node.range.start;
            let digits = text[start..].bytes().take_while(u8::is_ascii_digit);
            let span = start..start + digits.count();
            let message = format!("these steps begin with {typed}, and are printed from {next}");
            let help = format!("begin them with {next}: steps are counted through the page");
            findings.push(Finding::warning(Code::ListNumber, path, span, message).help(help));
        }
        goes_on = typed + items.len() as u64;
    }
    count.total()
}

fn page_settings(path: &str, body: &Excerpt, findings: &mut Vec<Finding>) -> PageSettings {
    settings::read(path, body, file_kinds::PAGE, findings, |settings| {
        let values =
            |texts: Vec<Placed<String>>| texts.into_iter().map(|text| text.value).collect();
        PageSettings {
            order: settings.whole("order"),
            time: settings.text("time").map(|text| text.value),
            people: values(settings.texts("people")),
            tools: values(settings.texts("tools")),
            review: settings.date("review"),
            owner: settings.text("owner").map(|one| one.value),
            approver: settings.text("approver").map(|one| one.value),
            given: settings.quantities("given"),
            job: settings.text("job"),
            kit: settings.text("kit"),
            also: settings.sayings("also"),
            aside: settings.truth("aside"),
            urgent: settings.truth("urgent"),
            answered: answered(settings),
            block: None,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::shapes;
    use crate::markdown::tree::of_page;

    fn read(text: &str, findings: &mut Vec<Finding>) -> Outline {
        outline("a.md", text, &of_page(text), &shapes(), findings)
    }

    #[test]
    fn the_head_of_a_page_is_its_settings_its_title_and_its_headings() {
        let text = "```page\norder = 3\npeople = [\"lead\"]\n```\n\n# Fit it\n\n## Set *the* pitch\n\n## Set the pitch\n\n1. a\n   1. b\n2. c\n";
        let mut findings = Vec::new();
        let outline = read(text, &mut findings);
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
            read(text, &mut findings);
            findings
                .into_iter()
                .map(|finding| finding.code.name())
                .collect::<Vec<_>>()
        };
        assert_eq!(codes(" \n"), ["empty-page"]);
        assert_eq!(codes("Text.\n"), ["no-title"]);
        assert_eq!(codes("# A\n\n# B\n"), ["two-titles"]);
        let deep = format!("# A\n\n{}b\n", "> ".repeat(2000));
        assert_eq!(codes(&deep), ["deep-nesting"]);
    }

    #[test]
    fn a_wrong_setting_is_found_where_it_stands_even_with_crlf() {
        let mut findings = Vec::new();
        read(
            "```page\r\norder = 1\r\ntime = 4\r\n```\r\n\r\n# A\r\n",
            &mut findings,
        );
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("wrong-kind", 27..28)
        );
    }
}
