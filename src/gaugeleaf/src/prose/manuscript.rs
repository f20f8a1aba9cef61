//! A page as the rules read it: its headings, paragraphs, steps, hazards and blocks
//! in order, each with its words.

use std::ops::Range;

use pulldown_cmark::{CodeBlockKind, Event, HeadingLevel, Tag, TagEnd};

use crate::handbook::kind::{self, Shapes};
use crate::markdown::excerpt::Excerpt;
use crate::markdown::nesting::Nesting;
use crate::markdown::parse::{parser, trimmed};
use crate::markdown::signal::WORDS;
use crate::prose::passage::{BREAK, CODE, Passage, VALUE};

/// What a part of a page is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kind {
    Heading(HeadingLevel),
    Paragraph,
    /// An item of an ordered list that stands by itself.
    Step,
    Item {
        ordered: bool,
    },
    Cell,
    /// A hazard statement; the signal word isn't among its words.
    Hazard(&'static str),
    Quote,
    Note,
    /// A fenced block, by the words after its fence.
    Block(String),
    /// A text of a tick list.
    Tick,
}

/// A part of a page.
#[derive(Debug, Clone)]
pub struct Part {
    pub kind: Kind,
    /// Where it stands, without a line end.
    pub range: Range<usize>,
    pub passage: Passage,
    /// Inside a hazard, a quote or a footnote.
    pub in_note: bool,
}

/// The page's parts in order.
pub fn parts(text: &str, shapes: &Shapes) -> Vec<Part> {
    let mut scribe = Scribe {
        text,
        ..Scribe::default()
    };
    let mut events = parser(text).into_offset_iter();
    while let Some((event, range)) = events.next() {
        let skipped = match &event {
            Event::Start(Tag::Link { dest_url, .. }) if dest_url.starts_with("value:") => {
                scribe.mark(VALUE, range.clone());
                Some(TagEnd::Link)
            }
            Event::Start(Tag::Image { .. }) => Some(TagEnd::Image),
            Event::Start(Tag::CodeBlock(kind)) => {
                let info = match kind {
                    CodeBlockKind::Fenced(info) => info.trim().to_string(),
                    CodeBlockKind::Indented => String::new(),
                };
                let ticks = kind::of(&info, shapes).is_some_and(|(kind, _)| kind.holds_prose());
                scribe.add(Kind::Block(info), range.clone());
                if ticks {
                    let mut body = Excerpt::at(range.start);
                    for (event, range) in events.by_ref() {
                        match event {
                            Event::Text(text) => body.push(&text, range.start),
                            _ => break,
                        }
                    }
                    scribe.ticks(&body);
                    continue;
                }
                Some(TagEnd::CodeBlock)
            }
            _ => None,
        };
        match skipped {
            Some(end) => {
                let mut inner = events.by_ref().map(|(event, _)| event);
                while inner.next().is_some_and(|event| event != Event::End(end)) {}
            }
            None => scribe.take(&event, range),
        }
    }
    scribe.parts
}

#[derive(Default)]
struct Scribe<'t> {
    text: &'t str,
    parts: Vec<Part>,
    /// The parts that are open, by index.
    open: Vec<usize>,
    lists: Vec<bool>,
    nesting: Nesting,
}

