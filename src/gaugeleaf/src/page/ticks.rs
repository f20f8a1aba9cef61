//! What a crew ticks on a page: its steps, and the items of its tick lists.

use std::collections::BTreeSet;

use crate::page::node::Node;

/// How many ticks a page has. Two that share a key are ticked as one.
pub fn ticks(nodes: &[Node]) -> usize {
    let mut keys = BTreeSet::new();
    add(nodes, &mut keys);
    keys.len()
}

fn add<'n>(nodes: &'n [Node], keys: &mut BTreeSet<&'n str>) {
    for node in nodes {
        match node {
            Node::Steps(steps) => keys.extend(steps.iter().map(|step| step.key.as_str())),
            Node::Block(block) => keys.extend(block.ticks.iter().map(String::as_str)),
            _ => {}
        }
        node.parts().for_each(|part| add(part, keys));
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::Sample;

    #[test]
    fn steps_and_items_are_ticks_and_the_fingerprint_is_another_when_one_changes() {
        let page = |last: &str| {
            let text = format!(
                "# T\n\n1. Shut it.\n2. Open it.\n\n- No tick.\n\n```checks\nitems = [ {{ do = \"Gauge\", want = \"{last}\" }} ]\ndone = \"x\"\n```\n"
            );
            Sample::new(&text).composed().value
        };
        assert_eq!(page("zero").ticks, 3);
        assert_eq!(page("zero").fingerprint, page("zero").fingerprint);
        assert_ne!(page("zero").fingerprint, page("still").fingerprint);
    }
}
