//! Links to other pages by their Markdown path and heading, checked.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use percent_encoding::percent_decode_str;
use pulldown_cmark::{LinkType, Tag};

use crate::handbook::addresses::with_folder;
use crate::handbook::page::Page;
use crate::markdown::place::Address;
use crate::markdown::tree;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::Node;
use crate::page::route::Route;

/// A link with what was composed for its words: one that names a page leads there, one that leads out of the handbook stays as it is.
pub fn link(
    tag: &Tag<'static>,
    node: &tree::MarkdownNode,
    mut composed: Composed<Vec<Node>>,
    context: &Context,
) -> Composed<Vec<Node>> {
    let Tag::Link {
        link_type,
        dest_url,
        title,
        ..
    } = tag
    else {
        return Composed::default();
    };
    let inside = std::mem::take(&mut composed.value);
    let node = match target(*link_type, dest_url, node, context) {
        Ok(Some(to)) => Node::Link {
            to,
            title: title.to_string(),
            inside,
        },
        Ok(None) => Node::Tag(tag.clone(), inside),
        Err(finding) => {
            let elsewhere = finding.code == Code::BadLink;
            composed.findings.push(finding);
            if elsewhere {
                return composed.with(inside);
            }
            Node::Tag(tag.clone(), inside)
        }
    };
    composed.with(vec![node])
}

/// Where a link leads in the handbook; none where it leads out of it.
fn target(
    kind: LinkType,
    dest: &str,
    node: &tree::MarkdownNode,
    context: &Context,
) -> Result<Option<Route>, Finding> {
    let outside = ["https://", "http://", "mailto:", "tel:"];
    if kind == LinkType::Email || outside.iter().any(|scheme| dest.starts_with(scheme)) {
        return Ok(None);
    }
    let span = Address::of(context.text, node.range.clone(), dest).span();
    let fault =
        |code, message: String, help: String| context.error(code, span.clone(), message).help(help);
    let scheme = dest
        .split(['/', '?', '#'])
        .next()
        .is_some_and(|start| start.contains(':'));
    if scheme || dest.starts_with("//") {
        let help = "link to a page by its path, or to another site by its full https address";
        return Err(fault(
            Code::BadLink,
            format!("a link can't lead to {dest}"),
            help.to_string(),
        ));
    }
    let (file, place) = dest.split_once('#').unwrap_or((dest, ""));
    let file = percent_decode_str(file).decode_utf8_lossy();
    let place = percent_decode_str(place).decode_utf8_lossy();
    let page = if file.is_empty() {
        context.own_outline()
    } else {
        named(&file, span.clone(), context)?
    };
    if place.is_empty() || page.outline.has_address(&place) {
        return Ok(Some(Route::page(&page.path).at(&place)));
    }
    let ids: Vec<String> = page.outline.addresses().collect();
    let help = match nearest(&place, ids.iter().map(String::as_str)) {
        Some(near) => format!("write #{near}"),
        None if ids.is_empty() => "that page has no headings: link to the page alone".to_string(),
        None => format!("the page has #{}", ids.join(", #")),
    };
    let message = format!("{} has no heading #{place}", page.path);
    Err(fault(Code::MissingHeading, message, help).follows([format!("{}#", page.path)]))
}

/// The page that a file of this name, relative to the page's own, holds.
///
/// # Errors
/// There is none.
pub fn named<'c>(
    file: &str,
    span: Range<usize>,
    context: &Context<'c>,
) -> Result<&'c Page, Finding> {
    let path = context.resolve(file);
    let page = path.as_deref().and_then(|path| context.outline_of(path));
    page.ok_or_else(|| {
        context
            .error(Code::MissingPage, span, format!("there is no page {file}"))
            .help(near_page(file, context.pages()))
            .follows(path.iter().flat_map(|path| with_folder(path)))
    })
}

fn near_page(file: &str, pages: &[Page]) -> String {
    let name = file.rsplit('/').next().unwrap_or(file);
    let names = pages.iter().filter_map(|page| page.path.rsplit('/').next());
    let near = nearest(name, names);
    match near.and_then(|near| {
        pages
            .iter()
            .find(|page| page.path.ends_with(&format!("/{near}")))
    }) {
        Some(page) => format!("the nearest page is {}", page.path),
        None => "name the page's Markdown file, relative to this one".to_string(),
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    #[test]
    fn a_link_by_path_and_heading_becomes_an_address() {
        let (html, findings) = printed("[a](../index.md#set-it) [b](#here)\n\n## Here\n");
        assert_eq!(findings, []);
        assert!(
            html.contains("href=\"../index.html#set-it\"") && html.contains("href=\"#here\""),
            "{html}"
        );
    }

    #[test]
    fn links_to_missing_pages_and_headings_offer_the_nearest() {
        let (html, findings) =
            printed("[a](../indes.md) [b](../index.md#set-itt) [c](javascript:x)\n");
        assert!(!html.contains("javascript"), "{html}");
        let seen: Vec<_> = findings
            .iter()
            .map(|f| (f.code.name(), f.span.clone(), f.help.as_deref()))
            .collect();
        assert_eq!(
            seen[0],
            (
                "missing-page",
                4..15,
                Some("the nearest page is content/index.md")
            )
        );
        assert_eq!(seen[1], ("missing-heading", 21..40, Some("write #set-it")));
        assert_eq!((seen[2].0, seen[2].1.clone()), ("bad-link", 46..58));
    }
}
