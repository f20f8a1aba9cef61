//! Footnotes stand together at the foot of the page, wherever they were written.

use std::collections::BTreeMap;

use gaugeleaf_calc::finding::Code;
use pulldown_cmark::Event;

use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::{Node, Note};

/// Numbers the references in the order they are met and gathers the notes.
pub fn footnotes(mut nodes: Vec<Node>, context: &Context) -> Composed<Vec<Node>> {
    let mut all = Composed::of(());
    let mut notes: BTreeMap<String, Note> = BTreeMap::new();
    lift(&mut nodes, &mut |note| {
        let (label, range) = (note.label.clone(), note.range.clone());
        if notes.insert(label.clone(), note).is_some() {
            let message = format!("there are two footnotes [^{label}]");
            let finding = context.error(Code::SameFootnote, range, message);
            all.findings
                .push(finding.help("give each footnote a name of its own"));
        }
    });
    let mut numbers: Vec<String> = Vec::new();
    number(&mut nodes, &mut numbers);
    let mut kept = Vec::new();
    // a note may refer to another
    while let Some(label) = numbers.get(kept.len()) {
        let mut note = notes
            .remove(label)
            .map(|note| note.inside)
            .unwrap_or_default();
        number(&mut note, &mut numbers);
        kept.push(note);
    }
    for (label, note) in notes {
        let message = format!("nothing refers to the footnote [^{label}]");
        all.findings.push(
            context
                .warning(Code::UnusedFootnote, note.range, message)
                .help(format!("write [^{label}] where it belongs, or delete it")),
        );
    }
    if !kept.is_empty() {
        nodes.push(Node::Notes(kept));
    }
    all.with(nodes)
}

/// Takes the notes out of a text.
fn lift(nodes: &mut Vec<Node>, note: &mut impl FnMut(Note)) {
    // most texts have none, and stay where they are
    if !nodes.iter().any(|node| matches!(node, Node::Note(_))) {
        let parts = nodes.iter_mut().flat_map(Node::parts_mut);
        return parts.for_each(|part| lift(part, note));
    }
    for node in std::mem::take(nodes) {
        match node {
            Node::Note(one) => note(one),
            mut node => {
                for part in node.parts_mut() {
                    lift(part, note);
                }
                nodes.push(node);
            }
        }
    }
}

/// Gives the references of a text their numbers; the way back leads to the first that names a note.
fn number(nodes: &mut [Node], numbers: &mut Vec<String>) {
    for node in nodes {
        if let Node::Leaf(Event::FootnoteReference(label)) = node {
            let known = numbers.iter().position(|one| **one == **label);
            let number = known.unwrap_or(numbers.len()) + 1;
            if known.is_none() {
                numbers.push(label.to_string());
            }
            let first = known.is_none();
            *node = Node::NoteMark { number, first };
            continue;
        }
        for part in node.parts_mut() {
            number(part, numbers);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    #[test]
    fn notes_are_numbered_as_met_and_stand_at_the_foot() {
        let (html, findings) = printed("[^b]: Second.\n\na[^a] b[^b] a[^a]\n\n[^a]: First.\n");
        assert_eq!(findings, []);
        assert!(
            html.starts_with("<p>a<sup id=\"note-1-from\"><a href=\"#note-1\">1</a></sup>"),
            "{html}"
        );
        assert!(html.contains("<li id=\"note-1\">\n<p>First.</p>"), "{html}");
        assert_eq!(html.matches("note-1-from\">").count(), 2, "{html}");
    }
}
