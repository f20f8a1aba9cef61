//! Where the work of a page begins: its first step or tick list, by way of the hazards over it.

use serde::Serialize;

use crate::page::node::{BlockId, Node, Step, shows_a_value, words};

/// What a page's head leads to.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Begin {
    /// The address of the first hazard over it; else its own.
    pub to: String,
    /// The hazard's signal word; empty where none stands over it.
    pub word: String,
    /// The step's words; empty where a number stands in them, which would be another job's in the head.
    pub step: String,
    /// Where it is a tick list: its title.
    pub list: String,
}

/// Where the page's work begins, if it has any.
pub fn begin(nodes: &[Node]) -> Option<Begin> {
    let (at, own, step, list) = nodes.iter().enumerate().find_map(|(at, node)| match node {
        Node::Steps(steps) => {
            let first = steps.first()?;
            Some((at, first.id.clone(), said(first), String::new()))
        }
        Node::Block(block) if !block.ticks.is_empty() => match &block.id {
            BlockId::Given(id) => {
                let title = block.view.get("title").and_then(|title| title.as_str());
                Some((at, id.clone(), String::new(), title?.to_string()))
            }
            _ => None,
        },
        _ => None,
    })?;
    let section = nodes[..at]
        .iter()
        .rev()
        .take_while(|node| !matches!(node, Node::Heading { .. }));
    let over = section
        .skip_while(|node| !matches!(node, Node::Hazard(_)))
        .map_while(|node| match node {
            Node::Hazard(hazard) => Some(hazard),
            _ => None,
        })
        .last();
    Some(Begin {
        to: over.map_or(own, |hazard| hazard.id.clone()),
        word: over.map_or(String::new(), |hazard| hazard.word.to_string()),
        step,
        list,
    })
}

fn said(step: &Step) -> String {
    if shows_a_value(&step.inside) {
        return String::new();
    }
    words(&step.inside).trim().to_string()
}

#[cfg(test)]
mod tests {
    use crate::page::testing::Sample;

    #[test]
    fn the_work_begins_at_the_first_hazard_over_the_first_step() {
        let begin = |text: &str| Sample::new(text).composed().value.begin;
        let one = begin(
            "Words.\n\n## Do it\n\n> **DANGER** Jet. It cuts. Wait.\n\n> **WARNING** Hot. It burns. Wait.\n\n1. Turn it.\n",
        )
        .unwrap();
        assert_eq!((one.to.as_str(), one.word.as_str()), ("danger", "DANGER"));
        assert_eq!(one.step, "Turn it.");
        // a hazard of another section belongs to that
        let one = begin("> **WARNING** Hot. It burns. Wait.\n\n## Do it\n\n1. Turn it.\n").unwrap();
        assert_eq!((one.to.as_str(), one.word.as_str()), ("step-1", ""));
        assert!(begin("Words alone.\n").is_none());
    }
}
