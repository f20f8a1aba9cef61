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
    let mut all = Composed::of(());
    let mut parts = Vec::with_capacity(nodes.len());
    for node in nodes {
        parts.extend(all.take(part(node, context)));
    }
    all.with(parts)
}

fn part(node: &tree::MarkdownNode, context: &Context) -> Composed<Vec<Node>> {
    let (tag, inside) = match &node.what {
        What::Tag(tag, inside) => (tag, inside),
        What::Leaf(leaf) => return self::leaf(leaf, node, context),
    };
    let one = |inside: Vec<Node>| vec![Node::Tag(tag.clone(), inside)];
    match tag {
        Tag::HtmlBlock => raw_html::refused(node, context),
        Tag::CodeBlock(_) => fences::block(node, context),
        Tag::Link { dest_url, .. } if dest_url.starts_with(SCHEME) => {
            value_links::value(dest_url, node, text(inside, context), context)
        }
        Tag::Link { dest_url, .. } if dest_url.starts_with(STEP_SCHEME) => {
            step_links::step(dest_url, node, text(inside, context), context)
        }
        Tag::Link { .. } => links::link(tag, node, text(inside, context), context),
        Tag::Image { .. } => {
            let picture = images::picture(tag, node, context);
            picture.map(|found| {
                found
                    .into_iter()
                    .map(|(one, _)| Node::Picture(one))
                    .collect()
            })
        }
        Tag::Paragraph => match inside.as_slice() {
            // an image that has a paragraph to itself
            [only] if images::is_image(only) => images::figure(tag, only, context),
            inside => text(inside, context).map(one),
        },
        // the title is the page's to print
        Tag::Heading {
            level: HeadingLevel::H1,
            ..
        } => text(inside, context).map(|_| Vec::new()),
        Tag::Heading { level, .. } => text(inside, context).map(|inside| {
            let heading = context.page.outline.heading_at(node.range.start);
            vec![Node::Heading {
                level: *level,
                id: heading.map(|one| one.id.clone()).unwrap_or_default(),
                inside,
            }]
        }),
        Tag::BlockQuote(_) => hazards::quote(tag, node, text(inside, context), context),
        Tag::FootnoteDefinition(label) => text(inside, context).map(|inside| {
            vec![Node::Note(Note {
                label: label.to_string(),
                range: node.range.clone(),
                inside,
            })]
        }),
        _ => text(inside, context).map(one),
    }
}

fn leaf(
    leaf: &Event<'static>,
    node: &tree::MarkdownNode,
    context: &Context,
) -> Composed<Vec<Node>> {
    match leaf {
        Event::Html(_) | Event::InlineHtml(_) => raw_html::refused(node, context),
        Event::Text(text) => Composed::of(vec![Node::Text(text.to_string())]),
        leaf => Composed::of(vec![Node::Leaf(leaf.clone())]),
    }
}
