//! On a page of faults each row of a table is a place of its own: a search leads to the symptom.

use pulldown_cmark::Tag;

use crate::markdown::ids::{Ids, slug};
use crate::page::node::{Node, words};

/// Gives each row of the page's tables an address, by the words of its first cell.
pub fn rows(nodes: &mut [Node], ids: &mut Ids) {
    for node in nodes {
        if let Node::Tag(Tag::TableRow, cells) = node {
            let cells = std::mem::take(cells);
            // a value may change, and its row stays where it was
            let cell = cells.iter().take(1).flat_map(Node::parts).flatten();
            let said = cell.filter(|part| !matches!(part, Node::Shown(_)));
            let first = words(&said.cloned().collect::<Vec<_>>());
            *node = Node::Row {
                id: ids.give(&slug(&first)),
                cells,
            };
        }
        for part in node.parts_mut() {
            rows(part, ids);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::page::sections::SectionKind;
    use crate::page::testing::Sample;

    const WALK: &str = "```walk\nproof = \"Again.\"\nlost = \"Stop.\"\n```\n";
    const FAULTS: &str = "# T\n\n1. Let go.\n\n## Air\n\n| Symptom | Remedy |\n|---|---|\n| A *hose* hisses [](value:clamp_pressure) | Change it |\n| Air | Shut it |\n";

    #[test]
    fn a_row_has_an_address_of_its_own_and_is_found_by_its_first_cell() {
        let sample = Sample::new(&format!("{WALK}\n\n{FAULTS}"));
        let (html, findings) = sample.printed();
        assert_eq!(findings, []);
        assert!(html.contains("<tr id=\"a-hose-hisses\"><td>"), "{html}");
        // a heading has its address first
        assert!(html.contains("<tr id=\"air-2\"><td>"), "{html}");
        let sections = sample.composed().value.sections;
        let row = sections.iter().find(|one| one.id == "a-hose-hisses");
        let row = row.expect("it is found");
        assert_eq!(
            (row.kind, row.title.as_str(), row.text.as_str()),
            (SectionKind::Row, "A hose hisses 58\u{A0}psi", "Change it")
        );
    }

    #[test]
    fn a_row_of_another_page_has_none() {
        let (html, _) = Sample::new(FAULTS).printed();
        assert!(
            html.contains("<tr><td>") && !html.contains("<tr id"),
            "{html}"
        );
    }
}
