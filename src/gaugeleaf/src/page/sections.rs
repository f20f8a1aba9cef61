//! A page cut into what can be found: its opening, its headings, its steps.

use pulldown_cmark::{Event, Tag};

use crate::page::node::{Node, words};

/// What a section is.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum SectionKind {
    #[default]
    Opening,
    Heading,
    Step,
    /// A row of a page of faults.
    Row,
    /// A term of the trade.
    Term,
}

/// One thing on a page that a search can lead to, in plain words.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Section {
    pub kind: SectionKind,
    /// Its address on the page; empty for the opening.
    pub id: String,
    /// A heading's words, or the heading that a step stands under.
    pub title: String,
    pub text: String,
    /// What people say for it.
    pub also: Vec<String>,
}

/// Cuts a page; what its blocks leave to be found comes last.
pub fn sections(nodes: &[Node], title: &str) -> Vec<Section> {
    let mut cutter = Cutter {
        done: vec![Section {
            title: title.to_string(),
            ..Section::default()
        }],
        around: 0,
        open: 0,
        found: Vec::new(),
    };
    cutter.read(nodes);
    let Cutter {
        mut done, found, ..
    } = cutter;
    for section in &mut done {
        // it is held until the search's index is made, in no more room than it needs
        section.text = single_spaced(&section.text);
    }
    done.extend(found);
    done.shrink_to_fit();
    done
}

/// A text with one space between its words, and none around them.
fn single_spaced(text: &str) -> String {
    let blank = |byte: u8| matches!(byte, b' ' | b'\n' | b'\r' | b'\t');
    let text = text.trim_matches([' ', '\n', '\r', '\t']);
    // most are so already
    let pairs = text.as_bytes().windows(2);
    let mut pairs = pairs.map(|pair| blank(pair[0]) && (pair[0] != b' ' || blank(pair[1])));
    if !pairs.any(|found| found) {
        return text.to_string();
    }
    let mut out = String::with_capacity(text.len());
    let mut start = 0;
    // these bytes are part of no other letter
    let blanks = text.bytes().enumerate();
    let blanks = blanks.filter(|(_, byte)| blank(*byte));
    for end in blanks.map(|(at, _)| at).chain([text.len()]) {
        if start < end {
            let space = if out.is_empty() { "" } else { " " };
            out.push_str(space);
            out.push_str(&text[start..end]);
        }
        start = end + 1;
    }
    out.shrink_to_fit();
    out
}

struct Cutter {
    done: Vec<Section>,
    /// The section of the last heading.
    around: usize,
    /// The one that words fall to: a step's continuation must not fall to the heading.
    open: usize,
    found: Vec<Section>,
}

impl Cutter {
    fn begin(&mut self, kind: SectionKind, id: &str, title: String) {
        self.done.push(Section {
            kind,
            id: id.to_string(),
            title,
            ..Section::default()
        });
        self.open = self.done.len() - 1;
    }

    fn say(&mut self, text: &str) {
        self.done[self.open].text.push_str(text);
    }

    fn read(&mut self, nodes: &[Node]) {
        for node in nodes {
            self.node(node);
        }
    }

    /// The cells of a row: a mark stands between, so that no two are read as one.
    fn cells(&mut self, cells: &[Node], between: &str) {
        for (at, cell) in cells.iter().enumerate() {
            if at > 0 {
                self.mark(&format!(" {between} "));
            }
            self.read(std::slice::from_ref(cell));
        }
    }

    /// A mark right behind what is said.
    fn mark(&mut self, mark: &str) {
        let said = &mut self.done[self.open].text;
        said.truncate(said.trim_end().len());
        said.push_str(mark);
    }

