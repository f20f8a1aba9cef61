//! The first mention of a term in each section leads to what it means.

use std::collections::BTreeSet;
use std::ops::Range;

use pulldown_cmark::Tag;

use crate::handbook::words::{GlossaryTerm, mention};
use crate::page::node::Node;
use crate::page::route::Route;

/// Links the terms; never in headings, links, code, hazards and other quotes.
pub fn terms(nodes: Vec<Node>, terms: &[GlossaryTerm], glossary: &Route) -> Vec<Node> {
    let mut linker = Linker {
        terms,
        glossary,
        met: BTreeSet::new(),
    };
    linker.read(nodes)
}

struct Linker<'l> {
    terms: &'l [GlossaryTerm],
    /// The page that tells what they mean.
    glossary: &'l Route,
    /// Those of this section that are linked already.
    met: BTreeSet<&'l str>,
}

impl Linker<'_> {
    fn read(&mut self, nodes: Vec<Node>) -> Vec<Node> {
        let mut out = Vec::with_capacity(nodes.len());
        for mut node in nodes {
            match &node {
                Node::Text(text) => {
                    let linked = self.linked(text);
                    out.extend(linked);
                    continue;
                }
                Node::Heading { .. } => self.met.clear(),
                _ => {}
            }
            if !shut(&node) {
                for part in node.parts_mut() {
                    *part = self.read(std::mem::take(part));
                }
            }
            out.push(node);
        }
        out
    }

    /// A text with its first mentions linked; of two that overlap, the longer.
    fn linked(&mut self, text: &str) -> Vec<Node> {
        let mut found = Vec::new();
        for term in self.terms {
            if !self.met.contains(term.name.as_str())
                && let Some(range) = mention(text, &term.name)
            {
                found.push((range, term));
            }
        }
        found.sort_by_key(|(range, _)| (std::cmp::Reverse(range.len()), range.start));
        let mut kept: Vec<(Range<usize>, &GlossaryTerm)> = Vec::new();
        for (range, term) in found {
            let apart = |other: &Range<usize>| other.end <= range.start || range.end <= other.start;
            if kept.iter().all(|(other, _)| apart(other)) {
                self.met.insert(term.name.as_str());
                kept.push((range, term));
            }
        }
        kept.sort_by_key(|(range, _)| range.start);
        let mut nodes = Vec::new();
        let mut at = 0;
        for (range, term) in kept {
            nodes.push(Node::Text(text[at..range.start].to_string()));
            let to = self.glossary.clone().at(&term.id);
            nodes.push(Node::Term(to, text[range.clone()].to_string()));
            at = range.end;
        }
        nodes.push(Node::Text(text[at..].to_string()));
        nodes
    }
}

/// Whether terms aren't linked in it.
fn shut(node: &Node) -> bool {
    match node {
        Node::Tag(tag, _) => matches!(tag, Tag::Link { .. } | Tag::BlockQuote(_) | Tag::TableHead),
        Node::Heading { .. } | Node::Link { .. } | Node::Hazard(_) => true,
        Node::Block(block) => !block.prose,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(nodes: &[Node]) -> Vec<String> {
        let one = |node: &Node| match node {
            Node::Term(to, text) => format!("{text} -> {}", to.anchor),
            Node::Text(text) => text.clone(),
            node => format!("{node:?}"),
        };
        nodes.iter().map(one).collect()
    }

    #[test]
    fn the_first_mention_is_linked_and_the_longer_term_wins() {
        let term = |name: &str| GlossaryTerm {
            name: name.into(),
            id: format!("term-{}", name.replace(' ', "-")),
            ..GlossaryTerm::default()
        };
        let all = [term("dump"), term("tube"), term("tube sheet")];
        let text = "The tube sheet, a tube, the dump, the dump.";
        let glossary = Route::page("content/words.md");
        let linked = terms(vec![Node::Text(text.to_string())], &all, &glossary);
        assert_eq!(
            said(&linked),
            [
                "The ",
                "tube sheet -> term-tube-sheet",
                ", a tube, the ",
                "dump -> term-dump",
                ", the dump."
            ]
        );
    }
}
