//! Addresses for what has none of its own until the whole page is known.

use crate::markdown::ids::Ids;
use crate::page::node::{BlockId, Node};

/// A hazard's address; its signal word has one too, made from it.
fn free(word: &str, ids: &mut Ids) -> String {
    loop {
        let id = ids.give(word);
        if !ids.contains(&format!("{id}-word")) {
            return id;
        }
    }
}

/// Gives hazards and another page's blocks their addresses, in the page's order.
pub fn number(nodes: &mut [Node], ids: &mut Ids) {
    for node in nodes {
        match node {
            Node::Hazard(hazard) => hazard.id = free(&hazard.word.to_lowercase(), ids),
            Node::Block(block) => {
                if let BlockId::Like(name) = &block.id {
                    block.id = BlockId::Given(ids.give(name));
                }
            }
            _ => {}
        }
        for part in node.parts_mut() {
            number(part, ids);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    #[test]
    fn a_hazards_word_takes_no_headings_address() {
        let (html, _) = printed("## Warning word\n\n> **WARNING** Hot. It burns. Wait.\n");
        assert_eq!(html.matches("id=\"warning-word\"").count(), 1, "{html}");
        assert!(html.contains("id=\"warning-2\""), "{html}");
    }
}
