//! Today's rooms as rows for the table, for a crate that comes into it.

use std::fmt::Write;

use petgraph::algo::tarjan_scc;
use petgraph::graphmap::DiGraphMap;

use super::survey::Surveyed;

/// A row a room, what stands on nothing first. Those that know each other in a circle come
/// together, under a remark.
#[must_use]
pub fn rows(surveyed: &Surveyed, crates: &[Surveyed]) -> String {
    let rooms = surveyed.rooms();
    let known = surveyed.knowledge();
    let mut graph = DiGraphMap::<&str, ()>::new();
    for room in &rooms {
        graph.add_node(room);
    }
    for (from, to) in known.keys().filter(|(_, to)| rooms.contains(to)) {
        graph.add_edge(from, to, ());
    }
    let mut text = String::new();
    for mut together in tarjan_scc(&graph) {
        together.sort_unstable();
        if together.len() > 1 {
            let _ = writeln!(text, "  # in a circle: {}", together.join(", "));
        }
        for room in together {
            let of_room = known.keys().filter(|(from, _)| *from == room);
            let listed: Vec<&str> = of_room
                .map(|(_, to)| *to)
                .filter(|to| rooms.contains(to) || crates.iter().any(|one| one.name == *to))
                .collect();
            let _ = writeln!(
                text,
                "  {{ name = {room:?}, what = \"\", knows = {listed:?} }},"
            );
        }
    }
    text
}
