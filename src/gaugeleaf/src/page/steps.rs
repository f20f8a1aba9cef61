//! Ordered lists that stand by themselves are the steps of the work: each gets an
//! address of its own, counted through the page.

use pulldown_cmark::{Event, Tag, TagEnd};

use crate::markdown::event::{Piece, html, words};
use crate::markdown::ids::step_id;
use crate::markdown::nesting::Nesting;
use crate::page::keys::Keys;

/// Gives the page's own ordered lists their class and each of their items its address, and a key
/// for its tick: made from its words, so that an edited page doesn't tick another step.
pub fn steps<'a>(pieces: Vec<Piece<'a>>) -> Vec<Piece<'a>> {
    let mut nesting = Nesting::default();
    let mut number = 0;
    let mut keys = Keys::default();
    let mut out = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.into_iter();
    while let Some((event, range)) = pieces.next() {
        let was_in_steps = nesting.in_steps();
        if nesting.opens_step(&event) {
            number += 1;
            let key = keys.give(&words_of_item(pieces.as_slice()));
            let id = step_id(number);
            out.push(html(format!("<li id=\"{id}\" data-tick=\"{key}\">"), range));
            continue;
        }
        match event {
            Event::Start(Tag::List(Some(first))) if nesting.in_steps() => {
                let start = if first == 1 {
                    String::new()
                } else {
                    format!(" start=\"{first}\"")
                };
                out.push(html(format!("<ol class=\"steps\"{start}>\n"), range));
            }
            Event::End(TagEnd::List(true)) if was_in_steps => out.push(html("</ol>\n", range)),
            Event::End(TagEnd::Item) if was_in_steps => out.push(html("</li>\n", range)),
            event => out.push((event, range)),
        }
    }
    out
}

/// The words of the item that has just opened.
fn words_of_item(rest: &[Piece]) -> String {
    let mut depth = 0;
    let inside = rest.iter().take_while(|(event, _)| {
        match event {
            Event::Start(Tag::Item) => depth += 1,
            Event::End(TagEnd::Item) => depth -= 1,
            _ => {}
        }
        depth >= 0
    });
    words(inside.map(|(event, _)| event))
}

#[cfg(test)]
mod tests {
    use crate::page::steps::steps;
    use crate::page::testing::rendered;

    /// The keys of a page's steps.
    fn keys(text: &str) -> Vec<String> {
        let html = rendered(text, steps);
        let parts = html.split("data-tick=\"").skip(1);
        parts
            .filter_map(|part| Some(part.split_once('"')?.0.to_string()))
            .collect()
    }

    #[test]
    fn steps_are_counted_through_the_page_and_go_on_where_the_list_does() {
        let html = rendered("1. a\n2. b\n\ntext\n\n3. c\n", steps);
        assert!(
            html.starts_with("<ol class=\"steps\">\n<li id=\"step-1\" data-tick=\"")
                && html.contains("<li id=\"step-2\""),
            "{html}"
        );
        assert!(
            html.contains("<ol class=\"steps\" start=\"3\">\n<li id=\"step-3\"")
                && html.contains(">c</li>\n</ol>"),
            "{html}"
        );
    }

    #[test]
    fn a_step_keeps_its_key_when_others_come_before_it_and_loses_it_when_its_words_change() {
        let before = keys("1. Shut the air.\n2. Open the *guard*.\n");
        let after =
            keys("1. Hold the grip.\n2. Shut the air.\n3. Open the guard.\n4. Open the guards.\n");
        assert_eq!(before[..], after[1..3]);
        assert!(!before.contains(&after[3]));
    }

    #[test]
    fn the_same_words_twice_are_two_steps() {
        let keys = keys("1. Shut the air.\n2. Shut the air.\n");
        assert_ne!(keys[0], keys[1]);
    }

    #[test]
    fn lists_inside_steps_or_quotes_are_no_steps() {
        let html = rendered("1. a\n   1. inner\n\n> 1. quoted\n\n- dot\n", steps);
        assert_eq!(html.matches("step-").count(), 1, "{html}");
        assert!(html.contains("<ol>\n<li>inner</li>"), "{html}");
    }
}
