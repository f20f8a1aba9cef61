//! Files that know each other in a circle.

use std::collections::{BTreeMap, BTreeSet};

use petgraph::algo::{greedy_feedback_arc_set, tarjan_scc};
use petgraph::graph::DiGraph;
use petgraph::graphmap::DiGraphMap;
use petgraph::visit::EdgeRef;

use super::code::{Reference, To};

/// Files of which each leads to every other one.
#[derive(Debug)]
pub struct Ring {
    /// Indices into the crate's files.
    pub files: BTreeSet<usize>,
    /// The references within the ring.
    pub edges: BTreeMap<(usize, usize), Vec<Reference>>,
    /// A few edges without which nothing goes round.
    pub back: BTreeSet<(usize, usize)>,
}

/// The rings of two files or more, the largest first.
#[must_use]
pub fn rings(references: &[Reference]) -> Vec<Ring> {
    let mut graph = DiGraphMap::<usize, ()>::new();
    for reference in references {
        if let To::File(to) = reference.to {
            graph.add_edge(reference.from, to, ());
        }
    }
    let circles = tarjan_scc(&graph)
        .into_iter()
        .filter(|files| files.len() > 1);
    let mut rings: Vec<Ring> = circles
        .map(|files| ring(files.into_iter().collect(), references))
        .collect();
    rings.sort_by_key(|ring| (usize::MAX - ring.files.len(), ring.files.first().copied()));
    rings
}

fn ring(files: BTreeSet<usize>, references: &[Reference]) -> Ring {
    let mut edges = BTreeMap::<_, Vec<Reference>>::new();
    for reference in references {
        if let To::File(to) = reference.to
            && files.contains(&reference.from)
            && files.contains(&to)
        {
            let edge = edges.entry((reference.from, to)).or_default();
            edge.push(reference.clone());
        }
    }
    let back = back(&edges);
    Ring { files, edges, back }
}

fn back(edges: &BTreeMap<(usize, usize), Vec<Reference>>) -> BTreeSet<(usize, usize)> {
    // numbered from nought, which the search asks for
    let files: BTreeSet<usize> = edges.keys().map(|(from, _)| *from).collect();
    let files: Vec<usize> = files.into_iter().collect();
    let at = |file: &usize| files.binary_search(file).unwrap_or_default();
    let mut graph = DiGraph::<(), ()>::new();
    let nodes: Vec<_> = files.iter().map(|_| graph.add_node(())).collect();
    for (from, to) in edges.keys() {
        graph.add_edge(nodes[at(from)], nodes[at(to)], ());
    }
    greedy_feedback_arc_set(&graph)
        .map(|edge| (files[edge.source().index()], files[edge.target().index()]))
        .collect()
}
