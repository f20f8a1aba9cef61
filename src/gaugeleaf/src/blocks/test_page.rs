//! `test PHASE`: every question of a phase's pages on one page, with the rule for passing.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use serde::Serialize;

use crate::blocks::question::parts::Asked;
use crate::blocks::question::place::place;
use crate::blocks::question::question;
use crate::handbook::kind::Shape;
use crate::handbook::page::Page;
use crate::markdown::event::Piece;
use crate::markdown::ids::Ids;
use crate::page::desk::Desk;
use crate::page::fences::bodies;
use crate::page::kind::{Fence, Kind};
use crate::page::sign_off::SignOff;
use crate::settings::Placed;
use crate::values::hash::hash;

/// `test PHASE`: a phase's questions on one page.
pub struct TestBlock;

impl Shape for TestBlock {
    fn name(&self) -> &'static str {
        "test"
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl Kind for TestBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["show", "questions", "test"]
    }

    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        let id = fence.address(self.name(), desk);
        fence.html(test(&id, fence, desk))
    }
}

/// What `blocks/test.html` is given as `t`.
#[derive(Serialize)]
struct Test<'t> {
    id: &'t str,
    phase: &'t str,
    title: &'t str,
    total: usize,
    needed: usize,
    critical: usize,
    questions: Vec<String>,
}

/// The test as HTML; the page gets a sign-off sheet too.
fn test(id: &str, fence: &Fence, desk: &mut Desk) -> Option<String> {
    let Placed {
        value: slug,
        span: word,
    } = phase(fence, desk)?;
    let book = desk.book;
    let index = book.phases.iter().position(|phase| phase.slug == slug)?;
    let pages = book.pages.iter().filter(|page| page.phase == Some(index));
    let shown: Vec<(String, bool)> = pages
        .flat_map(|page| of_page(page, &fence.range, desk))
        .collect();
    if shown.is_empty() {
        let message = format!("the phase `{slug}` has no questions");
        desk.findings.push(
            Finding::error(Code::NoQuestions, desk.file, word, message)
                .help("write question blocks on the pages of the phase"),
        );
        return None;
    }
    let total = shown.len();
    // four fifths, and never less
    let needed = (total * 4).div_ceil(5);
    let title = &book.phases[index].title;
    let critical = shown.iter().filter(|(_, critical)| *critical).count();
    let questions: Vec<String> = shown.into_iter().map(|(html, _)| html).collect();
    desk.sign_off = Some(SignOff {
        phase: title.clone(),
        total,
        needed,
        critical,
        set: hash(questions.concat().as_bytes())[..8].to_uppercase(),
    });
    let test = Test {
        id,
        phase: &slug,
        title,
        total,
        needed,
        critical,
        questions,
    };
    desk.part("blocks/test.html", "t", &test)
}

/// The phase that the block names.
fn phase(fence: &Fence, desk: &mut Desk) -> Option<Placed<String>> {
    let mut error = |code, span: &Range<usize>, message: String, help: String| {
        let span = span.clone();
        desk.findings
            .push(Finding::error(code, desk.file, span, message).help(help));
    };
    let [name] = fence.names.as_slice() else {
        let message = "a test block names one phase".to_string();
        error(
            Code::UnnamedBlock,
            &fence.kind,
            message,
            "write ```test PHASE, with the phase's folder".to_string(),
        );
        return None;
    };
    let slugs = || desk.book.phases.iter().map(|phase| phase.slug.as_str());
    if !slugs().any(|slug| slug == name.value) {
        let help = nearest(&name.value, slugs()).map_or_else(
            || format!("the phases are {}", slugs().collect::<Vec<_>>().join(", ")),
            |near| format!("write {near}"),
        );
        error(
            Code::UnknownPhase,
            &name.span,
            format!("there is no phase `{}`", name.value),
            help,
        );
        return None;
    }
    if desk.page.phase.is_none() {
        let message = "a test stands on a page of a phase".to_string();
        error(
            Code::TestPlace,
            &name.span,
            message,
            "move this page into a folder with a phase.toml, such as content/training".to_string(),
        );
        return None;
    }
    if desk.sign_off.is_some() {
        let message = "this page has a test already".to_string();
        error(
            Code::TestPlace,
            &name.span,
            message,
            "write one test a page: each has a sheet to sign".to_string(),
        );
        return None;
    }
    Some(name.clone())
}

/// A page's questions, as its own page would show them. What is wrong with one is told there.
fn of_page(page: &Page, range: &Range<usize>, desk: &mut Desk) -> Vec<(String, bool)> {
    let text = desk.texts.get(&page.path).map_or("", String::as_str);
    let mut own = Desk {
        file: &page.path,
        text,
        page,
        away: true,
        // what is wrong with the page's values is told on that page
        scope: desk.own.with(
            desk.graph,
            &page.path,
            &page.outline.settings.given,
            &mut Vec::new(),
        ),
        sheets: Vec::new(),
        findings: Vec::new(),
        uses: Vec::new(),
        shown: std::collections::BTreeSet::new(),
        ids: Ids::default(),
        terms: Vec::new(),
        kinds: std::collections::BTreeSet::new(),
        sign_off: None,
        ..*desk
    };
    let mut shown = Vec::new();
    for (at, body) in bodies(text, "question") {
        let asked = Asked {
            id: desk.ids.give("question"),
            body: &body,
            place: Some(place(page, text, at.start)),
            range: at,
        };
        shown.extend(question(&asked, &mut own));
    }
    let uses = own.uses.into_iter().map(|one| crate::values::ledger::Use {
        start: range.start,
        ..one
    });
    desk.uses.extend(uses);
    desk.shown.extend(own.shown);
    shown
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::shapes;
    use crate::handbook::outline::outline;

    fn place_in(text: &str) -> (String, String) {
        let page = Page {
            path: "content/fit/a.md".to_string(),
            url: "fit/a.html".to_string(),
            phase: Some(0),
            outline: outline("content/fit/a.md", text, &shapes(), &mut Vec::new()),
        };
        let last = bodies(text, "question").pop().expect("a question").0;
        let place = place(&page, text, last.start);
        (place.title, place.url)
    }

    const QUESTION: &str = "```question\nask = \"x\"\n```\n";

    #[test]
    fn a_question_leads_to_its_section_or_to_the_page_where_only_questions_stand() {
        let own = |title: &str, url: &str| (title.to_string(), url.to_string());
        let told = format!("# T\n\n## Set it\n\n1. Turn it.\n\n{QUESTION}");
        assert_eq!(place_in(&told), own("Set it", "fit/a.html#set-it"));
        let alone = format!("{told}\n## Ask yourself\n\n{QUESTION}\n{QUESTION}");
        assert_eq!(place_in(&alone), own("T", "fit/a.html"));
    }
}
