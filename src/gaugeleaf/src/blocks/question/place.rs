//! Where to read what a question asks for.

use pulldown_cmark::{CodeBlockKind, Event, Tag, TagEnd};

use crate::blocks::question::parts::ReadMore;
use crate::handbook::page::Page;
use crate::markdown::parse::parser;

/// Where to read what a question at an offset of a page asks for: under its heading, or anywhere on
/// the page where nothing but questions stands there.
pub fn place(page: &Page, text: &str, start: usize) -> ReadMore {
    let headings = page.outline.headings.iter();
    let heading = headings
        .take_while(|heading| heading.start < start)
        .last()
        .filter(|heading| tells(text.get(heading.start..start).unwrap_or("")));
    match heading {
        Some(heading) => ReadMore {
            title: heading.text.clone(),
            url: format!("{}#{}", page.url, heading.id),
        },
        None => ReadMore {
            title: page.outline.title.clone(),
            url: page.url.clone(),
        },
    }
}

/// Whether a section holds more than its heading and questions.
fn tells(section: &str) -> bool {
    let mut quiet: Option<TagEnd> = None;
    for event in parser(section) {
        match event {
            Event::End(end) if quiet == Some(end) => quiet = None,
            _ if quiet.is_some() => {}
            Event::Start(Tag::Heading { level, .. }) => quiet = Some(TagEnd::Heading(level)),
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info)))
                if info.split_whitespace().next() == Some("question") =>
            {
                quiet = Some(TagEnd::CodeBlock);
            }
            _ => return true,
        }
    }
    false
}
