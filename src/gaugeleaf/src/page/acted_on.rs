//! What a reader of a page acts on besides its values: steps, hazards, tick lists, rows, figures.
//! Two cards that differ in any of it must not pass for the same.

use pulldown_cmark::Tag;

use crate::page::node::{Node, Step, say, words};
use crate::page::route::To;

/// A line for each, in the page's order.
pub fn acted_on(nodes: &[Node]) -> Vec<String> {
    let mut lines = Vec::new();
    add(nodes, &mut lines);
    lines
}

fn add(nodes: &[Node], lines: &mut Vec<String>) {
    for node in nodes {
        match node {
            Node::Steps(steps) => {
                let said = |step: &Step| format!("{}\t{}", step.number, words(&step.inside));
                lines.extend(steps.iter().map(said));
            }
            Node::Hazard(hazard) => {
                lines.push(format!("{}\t{}", hazard.word, words(&hazard.inside)));
            }
            Node::Tag(Tag::TableRow | Tag::Item, cells) | Node::Row { cells, .. } => {
                let mut line = String::new();
                for (at, cell) in cells.iter().enumerate() {
                    line.push_str(if at > 0 { "\t" } else { "" });
                    say(std::slice::from_ref(cell), &mut line);
                }
                lines.push(line);
            }
            Node::Figure(picture, _) | Node::Picture(picture) => {
                if let To::File(path) = &picture.file.to {
                    lines.push(format!("picture\t{path}"));
                }
            }
            Node::Block(block) if block.prose => {
                lines.extend(block.lines.iter().map(|line| words(line)));
            }
            _ => {}
        }
        node.parts().for_each(|part| add(part, lines));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::testing::Sample;

    #[test]
    fn each_thing_to_act_on_is_a_line_and_prose_is_none() {
        let text = "# T\n\nProse.\n\n> **WARNING** Hot. Wait.\n\n1. Open *it*.\n2. Shut it.\n\nThen:\n\n1. Go.\n\n- Never alone.\n\n| a | b |\n|---|---|\n| c | d |\n";
        assert_eq!(
            acted_on(&Sample::new(text).composed().value.nodes),
            [
                "WARNING\tHot. Wait.",
                "1\tOpen it.",
                "2\tShut it.",
                "3\tGo.",
                "Never alone.",
                "c\td"
            ]
        );
    }
}
