//! Figures: SVG files whose attributes hold formulas, drawn to scale for the
//! values of one calculation.
//!
//! `{formula}` in an attribute gives a plain number; `{name}` in a text gives
//! the printed quantity. Three elements are ours: `let` names a value for what
//! follows it, `when` draws its contents under a condition, `each` draws them
//! once for every whole number of a range. A drawing of the setup sheet has two more: `take` names a
//! value of the whole graph, and `open` draws where one of these isn't known,
//! or is forbidden by a stop: its OPEN then reads STOP. Only drawing elements and attributes
//! are allowed, so that a figure can neither run a script nor load anything.

mod check;
mod draw;
mod parse;

pub use draw::Undrawn;

use serde::{Deserialize, Serialize};
use std::ops::Range;

use crate::formula::Formula;
use gaugeleaf_finding::Placed;

pub(crate) use draw::coordinate;

/// A figure as read from its file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Figure {
    pub path: String,
    root: Element,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
enum FigureNode {
    Element(Element),
    Text(Vec<TextPiece>),
    Let {
        name: String,
        value: Hole,
    },
    When {
        test: Hole,
        children: Vec<FigureNode>,
    },
    Each {
        name: String,
        from: Hole,
        to: Hole,
        children: Vec<FigureNode>,
    },
    /// A value of the graph: `calculator.output`, a measurement or a rating.
    Take {
        name: String,
        from: String,
        /// Where that stands in the file.
        #[serde(skip)]
        at: Range<usize>,
    },
    /// What stands in a value's place while one of these isn't known.
    Open {
        names: Vec<String>,
        children: Vec<FigureNode>,
    },
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Element {
    tag: String,
    attributes: Vec<(String, Vec<TextPiece>)>,
    children: Vec<FigureNode>,
}

/// Literal text, or a formula standing in braces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
enum TextPiece {
    Text(String),
    Hole(Hole),
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Hole {
    formula: Formula,
    /// Where the formula stands in the file.
    #[serde(skip)]
    at: Placed<String>,
}

impl Figure {
    /// What it takes from the graph.
    pub(crate) fn takes(&self) -> impl Iterator<Item = &str> {
        let children = self.root.children.iter();
        children.filter_map(|child| match child {
            FigureNode::Take { from, .. } => Some(from.as_str()),
            _ => None,
        })
    }
}

impl Hole {
    fn span(&self, inner: &Range<usize>) -> Range<usize> {
        // An escaped sign (&lt;) makes file and formula differ in length.
        if self.at.span.len() == self.at.value.len() {
            self.at.span.start + inner.start..self.at.span.start + inner.end
        } else {
            self.at.span.clone()
        }
    }
}

#[cfg(test)]
mod tests;
