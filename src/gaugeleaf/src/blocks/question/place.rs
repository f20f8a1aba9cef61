//! Where to read what a question asks for.

use pulldown_cmark::Tag;

use crate::blocks::question::say::ReadMore;
use crate::handbook::page::Page;
use crate::markdown::tree::MarkdownNode;
use crate::page::route::Route;

/// Where to read what a question at an offset of a page asks for, as a link.
pub fn place(page: &Page, start: usize) -> ReadMore {
    let (title, route) = found(page, start);
    ReadMore {
        title: title.to_string(),
        url: route.into(),
    }
}

/// Under its heading, or anywhere on the page where nothing but questions stands there.
fn found(page: &Page, start: usize) -> (&str, Route) {
    let headings = page.outline.headings.iter();
    let over = headings.take_while(|heading| heading.start < start).last();
    let heading = over.filter(|heading| {
        let section = heading.start..start;
        let mut nodes = page.tree.nodes.iter();
        nodes.any(|node| section.contains(&node.range.start) && tells(node))
    });
    let route = Route::page(&page.path);
    match heading {
        Some(heading) => (&heading.text, route.at(&heading.id)),
        None => (&page.outline.title, route),
    }
}

/// Whether a part of a section is more than its heading and questions.
fn tells(node: &MarkdownNode) -> bool {
    let question = node.fence_kind() == Some("question");
    !question && !matches!(node.tag(), Some(Tag::Heading { .. }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::shapes;
    use crate::page::fences::of_kind;

    fn place_in(text: &str) -> (String, Route) {
        let page = Page::read("content/fit/a.md", text, Some(0), &shapes());
        let last = of_kind(&page.tree.nodes, "question").pop();
        let (title, route) = found(&page, last.expect("a question").range.start);
        (title.to_string(), route)
    }

    const QUESTION: &str = "```question\nask = \"x\"\n```\n";

    #[test]
    fn a_question_leads_to_its_section_or_to_the_page_where_only_questions_stand() {
        let page = || Route::page("content/fit/a.md");
        let told = format!("# T\n\n## Set it\n\n1. Turn it.\n\n{QUESTION}");
        let set = ("Set it".to_string(), page().at("set-it"));
        assert_eq!(place_in(&told), set);
        let alone = format!("{told}\n## Ask yourself\n\n{QUESTION}\n{QUESTION}");
        assert_eq!(place_in(&alone), ("T".to_string(), page()));
    }
}
