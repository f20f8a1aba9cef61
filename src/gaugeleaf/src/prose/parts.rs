//! A page as the rules read it: its headings, paragraphs, steps, hazards and blocks
//! in order, each with its words.

use std::ops::Range;

use gaugeleaf_calc::finding::Excerpt;
use gaugeleaf_calc::finding::settings::every_text;
use pulldown_cmark::{Event, HeadingLevel, Tag};

use crate::handbook::kind::{self, BlockShapes};
use crate::markdown::parse::trimmed;
use crate::markdown::place::{SCHEME, STEP_SCHEME, way_back};
use crate::markdown::signal;
use crate::markdown::tree::{self, MarkdownNode, What};
use crate::prose::passage::{BREAK, CODE, Passage, VALUE};

/// What a part of a page is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PartKind {
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
    pub kind: PartKind,
    /// Where it stands, without a line end.
    pub range: Range<usize>,
    pub passage: Passage,
    /// Inside a hazard, a quote or a footnote.
    pub in_note: bool,
}

/// The page's parts in order.
pub fn parts(text: &str, nodes: &[MarkdownNode], shapes: &BlockShapes) -> Vec<Part> {
    let mut reader = PartReader {
        text,
        shapes,
        parts: Vec::new(),
        open: Vec::new(),
    };
    for node in nodes {
        let steps = matches!(node.tag(), Some(Tag::List(Some(_))));
        reader.node(node, steps);
    }
    reader.parts
}

struct PartReader<'r> {
    text: &'r str,
    shapes: &'r BlockShapes<'r>,
    parts: Vec<Part>,
    /// The parts that are open, by index.
    open: Vec<usize>,
}

