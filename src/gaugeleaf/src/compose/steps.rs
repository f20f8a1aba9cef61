//! Ordered lists that stand by themselves are the steps of the work: each gets an
//! address of its own, counted through the page.

use pulldown_cmark::{Event, Tag, TagEnd};

use super::{Piece, html};
use crate::ids::step_id;

/// Tells the items of a page's own ordered lists from those inside other things.
#[derive(Debug, Default)]
pub struct Nesting {
    /// The lists, quotes and notes around here; true for a list of steps.
    around: Vec<bool>,
}

impl Nesting {
    /// Follows one event, and says whether it opens a step.
    pub fn opens_step(&mut self, event: &Event) -> bool {
        match event {
            Event::Start(Tag::List(start)) => {
                let steps = start.is_some() && self.around.is_empty();
                self.around.push(steps);
            }
            Event::Start(Tag::BlockQuote(_) | Tag::FootnoteDefinition(_)) => {
                self.around.push(false)
            }
            Event::End(TagEnd::List(_) | TagEnd::BlockQuote(_) | TagEnd::FootnoteDefinition) => {
                self.around.pop();
            }
            Event::Start(Tag::Item) => return self.in_steps(),
            _ => {}
        }
        false
    }

    pub fn in_steps(&self) -> bool {
        self.around == [true]
    }
}

/// Gives the page's own ordered lists their class and each of their items its address.
pub fn steps<'a>(pieces: Vec<Piece<'a>>) -> Vec<Piece<'a>> {
    let mut nesting = Nesting::default();
    let mut number = 0;
    let mut out = Vec::with_capacity(pieces.len());
    for (event, range) in pieces {
        let was_in_steps = nesting.in_steps();
        if nesting.opens_step(&event) {
            number += 1;
            out.push(html(format!("<li id=\"{}\">", step_id(number)), range));
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

#[cfg(test)]
mod tests {
    use super::super::testing::rendered;
    use super::steps;

    #[test]
    fn steps_are_counted_through_the_page_and_go_on_where_the_list_does() {
        let html = rendered("1. a\n2. b\n\ntext\n\n3. c\n", steps);
        assert!(
            html.starts_with("<ol class=\"steps\">\n<li id=\"step-1\">a</li>\n<li id=\"step-2\">"),
            "{html}"
        );
        assert!(
            html.contains("<ol class=\"steps\" start=\"3\">\n<li id=\"step-3\">c</li>\n</ol>"),
            "{html}"
        );
    }

    #[test]
    fn lists_inside_steps_or_quotes_are_no_steps() {
        let html = rendered("1. a\n   1. inner\n\n> 1. quoted\n\n- dot\n", steps);
        assert_eq!(html.matches("step-").count(), 1, "{html}");
        assert!(html.contains("<ol>\n<li>inner</li>"), "{html}");
    }
}
