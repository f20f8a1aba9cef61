//! A text as a tree: what each part of it is, what it holds, and where it stands.
//!
//! A page is parsed here once; its outline, the writing rules and its composition read the tree.

use std::ops::Range;
use std::sync::atomic::{AtomicUsize, Ordering};

use gaugeleaf_calc::finding::Excerpt;
use pulldown_cmark::{
    CodeBlockKind, CowStr, Event, Options, Parser, Tag, TagEnd, TextMergeWithOffset,
};

use crate::markdown::compact::Compact;

/// Lists and quotes that stand in each other further than this are read as if they stood there:
/// nobody follows a text that deep, and whoever reads a tree may go down it step by step.
pub const DEEPEST: usize = 48;

/// A part of a text, and the place in its file that it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkdownNode {
    pub what: What,
    pub range: Range<usize>,
}

/// What a part is.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// Something that holds other parts.
    Tag(Compact<Tag<'static>>, Vec<MarkdownNode>),
    Text(CowStr<'static>),
    /// Something else that holds no parts: code, a line's end, a rule.
    Leaf(Compact<Event<'static>>),
}

/// A whole text.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tree {
    pub nodes: Vec<MarkdownNode>,
    /// Where something stands deeper than anybody follows.
    pub too_deep: Option<Range<usize>>,
}

static PAGES: AtomicUsize = AtomicUsize::new(0);

/// How many pages this process has parsed.
pub fn pages_parsed() -> usize {
    PAGES.load(Ordering::Relaxed)
}

/// A page's tree.
pub fn of_page(text: &str) -> Tree {
    PAGES.fetch_add(1, Ordering::Relaxed);
    grown(parser(text).into_offset_iter())
}

/// The tree of a text that is a value among settings.
pub fn of_line(text: &str) -> Tree {
    if is_plain(text) {
        let range = 0..text.len();
        let words = What::Text(text.to_string().into());
        let node = |what, range| MarkdownNode { what, range };
        let inside = vec![node(words, range.clone())];
        return Tree {
            nodes: vec![node(What::Tag(Tag::Paragraph.into(), inside), range)],
            too_deep: None,
        };
    }
    grown(TextMergeWithOffset::new(parser(text).into_offset_iter()))
}

/// Whether a text is one paragraph of words, with nothing in it that Markdown may read otherwise.
/// Most settings are, and a parser costs more than they do.
fn is_plain(text: &str) -> bool {
    let read = |byte: u8| {
        let mark = matches!(
            byte,
            b'\\' | b'`' | b'*' | b'_' | b'[' | b']' | b'<' | b'>' | b'&' | b'|' | b'~'
        );
        byte < b' ' || mark
    };
    text.starts_with(|first: char| first.is_ascii_alphabetic())
        && text.ends_with(|last: char| last.is_ascii_alphanumeric() || ".,!?)".contains(last))
        && !text.bytes().any(read)
}

/// The Markdown we read: CommonMark, tables and footnotes.
fn parser(text: &str) -> Parser<'_> {
    Parser::new_ext(text, Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES)
}

