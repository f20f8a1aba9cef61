//! What a question's right answer rests on: a step, a hazard, a line of a list or a row, by its
//! words. Its number may change with every edit; when its words do, somebody has to look at the
//! question again.

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding};

use crate::blocks::question::say::ReadMore;
use crate::markdown::ids::step_id;
use crate::page::context::Context;
use crate::page::links::named;
use crate::page::route::Route;
use crate::page::said::{Unsaid, one_line, said, the_one};

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
    let fault = |message: String, help: &str| {
        let finding = context.error(Code::RestNotFound, says.span.clone(), message);
        finding.help(help)
    };
    let part = the_one(said(page), &says.value).map_err(|why| match why {
        Unsaid::Nowhere => fault(
            format!(
                "{} has no step, hazard, line or row that says this",
                page.path
            ),
            "write its words as they stand there, and look whether the answer is still right",
        ),
        Unsaid::Often => fault(
            format!("several parts of {} say this", page.path),
            "write more of its words",
        ),
    })?;
    let route = Route::page(&page.path);
    let over = page.outline.headings.iter();
    let over = over.take_while(|heading| heading.start < part.start).last();
    let route = match (part.number, over) {
        (Some(number), _) => route.at(&step_id(number)),
        (None, Some(heading)) => route.at(&heading.id),
        (None, None) => route,
    };
    let wanted = one_line(&says.value);
    let title = match other {
        Some(page) => format!("{}: {wanted}", page.outline.title),
        None => wanted,
    };
    Ok(ReadMore {
        title,
        url: route.into(),
    })
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