    fn node(&mut self, node: &Node) {
        match node {
            Node::Text(text) | Node::Term(_, text) | Node::Drawn { text, .. } => self.say(text),
            Node::Shown(value) => {
                // an excerpt stands alone, far from the page that says whose its values are
                if !value.of.is_empty() {
                    self.say(&format!("{}: ", value.of));
                }
                self.say(&value.text);
            }
            Node::Leaf(Event::Code(code)) => self.say(code),
            Node::Leaf(Event::SoftBreak | Event::HardBreak) => self.say(" "),
            Node::Listing { text, .. } => {
                self.say(text);
                self.say(" ");
            }
            Node::Heading { id, inside, .. } => {
                self.begin(SectionKind::Heading, id, words(inside).trim().to_string());
                self.around = self.open;
            }
            Node::Steps(steps) => {
                for step in steps {
                    let title = self.done[self.around].title.clone();
                    self.begin(SectionKind::Step, &step.id, title);
                    self.read(&step.inside);
                    self.open = self.around;
                }
            }
            Node::Row { id, cells } => {
                let (first, rest) = cells.split_at(cells.len().min(1));
                self.begin(SectionKind::Row, id, words(first).trim().to_string());
                self.cells(rest, "→");
                self.open = self.around;
            }
            Node::Tag(Tag::TableHead | Tag::TableRow, cells) => {
                self.cells(cells, "·");
                self.mark("; ");
            }
            Node::Hazard(hazard) => {
                self.say(hazard.word);
                self.say(&hazard.lead);
                self.read(&hazard.inside);
            }
            Node::Tag(Tag::Paragraph | Tag::Item | Tag::TableCell, inside) => {
                self.read(inside);
                self.say(" ");
            }
            Node::Block(block) => {
                self.found.extend(block.found.iter().cloned());
                self.done[self.around]
                    .also
                    .extend(block.also.iter().cloned());
                for line in block.lines.iter().filter(|_| block.prose) {
                    self.read(line);
                    self.say(" ");
                }
            }
            node => node.parts().for_each(|part| self.read(part)),
        }
    }
}

/// The opening words of a page, short enough for a list.
pub fn description(nodes: &[Node]) -> String {
    const LONGEST: usize = 160;
    let text = opening(nodes).unwrap_or_default();
    let text = text.trim();
    if text.chars().count() <= LONGEST {
        return text.to_string();
    }
    let cut: String = text.chars().take(LONGEST).collect();
    match cut.rfind(". ") {
        Some(at) => cut[..=at].to_string(),
        None => format!(
            "{}…",
            cut.rsplit_once(' ')
                .map_or(cut.as_str(), |(start, _)| start)
        ),
    }
}

/// The words of the first paragraph that has any.
fn opening(nodes: &[Node]) -> Option<String> {
    nodes.iter().find_map(|node| match node {
        Node::Tag(Tag::Paragraph, inside) => {
            Some(words(inside)).filter(|words| !words.trim().is_empty())
        }
        node => node.parts().find_map(opening),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::testing::Sample;

    fn cut(text: &str) -> Vec<(SectionKind, String, String, String)> {
        let sections = Sample::new(text).composed().value.sections;
        let one = |s: Section| (s.kind, s.id, s.title, s.text);
        sections.into_iter().map(one).collect()
    }

    #[test]
    fn a_page_is_cut_at_its_headings_and_steps() {
        let own = |kind, id: &str, title: &str, text: &str| {
            (kind, id.to_string(), title.to_string(), text.to_string())
        };
        assert_eq!(
            cut("# T\n\nIntro.\n\n## Do *it*\n\nFirst.\n\n1. Turn\n   it.\n2. Stop.\n\nAfter.\n"),
            [
                own(SectionKind::Opening, "", "T", "Intro."),
                own(SectionKind::Heading, "do-it", "Do it", "First. After."),
                own(SectionKind::Step, "step-1", "Do it", "Turn it."),
                own(SectionKind::Step, "step-2", "Do it", "Stop."),
            ]
        );
    }

    #[test]
    fn cells_of_a_table_are_parted() {
        let table = "| a | b | c |\n|---|---|---|\n| Valve sticks | Dirt | Change it |\n| Leak | | Tell |\n";
        let said = |sections: Vec<(SectionKind, String, String, String)>| {
            let texts = sections.into_iter().map(|one| one.3);
            texts.collect::<Vec<_>>()
        };
        assert_eq!(
            said(cut(&format!("# T\n\n{table}"))),
            ["a · b · c; Valve sticks · Dirt · Change it; Leak · · Tell;"]
        );
        let walk = "```walk\nproof = \"Again.\"\nlost = \"Stop.\"\n```\n";
        let faults = said(cut(&format!(
            "# T\n\n{walk}\n1. Let go.\n\n## Air\n\n{table}"
        )));
        assert!(
            faults.contains(&"Dirt → Change it".to_string()),
            "{faults:?}"
        );
    }

    #[test]
    fn an_excerpt_says_whose_its_values_are() {
        let sections = cut("# T\n\nThe bundle is [](value:bundle_diameter) wide.\n");
        let said = sections[0].3.replace('\u{a0}', " ");
        assert_eq!(said, "The bundle is T1: 22 1/4 in wide.");
    }

    #[test]
    fn a_long_opening_is_cut_at_a_sentence() {
        let text = format!("Short one. {}\n", "word ".repeat(60));
        assert_eq!(
            Sample::new(&text).composed().value.description,
            "Short one."
        );
    }
}
