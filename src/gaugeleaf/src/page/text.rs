//! Composes a run of a page's text, part by part.

use pulldown_cmark::{Event, HeadingLevel, Tag};

use crate::markdown::place::{SCHEME, STEP_SCHEME};
use crate::markdown::tree::{self, What};
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::{Node, Note};
use crate::page::{fences, hazards, images, links, raw_html, step_links, value_links};

/// The parts of a text as the page shows them.
pub fn text(nodes: &[tree::MarkdownNode], context: &Context) -> Composed<Vec<Node>> {
    let mut all = Composed::of(Vec::with_capacity(nodes.len()));
    for node in nodes {
        add(node, context, &mut all);
    }
    all
}

/// The parts in one that is shown as it is; what goes with them goes with the text around.
fn inside(
    nodes: &[tree::MarkdownNode],
    context: &Context,
    all: &mut Composed<Vec<Node>>,
) -> Vec<Node> {
    let around = std::mem::replace(&mut all.value, Vec::with_capacity(nodes.len()));
    for node in nodes {
        add(node, context, all);
    }
    std::mem::replace(&mut all.value, around)
}

/// Adds one part to those before it.
fn add(node: &tree::MarkdownNode, context: &Context, all: &mut Composed<Vec<Node>>) {
    let (tag, nodes) = match &node.what {
        What::Tag(tag, nodes) => (tag, nodes),
        What::Text(text) => return all.value.push(Node::Text(text.as_ref().into())),
        What::Leaf(leaf) => match &**leaf {
            Event::Html(_) | Event::InlineHtml(_) => {
                let refused = all.take(raw_html::refused(node, context));
                return all.value.extend(refused);
            }
            leaf => return all.value.push(Node::Leaf(leaf.clone())),
        },
    };
    let shown = match &**tag {
        Tag::HtmlBlock => raw_html::refused(node, context),
        Tag::CodeBlock(_) => fences::block(node, context),
        Tag::Link { dest_url, .. } if dest_url.starts_with(SCHEME) => {
            value_links::value(dest_url, node, text(nodes, context), context)
        }
        Tag::Link { dest_url, .. } if dest_url.starts_with(STEP_SCHEME) => {
            step_links::step(dest_url, node, text(nodes, context), context)
        }
        Tag::Link { .. } => links::link(tag, node, text(nodes, context), context),
        Tag::Image { .. } => images::picture(tag, node, context).map(|found| {
            let pictures = found.into_iter();
            pictures.map(|(one, _)| Node::Picture(one)).collect()
        }),
        // an image that has a paragraph to itself
        Tag::Paragraph if nodes.len() == 1 && images::is_image(&nodes[0]) => {
            images::figure(tag, &nodes[0], context)
        }
        Tag::BlockQuote(_) => hazards::quote(tag, node, text(nodes, context), context),
        tag => {
            let inside = inside(nodes, context, all);
            all.value.extend(as_it_is(tag, node, inside, context));
            return;
        }
    };
    let shown = all.take(shown);
    all.value.extend(shown);
}

/// What Markdown has, with what stands in it.
fn as_it_is(
    tag: &Tag<'static>,
    node: &tree::MarkdownNode,
    inside: Vec<Node>,
    context: &Context,
) -> Option<Node> {
    Some(match tag {
        // the title is the page's to print
        Tag::Heading {
            level: HeadingLevel::H1,
            ..
        } => return None,
        Tag::Heading { level, .. } => {
            let heading = context.page.outline.heading_at(node.range.start);
            Node::Heading {
                level: *level,
                id: heading.map(|one| one.id.clone()).unwrap_or_default(),
                inside,
            }
        }
        Tag::FootnoteDefinition(label) => Node::Note(Note {
            label: label.to_string(),
            range: node.range.clone(),
            inside,
        }),
        tag => Node::Tag(tag.clone(), inside),
    })
}