impl PartReader<'_> {
    fn add(&mut self, kind: PartKind, range: Range<usize>) -> usize {
        let in_note = self.open.iter().any(|index| {
            matches!(
                self.parts[*index].kind,
                PartKind::Hazard(_) | PartKind::Quote | PartKind::Note
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

    /// Reads a part of its own, and what stands in it.
    fn within(&mut self, kind: PartKind, node: &MarkdownNode) {
        let index = self.add(kind, node.range.clone());
        // about what is written there is said
        self.parts[index].passage.text.reserve(node.range.len());
        self.open.push(index);
        self.inside(node.inside());
        self.open.pop();
    }

    fn inside(&mut self, nodes: &[MarkdownNode]) {
        for node in nodes {
            self.node(node, false);
        }
    }

    /// A quote, or a hazard without its signal word.
    fn quote(&mut self, node: &MarkdownNode) {
        let Some(word) = signal::of_quote(node) else {
            return self.within(PartKind::Quote, node);
        };
        let index = self.add(PartKind::Hazard(word), node.range.clone());
        self.open.push(index);
        let mut parts = node.inside().iter();
        // the paragraph that the word opens
        if let Some(first) = parts.next() {
            self.inside(first.inside().get(1..).unwrap_or_default());
        }
        parts.for_each(|part| self.node(part, false));
        self.open.pop();
    }

    fn block(&mut self, info: &str, node: &MarkdownNode) {
        self.add(PartKind::Block(info.to_string()), node.range.clone());
        if kind::of(info, self.shapes).is_some_and(|(kind, _)| kind.holds_prose()) {
            self.ticks(&node.body());
        }
    }

    /// The texts of a tick list, each read as a line of Markdown.
    fn ticks(&mut self, body: &Excerpt) {
        for text in every_text(body) {
            let place = way_back(&text, self.text);
            let lines = parts(&text.value, &tree::of_line(&text.value).nodes, &[]).into_iter();
            let lines: Vec<Part> = lines
                .filter(|line| line.kind == PartKind::Paragraph)
                .map(|line| Part {
                    kind: PartKind::Tick,
                    range: place(line.range),
                    passage: line.passage.placed(&place),
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

    fn say(&mut self, words: &str, range: Range<usize>) {
        if let Some(part) = self.top() {
            part.passage.push(words, range);
        }
    }

    /// Reads one part of the page; `steps` where it is a list of steps.
    fn node(&mut self, node: &MarkdownNode, steps: bool) {
        let range = node.range.clone();
        let (tag, inside) = match &node.what {
            What::Text(text) => return self.say(text, range),
            What::Leaf(leaf) => match &**leaf {
                Event::Code(_) => return self.mark(CODE, range),
                Event::SoftBreak | Event::HardBreak => return self.say(" ", range),
                _ => return,
            },
            What::Tag(tag, inside) => (&**tag, inside),
        };
        match tag {
            Tag::Link { dest_url, .. } if dest_url.starts_with(SCHEME) => self.mark(VALUE, range),
            // its number is the page's to print
            Tag::Link { dest_url, .. }
                if dest_url.starts_with(STEP_SCHEME) && inside.is_empty() =>
            {
                self.mark(VALUE, range);
            }
            Tag::Image { .. } => {}
            Tag::CodeBlock(_) => self.block(node.fence().unwrap_or(""), node),
            Tag::Heading { level, .. } => self.within(PartKind::Heading(*level), node),
            Tag::Paragraph => {
                match self.top() {
                    Some(around) if around.passage.is_empty() => {}
                    Some(around) => around.passage.push_mark(BREAK, range.start..range.start),
                    None => return self.within(PartKind::Paragraph, node),
                }
                self.inside(inside);
            }
            Tag::List(start) => {
                for item in inside {
                    let ordered = start.is_some();
                    self.within(
                        if steps {
                            PartKind::Step
                        } else {
                            PartKind::Item { ordered }
                        },
                        item,
                    );
                }
            }
            Tag::BlockQuote(_) => self.quote(node),
            Tag::FootnoteDefinition(_) => self.within(PartKind::Note, node),
            Tag::TableCell => self.within(PartKind::Cell, node),
            _ => self.inside(inside),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::shapes;
    use crate::markdown::tree::of_page;

    fn read(text: &str) -> Vec<(PartKind, String)> {
        parts(text, &of_page(text).nodes, &shapes())
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
                (PartKind::Heading(HeadingLevel::H2), said("Do")),
                (PartKind::Hazard("WARNING"), said(": Hot. Wait.")),
                (PartKind::Step, said("Cut to \u{E000}.\u{2029}More.")),
                (PartKind::Item { ordered: false }, said("\u{E001}")),
                (PartKind::Cell, said("a")),
                (PartKind::Cell, said("c")),
                (PartKind::Block(said("chart x")), said("")),
            ]
        );
    }

    #[test]
    fn the_texts_of_a_tick_list_are_read_where_they_stand() {
        let text = "- x\n\n  ```checks\n  items = [\n    { do = \"Set [a](value:b)\", want = \"12 mm\" }, # \"no\"\n  ]\n  ```\n";
        let ticks: Vec<Part> = parts(text, &of_page(text).nodes, &shapes())
            .into_iter()
            .filter(|part| part.kind == PartKind::Tick)
            .collect();
        assert_eq!(ticks[0].passage.text, "Set \u{E000}");
        assert_eq!(&text[ticks[1].passage.locate(0..5)], "12 mm");
        assert_eq!(ticks.len(), 2);
    }

    #[test]
    fn a_text_is_read_whatever_its_quotes() {
        let text = "```checks\ntitle = 'Air'\nitems = [ { do = \"\"\"At\n5 mm\"\"\", want = \"a\\u0031\" } ]\n```\n";
        let nodes = of_page(text).nodes;
        let ticks = parts(text, &nodes, &shapes()).into_iter();
        let ticks = ticks.filter(|part| part.kind == PartKind::Tick);
        let said: Vec<String> = ticks.map(|part| part.passage.text).collect();
        assert_eq!(said, ["Air", "At 5 mm", "a1"]);
    }

    #[test]
    fn a_list_inside_a_hazard_or_a_footnote_is_known_to_be_there() {
        let text = "> **CAUTION** Hot.\n>\n> 1. Wait.\n\na[^1]\n\n[^1]: 1. b\n";
        let found = parts(text, &of_page(text).nodes, &shapes());
        let inside: Vec<bool> = found
            .iter()
            .filter(|part| part.kind == PartKind::Item { ordered: true })
            .map(|part| part.in_note)
            .collect();
        assert_eq!(inside, [true, true]);
    }
}
