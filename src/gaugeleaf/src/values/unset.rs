//! What the handbook lacks: ratings that no kit sets, and measurements that its job doesn't give.

use std::collections::BTreeMap;

use gaugeleaf_calc::Names;
use gaugeleaf_calc::calculator::Leaf;
use gaugeleaf_calc::catalog::Whose;
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::named::Role;

use crate::values::graph::Graph;

/// More are counted.
pub const MOST_NAMED: usize = 5;

/// The one warning of a handbook whose calculators lack values: what to set first, by how many
/// calculators wait for it.
pub fn nothing_set(graph: &Graph) -> Option<Finding> {
    let given = Names::new();
    let job = graph.catalog.job_of(&Whose::Page { given });
    let sheet = graph.catalog.setup_sheet(&job);
    let mut waiting: BTreeMap<&str, (usize, Option<Role>)> = BTreeMap::new();
    let mut stuck = 0;
    for answer in &sheet.answers {
        let needs = answer.unset.iter().flat_map(|input| &input.needs);
        let mut own: Vec<&Leaf> = needs.filter(|leaf| leaf.role.is_some()).collect();
        own.sort_by_key(|leaf| &leaf.name);
        own.dedup_by_key(|leaf| &leaf.name);
        stuck += usize::from(!own.is_empty());
        for leaf in own {
            waiting.entry(&leaf.name).or_insert((0, leaf.role)).0 += 1;
        }
    }
    let mut first: Vec<(&str, (usize, Option<Role>))> = waiting.into_iter().collect();
    // of those that as many wait for, the ratings: a kit serves every job
    first.sort_by_key(|(_, (count, role))| (usize::MAX - count, *role != Some(Role::Rating)));
    let names: Vec<&str> = first.iter().map(|(name, _)| *name).collect();
    if names.is_empty() {
        return None;
    }
    let of = match stuck {
        1 => "a calculator stands".to_string(),
        stuck => format!("{stuck} calculators stand"),
    };
    let message = format!(
        "{of} without a result: nobody has set or measured {}",
        listed(&names)
    );
    Some(
        Finding::warning(Code::NothingSet, "handbook.toml", 0..0, message)
            .follows(["kit"])
            .help(
                "write what the equipment fixes under [rating] in content/equipment/NAME.toml, \
                 with its source, and what is measured under given",
            ),
    )
}

/// The first few, and how many more there are.
pub fn listed(names: &[&str]) -> String {
    let (shown, more) = names.split_at(names.len().min(MOST_NAMED));
    match (shown, more.len()) {
        ([before @ .., last], 0) if !before.is_empty() => {
            format!("{} and {last}", before.join(", "))
        }
        (shown, 0) => shown.concat(),
        (shown, more) => format!("{} and {more} more", shown.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::testing::demonstration;

    #[test]
    fn five_are_named_and_the_rest_are_counted() {
        assert_eq!(listed(&[]), "");
        assert_eq!(listed(&["a"]), "a");
        assert_eq!(listed(&["a", "b", "c"]), "a, b and c");
        assert_eq!(listed(&["a", "b", "c", "d", "e"]), "a, b, c, d and e");
        assert_eq!(
            listed(&["a", "b", "c", "d", "e", "f", "g"]),
            "a, b, c, d, e and 2 more"
        );
    }

    #[test]
    fn what_most_calculators_wait_for_is_told_first() {
        let graph = Graph::built_in();
        let told = nothing_set(&graph).expect("nothing is set");
        assert_eq!(told.code, Code::NothingSet);
        let named = told.message.split_once("measured ").expect("names").1;
        assert_eq!(named.matches(", ").count(), MOST_NAMED - 1, "{named}");
        assert!(named.ends_with(" more"), "{named}");
        // the flow stands under most of the water's calculators
        assert!(named.contains("pump_flow"), "{named}");
    }

    #[test]
    fn a_handbook_with_kit_and_job_lacks_nothing_and_one_value_less_is_named() {
        let mut graph = demonstration();
        assert_eq!(nothing_set(&graph), None);
        let given = std::mem::take(&mut graph.catalog.own.given);
        let less = given
            .into_iter()
            .filter(|(name, _)| name != "channel_depth");
        graph.catalog.own.given = less.collect();
        let told = nothing_set(&graph).expect("the depth is lacking");
        assert!(
            told.message.ends_with("measured channel_depth"),
            "{}",
            told.message
        );
    }
}
