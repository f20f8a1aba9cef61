//! Ordered lists that stand by themselves are the steps of the work: each gets an
//! address of its own, counted through the page.

use pulldown_cmark::Tag;

use crate::markdown::ids::step_id;
use crate::markdown::steps::StepCount;
use crate::page::hashes::ContentHashes;
use crate::page::node::{Node, Step, words};

/// Makes the page's own ordered lists steps.
pub fn steps(nodes: Vec<Node>) -> Vec<Node> {
    let mut hashes = ContentHashes::default();
    let mut count = StepCount::default();
    let mut step = |(number, node): (usize, Node)| {
        let inside = match node {
            Node::Tag(Tag::Item, inside) => inside,
            node => vec![node],
        };
        Step {
            number,
            id: step_id(number),
            key: hashes.give(&words(&inside)),
            inside,
        }
    };
    let list = |node: Node| match node {
        Node::Tag(tag, items) => match count.of(&tag, items.len()) {
            Some(numbers) => Node::Steps(numbers.zip(items).map(&mut step).collect()),
            None => Node::Tag(tag, items),
        },
        node => node,
    };
    nodes.into_iter().map(list).collect()
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    /// The keys of a page's steps.
    fn keys(text: &str) -> Vec<String> {
        let html = printed(text).0;
        let parts = html.split("data-tick=\"").skip(1);
        parts
            .filter_map(|part| Some(part.split_once('"')?.0.to_string()))
            .collect()
    }

    #[test]
    fn steps_are_counted_through_the_page_whatever_numbers_were_typed() {
        let html = printed("1. a\n2. b\n\ntext\n\n7. c\n\n## Next\n\n1. d\n").0;
        assert!(
            html.starts_with("<ol class=\"steps\">\n<li id=\"step-1\" data-tick=\"")
                && html.contains("<li id=\"step-2\""),
            "{html}"
        );
        assert!(
            html.contains("<ol class=\"steps\" start=\"3\">\n<li id=\"step-3\"")
                && html.contains(">c</li>\n</ol>")
                && html.contains("<ol class=\"steps\" start=\"4\">\n<li id=\"step-4\""),
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
        let html = printed("1. a\n   1. inner\n\n> 1. quoted\n\n- dot\n").0;
        assert_eq!(html.matches("id=\"step-").count(), 1, "{html}");
        assert!(html.contains("<ol>\n<li>inner</li>"), "{html}");
    }
}