impl Scribe<'_> {
    fn add(&mut self, kind: Kind, range: Range<usize>) -> usize {
        let in_note = self.open.iter().any(|index| {
            matches!(
                self.parts[*index].kind,
                Kind::Hazard(_) | Kind::Quote | Kind::Note
            )
        });
        self.parts.push(Part {
            kind,
            range: trimmed(self.text, range),
            passage: Passage::default(),
            in_note,
        });
        self.parts.len() - 1
    }

    fn begin(&mut self, kind: Kind, range: Range<usize>) {
        let index = self.add(kind, range);
        self.open.push(index);
    }

    /// The texts of a tick list, each read as a line of Markdown.
    fn ticks(&mut self, body: &Excerpt) {
        for text in quoted(body.text()) {
            let place =
                |range: Range<usize>| body.locate(text.start + range.start..text.start + range.end);
            let lines = parts(&body.text()[text.clone()], &[]).into_iter();
            let lines: Vec<Part> = lines
                .filter(|line| line.kind == Kind::Paragraph)
                .map(|line| Part {
                    kind: Kind::Tick,
                    range: place(line.range),
                    passage: line.passage.placed(place),
                    in_note: false,
                })
                .collect();
            self.parts.extend(lines);
        }
    }

    fn top(&mut self) -> Option<&mut Part> {
        let index = *self.open.last()?;
        self.parts.get_mut(index)
    }

    fn mark(&mut self, mark: char, range: Range<usize>) {
        if let Some(part) = self.top() {
            part.passage.push_mark(mark, range);
        }
    }

    fn take(&mut self, event: &Event, range: Range<usize>) {
        let opens_step = self.nesting.opens_step(event);
        match event {
            Event::Start(Tag::Heading { level, .. }) => self.begin(Kind::Heading(*level), range),
            Event::Start(Tag::Paragraph) => match self.top() {
                Some(around) if around.passage.is_empty() => {}
                Some(around) => around.passage.push_mark(BREAK, range.start..range.start),
                None => self.begin(Kind::Paragraph, range),
            },
            Event::End(TagEnd::Paragraph)
                if self.top().is_some_and(|top| top.kind == Kind::Paragraph) =>
            {
                self.open.pop();
            }
            Event::Start(Tag::List(start)) => self.lists.push(start.is_some()),
            Event::End(TagEnd::List(_)) => drop(self.lists.pop()),
            Event::Start(Tag::Item) => {
                let ordered = self.lists.last() == Some(&true);
                let kind = if opens_step {
                    Kind::Step
                } else {
                    Kind::Item { ordered }
                };
                self.begin(kind, range);
            }
            Event::Start(Tag::BlockQuote(_)) => self.begin(Kind::Quote, range),
            Event::Start(Tag::FootnoteDefinition(_)) => self.begin(Kind::Note, range),
            Event::Start(Tag::TableCell) => self.begin(Kind::Cell, range),
            Event::End(
                TagEnd::Heading(_)
                | TagEnd::Item
                | TagEnd::BlockQuote(_)
                | TagEnd::FootnoteDefinition
                | TagEnd::TableCell,
            ) => drop(self.open.pop()),
            Event::End(TagEnd::Strong) => self.signal(),
            Event::Text(text) => {
                if let Some(part) = self.top() {
                    part.passage.push(text, range);
                }
            }
            Event::Code(_) => self.mark(CODE, range),
            Event::SoftBreak | Event::HardBreak => {
                if let Some(part) = self.top() {
                    part.passage.push(" ", range);
                }
            }
            _ => {}
        }
    }

    /// A quote whose first bold word is a signal word is a hazard.
    fn signal(&mut self) {
        let Some(part) = self.top() else { return };
        let bare = part
            .passage
            .text
            .trim_matches(|c: char| !c.is_alphanumeric());
        if part.kind == Kind::Quote
            && let Some(word) = WORDS.iter().find(|word| **word == bare)
        {
            part.kind = Kind::Hazard(word);
            part.passage.clear();
        }
    }
}

/// What stands between double quotes in settings, line by line, without comments.
fn quoted(settings: &str) -> Vec<Range<usize>> {
    let mut texts = Vec::new();
    let mut at = 0;
    for line in settings.split_inclusive('\n') {
        let mut open = None;
        let mut escaped = false;
        for (index, character) in line.char_indices() {
            match (character, open) {
                ('#', None) => break,
                ('"', None) => open = Some(index + 1),
                ('"', Some(start)) if !escaped => {
                    texts.push(at + start..at + index);
                    open = None;
                }
                _ => {}
            }
            escaped = character == '\\' && !escaped;
        }
        at += line.len();
    }
    texts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::shapes;

    fn read(text: &str) -> Vec<(Kind, String)> {
        parts(text, &shapes())
            .into_iter()
            .map(|part| (part.kind, part.passage.text))
            .collect()
    }

    #[test]
    fn steps_hazards_cells_and_blocks_come_in_order_with_their_words() {
        let said = |text: &str| text.to_string();
        assert_eq!(
            read(
                "## Do\n\n> **WARNING**: Hot.\n> Wait.\n\n1. Cut to [x](value:a).\n   - `b`\n\n   More.\n\n| a |\n|---|\n| c |\n\n```chart x\ny\n```\n"
            ),
            [
                (Kind::Heading(HeadingLevel::H2), said("Do")),
                (Kind::Hazard("WARNING"), said(": Hot. Wait.")),
                (Kind::Step, said("Cut to \u{E000}.\u{2029}More.")),
                (Kind::Item { ordered: false }, said("\u{E001}")),
                (Kind::Cell, said("a")),
                (Kind::Cell, said("c")),
                (Kind::Block(said("chart x")), said("")),
            ]
        );
    }

    #[test]
    fn the_texts_of_a_tick_list_are_read_where_they_stand() {
        let text = "- x\n\n  ```checks\n  items = [\n    { do = \"Set [a](value:b)\", want = \"12 mm\" }, # \"no\"\n  ]\n  ```\n";
        let ticks: Vec<Part> = parts(text, &shapes())
            .into_iter()
            .filter(|part| part.kind == Kind::Tick)
            .collect();
        assert_eq!(ticks[0].passage.text, "Set \u{E000}");
        assert_eq!(&text[ticks[1].passage.locate(0..5)], "12 mm");
        assert_eq!(ticks.len(), 2);
    }

    #[test]
    fn a_list_inside_a_hazard_or_a_footnote_is_known_to_be_there() {
        let found = parts(
            "> **CAUTION** Hot.\n>\n> 1. Wait.\n\na[^1]\n\n[^1]: 1. b\n",
            &shapes(),
        );
        let inside: Vec<bool> = found
            .iter()
            .filter(|part| part.kind == Kind::Item { ordered: true })
            .map(|part| part.in_note)
            .collect();
        assert_eq!(inside, [true, true]);
    }
}
