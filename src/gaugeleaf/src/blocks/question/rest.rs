//! What a question's right answer rests on: a step, a hazard, a line of a list or a row, by its
//! words. Its number may change with every edit; when its words do, somebody has to look at the
//! question again.

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::Tag;

use crate::blocks::question::say::ReadMore;
use crate::handbook::page::Page;
use crate::markdown::ids::step_id;
use crate::markdown::signal;
use crate::markdown::tree::{self, MarkdownNode, What};
use crate::page::context::Context;
use crate::page::links::named;
use crate::page::route::Route;

pub const FIELDS: &[SettingField] = &[
    SettingField::new(
        "says",
        SettingType::Text,
        "Words of the step, the hazard, the line or the row, as the page has them.",
    )
    .needed("what an answer rests on is found by its words"),
    SettingField::new(
        "page",
        SettingType::Text,
        "The page that says it, where it is another one.",
    ),
];

/// What a block says of it.
pub struct RestSettings {
    pub says: Placed<String>,
    pub page: Option<Placed<String>>,
}

/// A part of a page that somebody acts on.
struct ActedOn {
    words: String,
    start: usize,
    /// Of a step.
    id: Option<String>,
}

/// Where it stands, as a link.
pub fn rest(wanted: &RestSettings, context: &Context) -> Result<ReadMore, Finding> {
    let RestSettings { says, page } = wanted;
    let other = match page {
        Some(page) => {
            let page = named(&page.value, page.span.clone(), context)?;
            Some(context.read_through(page))
        }
        None => None,
    };
    let page = other.unwrap_or(context.page);
    let wanted = one_line(&says.value);
    let parts = acted_on(page);
    let mut meant = parts.iter().filter(|part| part.words.contains(&wanted));
    let fault = |message: String, help: &str| {
        let finding = context.error(Code::RestNotFound, says.span.clone(), message);
        Err(finding.help(help))
    };
    let Some(part) = meant.next().filter(|_| !wanted.is_empty()) else {
        return fault(
            format!(
                "{} has no step, hazard, line or row that says this",
                page.path
            ),
            "write its words as they stand there, and look whether the answer is still right",
        );
    };
    if meant.next().is_some() {
        return fault(
            format!("several parts of {} say this", page.path),
            "write more of its words",
        );
    }
    let route = Route::page(&page.path);
    let over = page.outline.headings.iter();
    let over = over.take_while(|heading| heading.start < part.start).last();
    let route = match (&part.id, over) {
        (Some(id), _) => route.at(id),
        (None, Some(heading)) => route.at(&heading.id),
        (None, None) => route,
    };
    let title = match other {
        Some(page) => format!("{}: {wanted}", page.outline.title),
        None => wanted,
    };
    Ok(ReadMore {
        title,
        url: route.into(),
    })
}

/// A page's steps, hazards, lines of lists and rows, in their order.
fn acted_on(page: &Page) -> Vec<ActedOn> {
    let mut parts = Vec::new();
    let mut steps = 0;
    for node in &page.tree.nodes {
        match &node.what {
            What::Tag(Tag::List(Some(_)), items) => {
                for item in items {
                    steps += 1;
                    parts.push(part(item, Some(step_id(steps))));
                }
            }
            What::Tag(Tag::List(None) | Tag::Table(_), inside) => {
                parts.extend(inside.iter().map(|one| part(one, None)));
            }
            What::Tag(Tag::BlockQuote(_), _) if signal::of_quote(node).is_some() => {
                parts.push(part(node, None));
            }
            _ => {}
        }
    }
    parts
}

fn part(node: &MarkdownNode, id: Option<String>) -> ActedOn {
    let mut words = String::new();
    tree::each(node.inside(), &mut |inner| match &inner.what {
        What::Tag(Tag::TableCell | Tag::Paragraph, _) if !words.is_empty() => words.push(' '),
        What::Leaf(_) => words.push_str(&tree::words(std::slice::from_ref(inner))),
        What::Tag(..) => {}
    });
    ActedOn {
        words: one_line(&words),
        start: node.range.start,
        id,
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use crate::page::testing::{findings, printed};

    const PAGE: &str = "## Open it\n\n> **WARNING** Hot oil. It burns. Wait.\n\n1. Shut the valve.\n2. Open the *drain*\n   slowly.\n\n- Never alone\n\n| A | B |\n|---|---|\n| c | d |\n\n";

    fn question(rests: &str) -> String {
        format!(
            "{PAGE}```question\nask = \"What first?\"\nright = \"shut the valve\"\nwrong = [\"open the drain\", \"call the lead\", \"wait for it\"]\ncritical = true\n{rests}\n```\n"
        )
    }

    #[test]
    fn an_answer_leads_to_the_step_that_it_rests_on_or_to_the_section_of_the_rest() {
        for (says, url) in [
            ("Open the drain slowly", "#step-2"),
            ("Hot oil. It burns.", "#open-it"),
            ("Never alone", "#open-it"),
            ("c d", "#open-it"),
        ] {
            let (html, findings) = printed(&question(&format!("rests = {{ says = \"{says}\" }}")));
            assert_eq!(findings, [], "{says}");
            let link = format!("<a href=\"{url}\">{says}</a>");
            assert!(html.contains(&link), "{says}: {html}");
        }
    }

    #[test]
    fn another_page_is_named_and_has_to_be_there() {
        let told = |rests: &str| {
            let found = findings(&question(rests));
            found.iter().map(|one| one.code.name()).collect::<Vec<_>>()
        };
        let page = "rests = { says = \"x\", page = \"../nowhere.md\" }";
        assert_eq!(told(page), ["missing-page"]);
        let front = "rests = { says = \"Shut the valve\", page = \"../index.md\" }";
        assert_eq!(told(front), ["rest-not-found"]);
    }

    #[test]
    fn words_that_no_part_or_several_have_are_a_finding_and_so_is_a_critical_answer_without() {
        let told = |rests: &str| {
            let found = findings(&question(rests));
            let told = found.iter().map(|one| (one.code.name(), one.span.clone()));
            told.collect::<Vec<_>>()
        };
        let at = |words: &str, rests: &str| {
            let text = question(rests);
            let start = text.find(words).expect("there");
            start..start + words.len()
        };
        let none = "rests = { says = \"Shut the door\" }";
        assert_eq!(
            told(none),
            [("rest-not-found", at("\"Shut the door\"", none))]
        );
        let many = "rests = { says = \"the\" }";
        assert_eq!(told(many)[0].0, "rest-not-found");
        let start = question("").find("question\nask").expect("there");
        let word = start..start + "question".len();
        assert_eq!(told(""), [("critical-without-rest", word)]);
    }
}
