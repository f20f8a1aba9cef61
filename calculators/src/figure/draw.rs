//! Draws a figure: formulas to numbers, names to printed quantities.

use super::{Element, Figure, FigureNode, Hole, TextPiece};
use crate::formula::mathml::escape;
use crate::formula::{ExprKind, Value, Values};
use crate::message::Message;
use crate::names::Names;
use crate::quantity::bind;

/// More shapes than a phone should draw.
const MOST_SHAPES: usize = 20_000;

struct Drawing<'a> {
    values: &'a Names<Value>,
    texts: &'a Names<String>,
    bound: Vec<(String, Value)>,
    /// The printed text of what was taken from the graph, by the drawing's own name.
    taken: Vec<(String, String)>,
    /// What is drawn stands in the place of a value that a stop forbids: STOP for OPEN,
    /// as a word and as a class.
    stopped: bool,
    shapes: usize,
    out: String,
}

impl Values for Drawing<'_> {
    fn value(&self, name: &str) -> Option<Value> {
        let bound = self.bound.iter().rev().find(|(bound, _)| bound == name);
        bound
            .map(|(_, value)| value.clone())
            .or_else(|| self.values.get(name).cloned())
    }

    fn lookup(&self, _: &str, _: &str, _: &[(&str, Value)]) -> Result<Value, Message> {
        Err(Message::default())
    }

    fn found(&self, _: &str, _: &[(&str, Value)]) -> Result<bool, Message> {
        Err(Message::default())
    }
}

/// A formula in a figure has no value, or the figure has more shapes than are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Undrawn;

impl Figure {
    /// The SVG for these values.
    ///
    /// # Errors
    /// A formula has no value. One that reads a result which doesn't
    /// exist for these inputs only leaves out its own element.
    pub fn draw(&self, values: &Names<Value>, texts: &Names<String>) -> Result<String, Undrawn> {
        let mut drawing = Drawing {
            values,
            texts,
            bound: Vec::new(),
            taken: Vec::new(),
            stopped: false,
            shapes: 0,
            out: String::new(),
        };
        drawing.element(&self.root, true)?;
        Ok(drawing.out)
    }
}

impl Drawing<'_> {
    /// `None` where the formula reads a result that isn't there.
    fn hole(&self, hole: &Hole) -> Result<Option<Value>, Undrawn> {
        if hole
            .formula
            .names()
            .iter()
            .any(|name| *name != "pi" && self.value(name).is_none())
        {
            return Ok(None);
        }
        hole.formula.evaluate(self).map(Some).map_err(|_| Undrawn)
    }

    fn printed(&self, name: &str) -> Option<&String> {
        let taken = self.taken.iter().find(|(taken, _)| taken == name);
        taken.map(|(_, text)| text).or_else(|| self.texts.get(name))
    }

    fn number(&self, hole: &Hole) -> Result<Option<f64>, Undrawn> {
        Ok(match self.hole(hole)? {
            Some(Value::Number(value)) => Some(value),
            _ => None,
        })
    }

    #[inline(never)]
    fn name(&mut self, name: &str, value: Value) {
        self.bound.push((name.to_string(), value));
    }

    #[inline(never)]
    fn one_more(&mut self) -> Result<(), Undrawn> {
        self.shapes += 1;
        let few = self.shapes <= MOST_SHAPES;
        few.then_some(()).ok_or(Undrawn)
    }

    fn element(&mut self, element: &Element, root: bool) -> Result<(), Undrawn> {
        self.one_more()?;
        let mut attributes = String::new();
        for (name, pieces) in &element.attributes {
            let Some(value) = self.pieces(pieces, false)? else {
                return Ok(());
            };
            attributes.push_str(&format!(" {name}=\"{}\"", escape(&value)));
        }
        let space = if root {
            " xmlns=\"http://www.w3.org/2000/svg\" role=\"img\""
        } else {
            ""
        };
        self.out
            .push_str(&format!("<{}{space}{attributes}>", element.tag));
        self.children(&element.children)?;
        self.out.push_str(&format!("</{}>", element.tag));
        Ok(())
    }

    fn children(&mut self, children: &[FigureNode]) -> Result<(), Undrawn> {
        let bound = self.bound.len();
        for child in children {
            self.node(child)?;
        }
        self.bound.truncate(bound);
        Ok(())
    }

    fn node(&mut self, node: &FigureNode) -> Result<(), Undrawn> {
        match node {
            FigureNode::Element(element) => self.element(element, false)?,
            FigureNode::Text(pieces) => {
                if let Some(text) = self.pieces(pieces, true)? {
                    self.out.push_str(&escape(&bind(&text)));
                }
            }
            FigureNode::Let { name, value } => {
                if let Some(value) = self.hole(value)? {
                    self.name(name, value);
                }
            }
            FigureNode::Take { name, from, .. } => {
                if let Some(value) = self.values.get(from) {
                    self.name(name, value.clone());
                }
                if let Some(text) = self.texts.get(from) {
                    self.taken.push((name.clone(), text.clone()));
                }
            }
            FigureNode::Open { names, children } => {
                let mut open = false;
                for name in names {
                    if self.value(name).is_none() {
                        open = true;
                        // a text without a value is that of a stop
                        self.stopped |= self.printed(name).is_some();
                    }
                }
                if open {
                    self.children(children)?;
                }
                self.stopped = false;
            }
            FigureNode::When { test, children } => {
                if self.hole(test)? == Some(Value::Truth(true)) {
                    self.children(children)?;
                }
            }
            FigureNode::Each {
                name,
                from,
                to,
                children,
            } => {
                let (Some(from), Some(to)) = (self.number(from)?, self.number(to)?) else {
                    return Ok(());
                };
                let (mut k, last) = (libm::ceil(from), libm::floor(to));
                while k <= last {
                    self.name(name, Value::Number(k));
                    self.children(children)?;
                    self.bound.pop();
                    k += 1.0;
                    self.one_more()?;
                }
            }
        }
        Ok(())
    }

    fn pieces(&self, pieces: &[TextPiece], printed: bool) -> Result<Option<String>, Undrawn> {
        let mut text = String::new();
        for piece in pieces {
            match piece {
                TextPiece::Text(literal) => text.push_str(match literal.as_str() {
                    "OPEN" if self.stopped => "STOP",
                    literal => literal,
                }),
                TextPiece::Hole(hole) => {
                    if printed
                        && let ExprKind::Name(name) = &hole.formula.expr.kind
                        && let Some(quantity) = self.printed(name)
                    {
                        text.push_str(&quantity.replace(' ', "\u{a0}"));
                        continue;
                    }
                    match self.number(hole)? {
                        Some(value) => text.push_str(&coordinate(value)),
                        None => return Ok(None),
                    }
                }
            }
        }
        Ok(Some(text))
    }
}

/// Hundredths of a unit are finer than any screen.
pub(crate) fn coordinate(value: f64) -> String {
    let hundredths = libm::round(value.clamp(-1e6, 1e6) * 100.0) / 100.0 + 0.0;
    format!("{hundredths}")
}
