//! Which lists of a page are its steps.

use pulldown_cmark::{Event, Tag, TagEnd};

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
