//! Reads a figure's file and refuses what isn't drawing.

use std::ops::Range;

use roxmltree::{Document, Node as Xml, ParsingOptions};

use super::{Element, Figure, FigureNode, Hole, TextPiece};
use crate::formula::Formula;
use gaugeleaf_finding::settings::is_name;
use gaugeleaf_finding::{Code, Finding, Placed, nearest, widened};

/// Larger than any figure that a page can carry.
const LARGEST: usize = 256 * 1024;
const DEEPEST: usize = 24;

const TAGS: [&str; 13] = [
    "svg", "g", "title", "desc", "path", "line", "rect", "circle", "ellipse", "polyline",
    "polygon", "text", "tspan",
];

/// The last three tell the page which tube of a map is which.
const ATTRIBUTES: [&str; 32] = [
    "viewBox",
    "class",
    "transform",
    "d",
    "x",
    "y",
    "x1",
    "y1",
    "x2",
    "y2",
    "dx",
    "dy",
    "cx",
    "cy",
    "r",
    "rx",
    "ry",
    "width",
    "height",
    "points",
    "text-anchor",
    "dominant-baseline",
    "stroke-dasharray",
    "stroke-width",
    "stroke-linecap",
    "stroke-linejoin",
    "fill-rule",
    "pathLength",
    "rotate",
    "data-tube",
    "data-stroke",
    "data-row",
];

impl Figure {
    /// Reads a figure.
    ///
    /// # Errors
    /// Every part that isn't drawing, isn't XML or holds a broken formula.
    pub fn parse(path: &str, text: &str) -> Result<Figure, Vec<Finding>> {
        let whole = |message: String| {
            vec![Finding::error(
                Code::Figure,
                path,
                0..text.len().min(1),
                message,
            )]
        };
        if text.len() > LARGEST {
            return Err(whole("the figure is larger than 256 kB".into()));
        }
        let options = ParsingOptions {
            allow_dtd: false,
            nodes_limit: 10_000,
            ..ParsingOptions::default()
        };
        let document = Document::parse_with_options(text, options).map_err(|error| {
            // what is never closed lacks its end, and the reader of XML names the beginning
            let at = match error {
                roxmltree::Error::UnclosedRootNode => text.trim_end().len(),
                _ => offset(text, error.pos().row, error.pos().col),
            };
            let message = format!("the figure is not well-formed XML: {error}");
            vec![
                Finding::error(Code::Figure, path, widened(text, at..at), message)
                    .help("close every element and quote every attribute"),
            ]
        })?;
        let mut parser = FigureParser {
            path,
            text,
            findings: Vec::new(),
        };
        let root = document.root_element();
        if root.tag_name().name() != "svg" {
            return Err(whole(
                "the figure does not begin with an svg element".into(),
            ));
        }
        if root.attribute("viewBox").is_none() {
            parser.error(
                tag_span(&root),
                "the figure has no viewBox",
                "add viewBox=\"0 0 360 200\"",
            );
        }
        if !root
            .children()
            .any(|child| child.tag_name().name() == "title")
        {
            parser.error(
                tag_span(&root),
                "the figure has no title for those who can't see it",
                "add <title>…</title>",
            );
        }
        let root = parser.element(root, 0);
        if parser.findings.is_empty() {
            Ok(Figure {
                path: path.to_string(),
                root,
            })
        } else {
            Err(parser.findings)
        }
    }
}

/// Byte offset of a row and column, both from 1, columns in characters.
fn offset(text: &str, row: u32, column: u32) -> usize {
    let line: usize = text
        .split_inclusive('\n')
        .take(row.saturating_sub(1) as usize)
        .map(str::len)
        .sum();
    let inside = text[line..]
        .char_indices()
        .nth(column.saturating_sub(1) as usize);
    inside.map_or(text.len(), |(at, _)| line + at)
}

fn tag_span(node: &Xml<'_, '_>) -> Range<usize> {
    let start = node.range().start;
    start..start + 1 + node.tag_name().name().len()
}

struct FigureParser<'a> {
    path: &'a str,
    text: &'a str,
    findings: Vec<Finding>,
}

