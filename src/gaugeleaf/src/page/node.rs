//! A page composed: a tree of what it shows. Addresses and templates are an edition's to fill in.

use pulldown_cmark::{Event, HeadingLevel, Tag};
use serde::Serialize;
use serde_json::Value;

use crate::page::route::Route;
use crate::page::sections::Section;
use crate::page::sign_off::SignOff;
use crate::page::training::Training;
use crate::values::scope::JobScope;

/// A part of a page.
#[derive(Debug, Clone)]
pub enum Node {
    Text(String),
    /// Code, a line's end or a rule.
    Leaf(Event<'static>),
    /// What Markdown has and we show as it is.
    Tag(Tag<'static>, Vec<Node>),
    Heading {
        level: HeadingLevel,
        id: String,
        inside: Vec<Node>,
    },
    /// A list of steps of the work.
    Steps(Vec<Step>),
    /// A table's row that has an address.
    Row {
        id: String,
        cells: Vec<Node>,
    },
    Link {
        to: Route,
        title: String,
        inside: Vec<Node>,
    },
    /// A term of the trade, which leads to what it means.
    Term(Route, String),
    Figure(Picture, String),
    Picture(Picture),
    Shown(ShownValue),
    /// An input of a question, which the page fills in.
    Drawn {
        name: String,
        text: String,
    },
    /// A listing's text, and the same with its words coloured.
    Listing {
        text: String,
        html: String,
    },
    /// Where a footnote is referred to.
    NoteMark {
        number: usize,
        first: bool,
    },
    /// A footnote where it was written; none is left on a finished page.
    Note(Note),
    /// The footnotes, by their numbers.
    Notes(Vec<Vec<Node>>),
    Hazard(HazardStatement),
    Block(Box<Block>),
}

/// A step of the work.
#[derive(Debug, Clone)]
pub struct Step {
    /// Counted through the page, from 1.
    pub number: usize,
    pub id: String,
    /// For its tick: made from its words, so that an edited page doesn't tick another step.
    pub key: String,
    pub inside: Vec<Node>,
}

/// A hazard statement.
#[derive(Debug, Clone)]
pub struct HazardStatement {
    /// Its address, once the whole page is known.
    pub id: String,
    pub word: &'static str,
    /// What parts the word from the statement, as written.
    pub lead: String,
    pub inside: Vec<Node>,
}

#[derive(Debug, Clone)]
pub struct Picture {
    pub file: Route,
    pub alt: String,
    pub size: (u32, u32),
    /// Tells whether it still shows the same.
    pub mark: String,
}

/// A value that the engine printed.
#[derive(Debug, Clone)]
pub struct ShownValue {
    pub name: String,
    pub text: String,
    /// Where a reader can see how it came about.
    pub to: Option<Route>,
    /// The inputs that the page fixes, as JSON; none where it is the same on every job.
    pub fixed: Option<String>,
    /// It is printed in the other unit system.
    pub also: bool,
    /// The job whose value it is, where it is another's.
    pub of: String,
}

#[derive(Debug, Clone)]
pub struct Note {
    pub label: String,
    pub range: std::ops::Range<usize>,
    pub inside: Vec<Node>,
}

/// The address that a block has on its page.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum BlockId {
    #[default]
    None,
    Given(String),
    /// The first that is free, once the whole page is known.
    Like(String),
}

/// A block that a template shows; without one, it shows nothing.
#[derive(Debug, Clone, Default)]
pub struct Block {
    pub template: &'static str,
    /// What the template calls it.
    pub name: &'static str,
    /// What the template is given.
    pub view: Value,
    /// The template is given it as the view's `id`.
    pub id: BlockId,
    /// Texts within it, to which its view refers.
    pub lines: Vec<Vec<Node>>,
    /// Its lines are read as the page's own text is: searched, and with the terms linked.
    pub prose: bool,
    /// What a search finds of it besides.
    pub found: Vec<Section>,
    /// What people say for the heading above it.
    pub also: Vec<String>,
    /// What it asks, and where that is told.
    pub asked: Option<(Route, String)>,
    /// The keys of what is ticked in it.
    pub ticks: Vec<String>,
    pub sign_off: Option<SignOff>,
    /// What records of people are held against.
    pub training: Option<Training>,
    /// The values that it is worked out from.
    pub scope: Option<JobScope>,
}

/// The bar that counts a page's steps.
pub const STEP_BAR: &str = "steps";

impl Block {
    pub fn new(template: &'static str, name: &'static str, view: &impl Serialize) -> Block {
        Block {
            template,
            name,
            view: serde_json::to_value(view).expect("a view is plain data"),
            ..Block::default()
        }
    }

