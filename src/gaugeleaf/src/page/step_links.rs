//! Step links: `step [](<step:Prove every function again>)`.
//!
//! A step is named by its words, and the page prints its number: a number that somebody typed sends
//! a crew to another step once one is added before it.

use gaugeleaf_calc::finding::Code;

use crate::markdown::ids::step_id;
use crate::markdown::place::{Address, STEP_SCHEME};
use crate::markdown::tree;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::{Node, words};
use crate::page::route::Route;
use crate::page::said::{Unsaid, said, the_one};

/// The step's number as a link to it; words of the link's own stay.
pub fn step(
    address: &str,
    node: &tree::MarkdownNode,
    mut composed: Composed<Vec<Node>>,
    context: &Context,
) -> Composed<Vec<Node>> {
    // in a text of another file no page is in hand whose steps could be meant
    let mut steps = match context.file == context.page.path {
        true => said(context.read_through(context.page)),
        false => Vec::new(),
    };
    steps.retain(|part| part.number.is_some());
    let found = the_one(steps, &address[STEP_SCHEME.len()..]);
    match found.map(|part| part.number) {
        Ok(number) => {
            let number = number.unwrap_or_default();
            let mut inside = std::mem::take(&mut composed.value);
            if words(&inside).trim().is_empty() {
                inside = vec![Node::Text(number.to_string())];
            }
            composed.with(vec![Node::Link {
                to: Route::page(&context.page.path).at(&step_id(number)),
                title: String::new(),
                inside,
            }])
        }
        Err(why) => {
            let (message, help) = match why {
                Unsaid::Nowhere => (
                    "no step of this page says this",
                    "write words of the step as they stand there, without its values, and look whether it is still the one that is meant",
                ),
                Unsaid::Often => (
                    "several steps of this page say this",
                    "write more of its words",
                ),
            };
            let place = Address::of(context.text, node.range.clone(), address);
            let span = place.after(STEP_SCHEME.len());
            let finding = context.error(Code::StepNotFound, span, message);
            composed.findings.push(finding.help(help));
            composed
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    const STEPS: &str = "1. Shut the air.\n2. Open the drain\n   slowly.\n\n## Then\n\n";

    #[test]
    fn a_step_that_is_named_by_its_words_is_printed_by_its_number_through_the_page() {
        let text = format!(
            "{STEPS}1. Go on with step [](<step:Open the drain slowly>).\n2. Repeat from step [](<step:Go on with>).\n"
        );
        let (html, findings) = printed(&text);
        assert_eq!(findings, []);
        assert!(
            html.contains("with step <a href=\"#step-2\">2</a>."),
            "{html}"
        );
        assert!(
            html.contains("from step <a href=\"#step-3\">3</a>."),
            "{html}"
        );
        let (html, findings) = printed(&format!(
            "{STEPS}Look at [the drain](<step:Open the drain>).\n"
        ));
        assert_eq!(findings, []);
        assert!(html.contains("<a href=\"#step-2\">the drain</a>"), "{html}");
    }

    #[test]
    fn words_that_no_step_or_several_have_are_a_finding_where_they_stand() {
        for said in ["Open the door", "the", ""] {
            let text = format!("{STEPS}- Not a step.\n\nGo on with step [](<step:{said}>).\n");
            let (_, findings) = printed(&text);
            assert_eq!(findings[0].code.name(), "step-not-found", "{said}");
            assert!(said.is_empty() || &text[findings[0].span.clone()] == said);
        }
        let text = format!("{STEPS}- Not a step.\n\nGo on with step [](<step:Not a step>).\n");
        assert_eq!(printed(&text).1[0].code.name(), "step-not-found");
    }
}