impl FigureParser<'_> {
    fn error(&mut self, span: Range<usize>, message: impl Into<String>, help: impl Into<String>) {
        let span = widened(self.text, span);
        self.findings
            .push(Finding::error(Code::Figure, self.path, span, message).help(help));
    }

    fn element(&mut self, node: Xml<'_, '_>, depth: usize) -> Element {
        let tag = node.tag_name().name();
        let mut attributes = Vec::new();
        for attribute in node.attributes() {
            let name = attribute.name();
            if !ATTRIBUTES.contains(&name) || attribute.namespace().is_some() {
                let help = match nearest(name, ATTRIBUTES) {
                    Some(near) => format!("did you mean {near}?"),
                    None => "colours and line widths come from classes".into(),
                };
                self.error(
                    attribute.range(),
                    format!("`{name}` is not an attribute that a figure may have"),
                    help,
                );
                continue;
            }
            let pieces = self.pieces(attribute.value(), attribute.range_value());
            attributes.push((name.to_string(), pieces));
        }
        Element {
            tag: tag.to_string(),
            attributes,
            children: self.children(node, depth),
        }
    }

    fn children(&mut self, node: Xml<'_, '_>, depth: usize) -> Vec<FigureNode> {
        if depth > DEEPEST {
            self.error(
                tag_span(&node),
                "the figure is nested too deep",
                "take a group apart",
            );
            return Vec::new();
        }
        node.children()
            .filter_map(|child| self.child(child, depth + 1))
            .collect()
    }

    fn child(&mut self, node: Xml<'_, '_>, depth: usize) -> Option<FigureNode> {
        if node.is_text() {
            let text = node.text().unwrap_or("");
            let parent = node.parent().map_or("", |parent| parent.tag_name().name());
            if !matches!(
                parent,
                "text" | "tspan" | "title" | "desc" | "when" | "each" | "open"
            ) {
                if !text.trim().is_empty() {
                    self.error(
                        node.range(),
                        "text stands outside a text element",
                        "put it into <text>…</text>",
                    );
                }
                return None;
            }
            if text.trim().is_empty() && !stands_in_text(node) {
                // an indent would be drawn with every repeat, and a page has to carry it
                return None;
            }
            return Some(FigureNode::Text(self.pieces(text, node.range())));
        }
        if !node.is_element() {
            return None;
        }
        match node.tag_name().name() {
            "let" => {
                let name = self.name(node)?;
                Some(FigureNode::Let {
                    name,
                    value: self.hole_attribute(node, "value")?,
                })
            }
            "when" => {
                let test = self.hole_attribute(node, "test")?;
                Some(FigureNode::When {
                    test,
                    children: self.children(node, depth),
                })
            }
            "each" => {
                let name = self.name(node)?;
                let from = self.hole_attribute(node, "from")?;
                let to = self.hole_attribute(node, "to")?;
                Some(FigureNode::Each {
                    name,
                    from,
                    to,
                    children: self.children(node, depth),
                })
            }
            "take" => {
                let name = self.name(node)?;
                let from = self.text_attribute(node, "from")?;
                let at = node.attribute_node("from")?.range_value();
                Some(FigureNode::Take { name, from, at })
            }
            "open" => {
                let names = self.text_attribute(node, "names")?;
                Some(FigureNode::Open {
                    names: names.split_whitespace().map(str::to_string).collect(),
                    children: self.children(node, depth),
                })
            }
            tag if TAGS.contains(&tag) && tag != "svg" => {
                Some(FigureNode::Element(self.element(node, depth)))
            }
            tag => {
                let help = format!("draw with {}", TAGS[1..].join(", "));
                self.error(
                    tag_span(&node),
                    format!("`{tag}` is not an element that a figure may have"),
                    help,
                );
                None
            }
        }
    }

    fn name(&mut self, node: Xml<'_, '_>) -> Option<String> {
        let name = node.attribute("name").filter(|name| is_name(name));
        if name.is_none() {
            let tag = node.tag_name().name();
            self.error(
                tag_span(&node),
                format!("`{tag}` needs a name"),
                format!("write <{tag} name=\"k\" …>"),
            );
        }
        name.map(str::to_string)
    }

    fn hole_attribute(&mut self, node: Xml<'_, '_>, name: &str) -> Option<Hole> {
        let text = self.text_attribute(node, name)?;
        self.hole(&text, node.attribute_node(name)?.range_value())
    }

    fn text_attribute(&mut self, node: Xml<'_, '_>, name: &str) -> Option<String> {
        let found = node.attribute(name);
        if found.is_none() {
            let tag = node.tag_name().name();
            self.error(
                tag_span(&node),
                format!("`{tag}` needs `{name}`"),
                format!("write <{tag} {name}=\"…\">"),
            );
        }
        found.map(str::to_string)
    }

    fn hole(&mut self, text: &str, span: Range<usize>) -> Option<Hole> {
        match Formula::parse(text) {
            Ok(formula) => Some(Hole {
                formula,
                at: Placed {
                    value: text.to_string(),
                    span,
                },
            }),
            Err(fault) => {
                let inner = if span.len() == text.len() {
                    span.start + fault.span.start..span.start + fault.span.end
                } else {
                    span
                };
                let help = fault.help.unwrap_or_else(|| "mend the formula".into());
                self.error(inner, fault.message, help);
                None
            }
        }
    }

    /// Splits `M{x} 4` into text and formulas.
    fn pieces(&mut self, text: &str, span: Range<usize>) -> Vec<TextPiece> {
        let mut pieces = Vec::new();
        let mut rest = 0;
        // Offsets hold in the file where nothing is escaped before them.
        let verbatim = self.text.get(span.clone()) == Some(text);
        let place = |from: usize, to: usize| {
            if verbatim {
                span.start + from..span.start + to
            } else {
                span.clone()
            }
        };
        while let Some(open) = text[rest..].find('{').map(|at| rest + at) {
            let Some(close) = text[open..].find('}').map(|at| open + at) else {
                self.error(
                    place(open, text.len()),
                    "this brace is not closed",
                    "write {formula}",
                );
                return pieces;
            };
            pieces.push(TextPiece::Text(text[rest..open].to_string()));
            pieces.extend(
                self.hole(&text[open + 1..close], place(open + 1, close))
                    .map(TextPiece::Hole),
            );
            rest = close + 1;
        }
        pieces.push(TextPiece::Text(text[rest..].to_string()));
        pieces
    }
}

/// Whether what stands here is read, so that its spaces count.
fn stands_in_text(node: Xml) -> bool {
    let read = ["text", "tspan", "title", "desc"];
    node.ancestors()
        .any(|one| read.contains(&one.tag_name().name()))
}
