//! What a question is made of.

use gaugeleaf_calc::calculator::WorkingLine;
use serde::Serialize;

use crate::blocks::question::card::{CardCase, CardLine};
use crate::blocks::question::dial::DialView;
use crate::blocks::question::say::{ReadMore, spaced};
use crate::page::node::{Block, Line, Node};

/// What `blocks/question.html` is given as `q`.
#[derive(Debug, Serialize)]
struct QuestionView {
    key: String,
    kind: &'static str,
    critical: bool,
    ask: Line,
    options: Vec<OptionView>,
    /// The place of the right one in the block.
    right: usize,
    number: Option<NumberView>,
    card: Vec<CardLine>,
    /// JSON: what each variant of the card shows, and which answer is right then.
    cases: String,
    dial: Option<DialView>,
    /// Why the first variant's answer is right, by the engine.
    because: String,
    /// The answer in words, for paper and for a page without scripts.
    answer: Vec<Line>,
    why: Option<Line>,
    place: Option<ReadMore>,
}

/// One of the answers to choose from or to put in order, with its place in the block.
#[derive(Debug, Serialize)]
struct OptionView {
    place: usize,
    html: Line,
}

/// A question with what its kind makes of its block.
#[derive(Debug, Default)]
pub struct Filled {
    pub kind: &'static str,
    pub ask: Vec<Node>,
    /// The answers to choose from or to put in order, as the page shows them, each with its place
    /// in the block.
    pub options: Vec<(usize, Vec<Node>)>,
    /// The right answer.
    pub answer: Vec<Vec<Node>>,
    pub number: Option<NumberView>,
    pub card: Vec<CardLine>,
    /// The variants of a card.
    pub cases: Vec<CardCase>,
    pub dial: Option<DialView>,
}

impl Filled {
    /// The block that shows it.
    pub fn block(
        self,
        key: &str,
        critical: bool,
        why: Option<Vec<Node>>,
        place: ReadMore,
    ) -> Block {
        let mut lines = Vec::new();
        let mut line = |nodes| Line::of(&mut lines, nodes);
        let ask = line(self.ask);
        let options = self
            .options
            .into_iter()
            .map(|(place, nodes)| OptionView {
                place,
                html: line(nodes),
            })
            .collect();
        let view = QuestionView {
            key: key.to_string(),
            kind: self.kind,
            critical,
            ask,
            options,
            right: self.cases.first().map_or(0, |case| case.right),
            number: self.number,
            card: self.card,
            because: self
                .cases
                .first()
                .map_or_else(String::new, |case| case.because.clone()),
            cases: match self.cases.as_slice() {
                [] => String::new(),
                cases => {
                    // what scripts read is as it was typed
                    let cases = serde_json::to_string(cases).expect("a case is plain data");
                    cases.replace('\u{A0}', " ")
                }
            },
            dial: self.dial,
            answer: self.answer.into_iter().map(&mut line).collect(),
            why: why.map(&mut line),
            place: Some(place),
        };
        Block::new("blocks/question.html", "q", &view).lines(lines)
    }
}

/// What the page hands to the engine for a numeric question.
#[derive(Debug, Default, Serialize)]
pub struct NumberView {
    pub calculator: String,
    pub output: String,
    pub unit: String,
    pub tolerance: String,
    pub tolerance_said: String,
    /// JSON: the drawn inputs of each variant, the fixed inputs, and the page's own job values.
    pub variants: String,
    pub given: String,
    pub job: String,
    pub working: Vec<WorkingView>,
}

#[derive(Debug, Serialize)]
pub struct WorkingView {
    pub name: String,
    pub label: String,
    pub formula: String,
    pub mathml: String,
    pub numbers: String,
    pub result: String,
}

impl WorkingView {
    pub fn of(line: &WorkingLine) -> WorkingView {
        let WorkingLine {
            name,
            label,
            formula,
            numbers,
            result,
            mathml,
        } = line.clone();
        WorkingView {
            name,
            label,
            formula,
            mathml,
            numbers,
            result,
        }
    }
}

/// The text in which every `{name}` gives way to a place that the page fills in.
pub fn with_places(nodes: Vec<Node>, text_of: &impl Fn(&str) -> Option<String>) -> Vec<Node> {
    let mut out = Vec::new();
    for mut node in nodes {
        if let Node::Text(text) = &node {
            out.extend(places(text, text_of));
            continue;
        }
        for part in node.parts_mut() {
            *part = with_places(std::mem::take(part), text_of);
        }
        out.push(node);
    }
    out
}

fn places(text: &str, text_of: &impl Fn(&str) -> Option<String>) -> Vec<Node> {
    let mut out = Vec::new();
    let mut said = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        said.push_str(before);
        rest = after;
        let place = after.split_once('}');
        let Some((name, text, after)) =
            place.and_then(|(name, after)| Some((name, text_of(name)?, after)))
        else {
            said.push('{');
            continue;
        };
        out.push(Node::Text(std::mem::take(&mut said)));
        out.push(Node::Drawn {
            name: name.to_string(),
            text: spaced(&text),
        });
        rest = after;
    }
    out.push(Node::Text(said + rest));
    out
}