    pub fn id(self, id: &str) -> Block {
        Block {
            id: BlockId::Given(id.to_string()),
            ..self
        }
    }

    pub fn lines(self, lines: Vec<Vec<Node>>) -> Block {
        Block { lines, ..self }
    }
}

/// What marks, in a view, what an edition fills in: no key that a template names begins so.
pub const ROUTE: &str = "\u{1}route";
pub const LINE: &str = "\u{1}line";

/// A route in a view: the template is given its address.
#[derive(Debug, Clone, Serialize)]
pub struct Href {
    #[serde(rename = "\u{1}route")]
    route: Route,
}

impl From<Route> for Href {
    fn from(route: Route) -> Href {
        Href { route }
    }
}

impl Href {
    pub fn route(&self) -> &Route {
        &self.route
    }
}

/// A line of its block in a view, by its number: the template is given its HTML.
#[derive(Debug, Clone, Serialize)]
pub struct Line {
    #[serde(rename = "\u{1}line")]
    line: usize,
}

impl Line {
    /// Adds a line, to be referred to.
    pub fn of(lines: &mut Vec<Vec<Node>>, line: Vec<Node>) -> Line {
        lines.push(line);
        Line {
            line: lines.len() - 1,
        }
    }
}

impl Node {
    /// A block, or nothing.
    pub fn block(block: Option<Block>) -> Vec<Node> {
        block
            .into_iter()
            .map(|one| Node::Block(Box::new(one)))
            .collect()
    }

    /// Runs of nodes in it, in order.
    pub fn parts(&self) -> impl Iterator<Item = &[Node]> {
        let (mut one, mut steps, mut runs): (Option<&[Node]>, &[Step], &[Vec<Node>]) =
            (None, &[], &[]);
        match self {
            Node::Tag(_, inside) | Node::Heading { inside, .. } | Node::Link { inside, .. } => {
                one = Some(inside);
            }
            Node::Steps(list) => steps = list,
            Node::Note(note) => one = Some(&note.inside),
            Node::Hazard(hazard) => one = Some(&hazard.inside),
            Node::Row { cells, .. } => one = Some(cells),
            Node::Notes(notes) => runs = notes,
            Node::Block(block) => runs = &block.lines,
            _ => {}
        }
        let steps = steps.iter().map(|step| step.inside.as_slice());
        let runs = runs.iter().map(Vec::as_slice);
        one.into_iter().chain(steps).chain(runs)
    }

    /// The same, to be changed.
    pub fn parts_mut(&mut self) -> impl Iterator<Item = &mut Vec<Node>> {
        let (mut one, mut steps, mut runs): (_, &mut [Step], &mut [Vec<Node>]) =
            (None, &mut [], &mut []);
        match self {
            Node::Tag(_, inside) | Node::Heading { inside, .. } | Node::Link { inside, .. } => {
                one = Some(inside);
            }
            Node::Steps(list) => steps = list,
            Node::Note(note) => one = Some(&mut note.inside),
            Node::Hazard(hazard) => one = Some(&mut hazard.inside),
            Node::Row { cells, .. } => one = Some(cells),
            Node::Notes(notes) => runs = notes,
            Node::Block(block) => runs = &mut block.lines,
            _ => {}
        }
        let steps = steps.iter_mut().map(|step| &mut step.inside);
        one.into_iter().chain(steps).chain(runs)
    }
}

/// Whether a value stands in a text: what is printed once for all jobs must hold none.
pub fn shows_a_value(nodes: &[Node]) -> bool {
    nodes
        .iter()
        .any(|node| matches!(node, Node::Shown(_)) || node.parts().any(shows_a_value))
}

/// The words of a text, without marks and without what templates say.
pub fn words(nodes: &[Node]) -> String {
    let mut words = String::new();
    say(nodes, &mut words);
    words
}

/// Adds them to others.
pub fn say(nodes: &[Node], words: &mut String) {
    for node in nodes {
        match node {
            Node::Text(text) | Node::Term(_, text) | Node::Drawn { text, .. } => {
                words.push_str(text);
            }
            Node::Shown(value) => words.push_str(&value.text),
            Node::Leaf(Event::Code(code)) => words.push_str(code),
            Node::Leaf(Event::SoftBreak | Event::HardBreak) => words.push(' '),
            Node::Block(block) if block.prose => {
                for line in &block.lines {
                    say(line, words);
                    words.push(' ');
                }
            }
            Node::Block(_) | Node::Hazard(_) => {}
            node => node.parts().for_each(|part| say(part, words)),
        }
    }
}
