//! Addresses for what has none of its own until the whole page is known.

use crate::markdown::ids::Ids;
use crate::page::node::{BlockId, Node};

/// Gives hazards and another page's blocks their addresses, in the page's order.
pub fn number(nodes: &mut [Node], ids: &mut Ids) {
    for node in nodes {
        match node {
            Node::Hazard(hazard) => hazard.id = ids.give(&hazard.word.to_lowercase()),
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
