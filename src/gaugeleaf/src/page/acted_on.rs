//! What a reader of a page acts on besides its values: steps, hazards, tick lists, rows, figures, and
//! all else that it says, for a crew acts on a sentence as on a step. Two cards that differ in any of
//! it must not pass for the same.

use pulldown_cmark::Tag;
use serde_json::Value;

use crate::page::node::STEP_BAR;
use crate::page::node::{Block, Node, Picture, Step, say, words};
use crate::page::route::{Route, To};
use crate::values::act::{Act, ActKind};
use crate::values::hash::short_hash;

/// Each, in the page's order.
pub fn acted_on(nodes: &[Node]) -> Vec<Act> {
    let mut acts = Vec::new();
    add(nodes, false, &mut acts);
    acts
}

/// `told` where the words within are told by what stands around them.
fn add(nodes: &[Node], told: bool, acts: &mut Vec<Act>) {
    for node in nodes {
        let mut within = true;
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
            Node::Block(block) if block.view.is_null() || block.name == STEP_BAR => within = told,
            Node::Block(block) => shown_by(block, acts),
            // on a screen somebody follows it, and its words may stay
            Node::Link { to, inside, .. } => {
                let text = format!("{} > {}", words(inside), led_to(to));
                acts.push(Act::new(ActKind::Text, text));
            }
            Node::Notes(notes) => {
                let notes = notes
                    .iter()
                    .map(|note| Act::new(ActKind::Text, words(note)));
                acts.extend(notes);
            }
            Node::Tag(Tag::Paragraph | Tag::CodeBlock(_), _)
            | Node::Heading { .. }
            | Node::Listing { .. }
                if !told =>
            {
                let text = words(std::slice::from_ref(node));
                acts.push(Act::new(ActKind::Text, text));
            }
            _ => within = told,
        }
        node.parts().for_each(|part| add(part, within, acts));
    }
}

/// Where a link leads.
fn led_to(route: &Route) -> String {
    let (To::Page(to) | To::Calculator(to) | To::Table(to) | To::File(to)) = &route.to;
    format!("{to}#{}", route.anchor)
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
    let text = format!("{name} {} {}", picture.alt, picture.mark);
    Some(Act::new(ActKind::Picture, text))
}

/// A block by its lines, and by a mark of all else that it shows.
fn shown_by(block: &Block, acts: &mut Vec<Act>) {
    let lines = block.lines.iter();
    acts.extend(lines.map(|line| Act::new(ActKind::Line, words(line))));
    let mark = short_hash(block.view.to_string().as_bytes());
    acts.push(Act {
        block: stem(block.template).to_string(),
        title: title(block),
        ..Act::new(ActKind::Block, format!("{} {mark}", block.name))
    });
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
    fn each_thing_to_act_on_is_a_line_and_so_is_prose() {
        let text = "# T\n\nProse.\n\n> **WARNING** Hot. Wait.\n\n1. Open *it*.\n2. Shut it.\n\nThen:\n\n1. Go.\n\n- Never alone.\n\n| a | b |\n|---|---|\n| c | d |\n";
        let acts = acted_on(&Sample::new(text).composed().value.nodes);
        let acts = acts.iter().filter(|act| act.kind != ActKind::Block);
        let acts: Vec<_> = acts.map(|act| (act.kind, act.text.as_str())).collect();
        assert_eq!(
            acts,
            [
                (ActKind::Text, "Prose."),
                (ActKind::Hazard, "WARNING Hot. Wait."),
                (ActKind::Step, "1. Open it."),
                (ActKind::Step, "2. Shut it."),
                (ActKind::Text, "Then:"),
                (ActKind::Step, "3. Go."),
                (ActKind::Item, "Never alone."),
                (ActKind::Row, "a | b"),
                (ActKind::Row, "c | d")
            ]
        );
    }
}
