//! What a reader of a page acts on besides its values: steps, hazards, tick lists, rows, figures.
//! Two cards that differ in any of it must not pass for the same.

use pulldown_cmark::Tag;
use serde_json::Value;

use crate::page::node::STEP_BAR;
use crate::page::node::{Block, Node, Picture, Step, say, words};
use crate::page::route::To;
use crate::values::act::{Act, ActKind};
use crate::values::hash::short_hash;

/// Each, in the page's order.
pub fn acted_on(nodes: &[Node]) -> Vec<Act> {
    let mut acts = Vec::new();
    add(nodes, &mut acts);
    acts
}

fn add(nodes: &[Node], acts: &mut Vec<Act>) {
    for node in nodes {
        match node {
            Node::Steps(steps) => {
                let said = |step: &Step| {
                    let text = format!("{}. {}", step.number, words(&step.inside));
                    Act::new(ActKind::Step, text)
                };
                acts.extend(steps.iter().map(said));
            }
            Node::Hazard(hazard) => {
                let text = format!("{} {}", hazard.word, words(&hazard.inside));
                acts.push(Act::new(ActKind::Hazard, text));
            }
            Node::Tag(Tag::TableHead | Tag::TableRow, cells) | Node::Row { cells, .. } => {
                acts.push(Act::new(ActKind::Row, cells_of(cells)));
            }
            Node::Tag(Tag::Item, parts) => {
                acts.push(Act::new(ActKind::Item, cells_of(parts)));
            }
            Node::Figure(picture, _) | Node::Picture(picture) => acts.extend(shown(picture)),
            // a container says nothing itself, and the bar tells how many steps there are
            Node::Block(block) if block.view.is_null() || block.name == STEP_BAR => {}
            Node::Block(block) => told(block, acts),
            _ => {}
        }
        node.parts().for_each(|part| add(part, acts));
    }
}

/// What stands in one cell beside the other.
fn cells_of(cells: &[Node]) -> String {
    let mut line = String::new();
    for (at, cell) in cells.iter().enumerate() {
        line.push_str(if at > 0 { " | " } else { "" });
        say(std::slice::from_ref(cell), &mut line);
    }
    line
}

/// A picture by its name and a mark of what it shows.
fn shown(picture: &Picture) -> Option<Act> {
    let To::File(path) = &picture.file.to else {
        return None;
    };
    let name = path.rsplit('/').next().unwrap_or(path);
    let text = format!("{name} {}", picture.mark);
    Some(Act::new(ActKind::Picture, text))
}

/// A block by its lines where these are all that it says, else by a mark of all that it shows.
fn told(block: &Block, acts: &mut Vec<Act>) {
    if block.prose {
        let lines = block.lines.iter();
        acts.extend(lines.map(|line| Act::new(ActKind::Line, words(line))));
    } else {
        let mark = short_hash(block.view.to_string().as_bytes());
        acts.push(Act {
            block: stem(block.template).to_string(),
            title: title(block),
            ..Act::new(ActKind::Block, format!("{} {mark}", block.name))
        });
    }
}

/// `question` of `blocks/question.html`.
fn stem(template: &str) -> &str {
    let name = template.rsplit('/').next().unwrap_or(template);
    name.strip_suffix(".html").unwrap_or(name)
}

/// What a person calls a block by: its title, else the first text in it, such as a question.
fn title(block: &Block) -> String {
    match block.view.get("title").and_then(Value::as_str) {
        Some(title) => title.to_string(),
        None => block
            .lines
            .first()
            .map_or_else(String::new, |line| words(line)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::testing::Sample;

    #[test]
    fn each_thing_to_act_on_is_a_line_and_prose_is_none() {
        let text = "# T\n\nProse.\n\n> **WARNING** Hot. Wait.\n\n1. Open *it*.\n2. Shut it.\n\nThen:\n\n1. Go.\n\n- Never alone.\n\n| a | b |\n|---|---|\n| c | d |\n";
        let acts = acted_on(&Sample::new(text).composed().value.nodes);
        let acts = acts.iter().filter(|act| act.kind != ActKind::Block);
        let acts: Vec<_> = acts.map(|act| (act.kind, act.text.as_str())).collect();
        assert_eq!(
            acts,
            [
                (ActKind::Hazard, "WARNING Hot. Wait."),
                (ActKind::Step, "1. Open it."),
                (ActKind::Step, "2. Shut it."),
                (ActKind::Step, "3. Go."),
                (ActKind::Item, "Never alone."),
                (ActKind::Row, "a | b"),
                (ActKind::Row, "c | d")
            ]
        );
    }
}