/// The tree of a parser's events.
fn grown<'a>(events: impl Iterator<Item = (Event<'a>, Range<usize>)>) -> Tree {
    let mut too_deep = None;
    // what stands in the tags that are open, all in one row: each closed one takes what is behind
    // its start, in no more room than that needs, since all pages' trees are held until the last is
    // composed
    let mut nodes: Vec<MarkdownNode> = Vec::new();
    let mut open: Vec<(Tag<'static>, Range<usize>, usize)> = Vec::new();
    // tags that were left out because they stand too deep
    let mut left_out = 0;
    for (event, range) in events {
        let node = match event {
            Event::Start(tag) if open.len() < DEEPEST => {
                open.push((tag.into_static(), range, nodes.len()));
                continue;
            }
            Event::Start(_) => {
                left_out += 1;
                too_deep.get_or_insert(range);
                continue;
            }
            Event::End(_) if left_out > 0 => {
                left_out -= 1;
                continue;
            }
            Event::End(_) => match open.pop() {
                Some((tag, range, start)) => MarkdownNode {
                    what: What::Tag(tag.into(), nodes.drain(start..).collect()),
                    range,
                },
                None => continue,
            },
            Event::Text(text) => MarkdownNode {
                what: What::Text(text.into_static()),
                range,
            },
            event => MarkdownNode {
                what: What::Leaf(event.into_static().into()),
                range,
            },
        };
        nodes.push(node);
    }
    // a tag that nothing closes is left out with what stands in it: a parser closes all
    nodes.truncate(open.first().map_or(nodes.len(), |(_, _, start)| *start));
    nodes.shrink_to_fit();
    Tree { nodes, too_deep }
}

impl MarkdownNode {
    /// What it is, if it holds other parts.
    pub fn tag(&self) -> Option<&Tag<'static>> {
        match &self.what {
            What::Tag(tag, _) => Some(tag),
            What::Text(_) | What::Leaf(_) => None,
        }
    }

    /// What stands in it.
    pub fn inside(&self) -> &[MarkdownNode] {
        match &self.what {
            What::Tag(_, inside) => inside,
            What::Text(_) | What::Leaf(_) => &[],
        }
    }

    /// A fenced block's opening line, without the fence.
    pub fn fence(&self) -> Option<&str> {
        match self.tag()? {
            Tag::CodeBlock(CodeBlockKind::Fenced(info)) => Some(info.trim()),
            _ => None,
        }
    }

    /// What a fenced block calls itself: the first word of its opening line.
    pub fn fence_kind(&self) -> Option<&str> {
        self.fence()?.split_whitespace().next()
    }

    /// A block's body, with the way back to the file.
    pub fn body(&self) -> Excerpt {
        let mut body = Excerpt::at(self.range.start);
        for node in self.inside() {
            if let What::Text(text) = &node.what {
                body.push(text, node.range.start);
            }
        }
        body
    }

    /// Whether it is closed by such an end.
    pub fn ends(&self, end: TagEnd) -> bool {
        self.tag().is_some_and(|tag| tag.to_end() == end)
    }
}

/// Shows every part of a text in order, whatever it stands in.
pub fn each<'t>(nodes: &'t [MarkdownNode], see: &mut impl FnMut(&'t MarkdownNode)) {
    for node in nodes {
        see(node);
        each(node.inside(), see);
    }
}

/// The words of a text, without marks.
pub fn words(nodes: &[MarkdownNode]) -> String {
    let mut words = String::new();
    each(nodes, &mut |node| match &node.what {
        What::Text(text) => words.push_str(text),
        What::Leaf(leaf) => match &**leaf {
            Event::Code(text) => words.push_str(text),
            Event::SoftBreak | Event::HardBreak => words.push(' '),
            _ => {}
        },
        What::Tag(..) => {}
    });
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_hold_what_stands_in_them_and_know_their_place() {
        let text = "- a *b*\n\n  ```x y\n  c\n  ```\n";
        let tree = of_page(text);
        assert_eq!(words(&tree.nodes), "a bc\n");
        let mut fences = Vec::new();
        each(&tree.nodes, &mut |node| {
            if let Some(info) = node.fence() {
                fences.push((info.to_string(), node.body().locate(0..1)));
            }
        });
        assert_eq!(fences, [("x y".to_string(), 20..21)]);
        assert_eq!(tree.too_deep, None);
    }

    #[test]
    fn a_plain_line_is_what_the_parser_makes_of_it() {
        let plain =
            "A1 (b) - c's: 50 %, #3 + 1. \"d\" = ä {e} ![f! g / @h; $i ^j? https://k.l m@n.o";
        for text in plain.split('[').flat_map(str::split_whitespace).chain([
            "The rail, on 3. the far end.",
            "Go on: 1. then - 2) stop!",
            "a  b",
            "A # b ## c = d --- e",
            "É a",
            "see http://a.b/c",
        ]) {
            let parsed = grown(TextMergeWithOffset::new(parser(text).into_offset_iter()));
            assert_eq!(of_line(text), parsed, "{text}");
        }
        for text in [
            "", " a", "a ", "# a", "1. a", "- a", "a\\", "a *b*", "a\nb", "a&amp;b",
        ] {
            assert!(!is_plain(text), "{text}");
        }
    }

    #[test]
    fn what_stands_too_deep_is_told_and_keeps_its_words() {
        let text = format!("{}deep\n", "> ".repeat(200_000));
        let tree = of_page(&text);
        assert_eq!(words(&tree.nodes), "deep");
        let at = tree.too_deep.map(|range| range.start);
        assert_eq!(at, Some(2 * DEEPEST));
    }
}
