//! Pictures: they are the handbook's own files, have words for those who can't see
//! them, and keep their place on the page while they load.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, nearest};
use percent_encoding::percent_decode_str;
use pulldown_cmark::Tag;

use crate::markdown::place::Address;
use crate::markdown::tree;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::{Node, Picture};
use crate::page::picture::{self, ReadPicture};
use crate::page::route::Route;
use crate::values::hash::short_hash;

pub fn is_image(node: &tree::MarkdownNode) -> bool {
    matches!(node.tag(), Some(Tag::Image { .. }))
}

/// An image that has a paragraph to itself.
pub fn figure(
    paragraph: &Tag<'static>,
    node: &tree::MarkdownNode,
    context: &Context,
) -> Composed<Vec<Node>> {
    let Some(tag) = node.tag() else {
        return Composed::default();
    };
    picture(tag, node, context).map(|found| {
        vec![match found {
            Some((picture, caption)) => Node::Figure(picture, caption),
            None => Node::Tag(paragraph.clone(), Vec::new()),
        }]
    })
}

/// An image's picture and its title.
pub fn picture(
    tag: &Tag<'static>,
    node: &tree::MarkdownNode,
    context: &Context,
) -> Composed<Option<(Picture, String)>> {
    let Tag::Image {
        dest_url, title, ..
    } = tag
    else {
        return Composed::default();
    };
    let alt = tree::words(node.inside());
    let span = Address::of(context.text, node.range.clone(), dest_url).span();
    let found = file(dest_url, span.clone(), context);
    let mut found = found.map(|found| {
        found.map(|(path, size)| {
            let bytes = context.file_at(&path).map_or(&[][..], |(_, bytes)| bytes);
            let picture = Picture {
                mark: mark(&path, bytes),
                file: Route::file(&path),
                alt: alt.trim().to_string(),
                size,
            };
            (picture, title.to_string())
        })
    });
    if found.value.is_some() && alt.trim().is_empty() {
        let message = format!("the picture {dest_url} has no words for those who can't see it");
        found.findings.push(
            context
                .error(Code::NoAlternative, span, message)
                .help("write what it shows between the brackets: ![…](…)"),
        );
    }
    found
}

/// Tells whether a picture still shows the same; a drawing is text, whose lines end as a system ends them.
fn mark(path: &str, bytes: &[u8]) -> String {
    if !path.ends_with(".svg") {
        return short_hash(bytes);
    }
    let lines: Vec<u8> = bytes
        .iter()
        .copied()
        .filter(|byte| *byte != b'\r')
        .collect();
    short_hash(&lines)
}

/// The picture's path and its size.
fn file(
    dest: &str,
    span: Range<usize>,
    context: &Context,
) -> Composed<Option<(String, (u32, u32))>> {
    let fault = |code, message: String, help: &str| {
        Composed::fault(context.error(code, span.clone(), message).help(help))
    };
    if dest.contains("://") || dest.starts_with("//") || dest.starts_with("data:") {
        let message = format!("the picture {dest} isn't the handbook's own");
        let help = "put the file beside the page: a handbook asks no other host for anything";
        return fault(Code::ForeignPicture, message, help);
    }
    let decoded = percent_decode_str(dest).decode_utf8_lossy();
    let path = context.resolve(&decoded);
    let named = path.as_ref().and_then(|path| context.file_at(path));
    let Some((path, bytes)) = named else {
        let file = decoded.rsplit('/').next().unwrap_or(&decoded);
        let names = context
            .file_names()
            .filter_map(|path| path.rsplit('/').next());
        let help = match nearest(file, names) {
            Some(near) => format!("the nearest picture is {near}"),
            None => "put the file in content/ and name it relative to this page".to_string(),
        };
        let message = format!("there is no picture {dest}");
        let missing = context.error(Code::MissingPicture, span, message);
        return Composed::fault(missing.help(help).follows(path));
    };
    let Some(ReadPicture { size, more }) = picture::read(bytes) else {
        let help = "save it again as svg with a viewBox, png, jpg, webp or gif";
        return fault(
            Code::BadPicture,
            format!("the picture {dest} can't be read"),
            help,
        );
    };
    if let Some(more) = more {
        let message = format!("the picture {dest} is more than a drawing: it holds {more}");
        let help = "save it as a plain drawing, without scripts, links and anything fetched";
        return fault(Code::BadPicture, message, help);
    }
    let mut found = Composed::of(Some((path.clone(), size)));
    found.needs.files.insert(path.clone());
    found
}

#[cfg(test)]
mod tests {
    use crate::page::testing::{PIXEL, printed, printed_with};

    #[test]
    fn a_picture_by_itself_is_a_figure_with_its_size() {
        let (html, findings) = printed_with(
            "![A dot](img/dot.gif \"The dot\")\n",
            &[("content/fit/img/dot.gif", PIXEL)],
        );
        assert_eq!(findings, []);
        assert_eq!(
            html,
            "<figure class=\"picture\"><img src=\"../fit/img/dot.gif\" alt=\"A dot\" width=\"1\" height=\"1\">\
             <figcaption>The dot</figcaption></figure>\n"
        );
    }

    #[test]
    fn missing_and_foreign_pictures_are_findings_at_their_address() {
        let (_, findings) = printed("![a](gone.png) ![b](https://example.org/x.png)\n");
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("missing-picture", 5..13)
        );
        assert_eq!(
            (findings[1].code.name(), findings[1].span.clone()),
            ("foreign-picture", 20..45)
        );
    }
}
