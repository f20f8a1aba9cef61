//! Links to other pages by their Markdown path and heading, checked.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use percent_encoding::percent_decode_str;
use pulldown_cmark::{CowStr, Event, LinkType, Tag};

use crate::handbook::addresses::with_folder;
use crate::handbook::book::Book;
use crate::markdown::event::Piece;
use crate::markdown::place::Address;
use crate::page::desk::Desk;

/// Turns every link that names a page into one that names its address.
pub fn links<'a>(pieces: Vec<Piece<'a>>, desk: &mut Desk) -> Vec<Piece<'a>> {
    let mut out = Vec::with_capacity(pieces.len());
    for (event, range) in pieces {
        let Event::Start(Tag::Link {
            link_type,
            dest_url,
            title,
            id,
        }) = event
        else {
            out.push((event, range));
            continue;
        };
        let dest_url = match target(link_type, &dest_url, range.clone(), desk) {
            Ok(Some(url)) => CowStr::from(url),
            Ok(None) => dest_url,
            Err(finding) => {
                desk.findings.push(finding);
                dest_url
            }
        };
        out.push((
            Event::Start(Tag::Link {
                link_type,
                dest_url,
                title,
                id,
            }),
            range,
        ));
    }
    out
}

/// The address for a link's target; none where it stays as it is.
fn target(
    kind: LinkType,
    dest: &str,
    range: Range<usize>,
    desk: &Desk,
) -> Result<Option<String>, Finding> {
    let outside = ["https://", "http://", "mailto:", "tel:"];
    if kind == LinkType::Email || outside.iter().any(|scheme| dest.starts_with(scheme)) {
        return Ok(None);
    }
    let span = Address::of(desk.text, range, dest).span();
    let fault = |code, message: String, help: String| {
        Finding::error(code, desk.file, span.clone(), message).help(help)
    };
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
    let (page, here) = if file.is_empty() {
        let here = if desk.away {
            desk.page.url.as_str()
        } else {
            ""
        };
        let root = if desk.away { desk.root() } else { "" };
        (desk.page, format!("{root}{here}"))
    } else {
        let path = desk.resolve(&file);
        let page = path.as_deref().and_then(|path| desk.book.page_at(path));
        let page = page.ok_or_else(|| {
            fault(
                Code::MissingPage,
                format!("there is no page {file}"),
                near_page(&file, desk.book),
            )
            .follows(path.iter().flat_map(|path| with_folder(path)))
        })?;
        (page, format!("{}{}", desk.root(), page.url))
    };
    if place.is_empty() {
        return Ok(Some(here));
    }
    if page.outline.has_address(&place) {
        return Ok(Some(format!("{here}#{place}")));
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

fn near_page(file: &str, book: &Book) -> String {
    let name = file.rsplit('/').next().unwrap_or(file);
    let names = book
        .pages
        .iter()
        .filter_map(|page| page.path.rsplit('/').next());
    let near = nearest(name, names);
    match near.and_then(|near| {
        book.pages
            .iter()
            .find(|page| page.path.ends_with(&format!("/{near}")))
    }) {
        Some(page) => format!("the nearest page is {}", page.path),
        None => "name the page's Markdown file, relative to this one".to_string(),
    }
}

#[cfg(test)]
mod tests {
    use crate::page::links::links;
    use crate::page::testing::with_desk;

    #[test]
    fn a_link_by_path_and_heading_becomes_an_address() {
        let (html, findings) = with_desk("[a](../index.md#set-it) [b](#here)\n\n## Here\n", links);
        assert_eq!(findings, []);
        assert!(
            html.contains("href=\"../index.html#set-it\"") && html.contains("href=\"#here\""),
            "{html}"
        );
    }

    #[test]
    fn links_to_missing_pages_and_headings_offer_the_nearest() {
        let (_, findings) = with_desk(
            "[a](../indes.md) [b](../index.md#set-itt) [c](javascript:x)\n",
            links,
        );
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
