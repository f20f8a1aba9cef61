//! Calculators that the yard doesn't use: nothing in the handbook knows of them.

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::finding::settings::Placed;
use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::whole::Handbook;
use crate::values::graph::Graph;

/// Takes them out of the graph. One whose result a kept calculator takes is told, and then all of
/// them stay: what would follow from its absence hides the fault.
pub fn leave_out(handbook: &Handbook, graph: &mut Graph) -> Vec<Finding> {
    let calculators = &graph.catalog.calculators;
    let known = |name: &&Placed<String>| calculators.contains_key(&name.value);
    let names: Vec<&Placed<String>> = handbook.leave_out.iter().filter(known).collect();
    let left = |name: &str| names.iter().any(|one| one.value == name);
    let kept: Vec<&Calculator> = calculators
        .values()
        .filter(|one| !left(&one.name))
        .collect();
    let findings: Vec<Finding> = names
        .iter()
        .filter_map(|name| still_taken(name, &kept))
        .collect();
    if findings.is_empty() {
        let drawn: Vec<String> = kept.iter().flat_map(|one| drawings(one)).collect();
        let catalog = &mut graph.catalog;
        let calculators = std::mem::take(&mut catalog.calculators);
        let (out, kept): (Vec<_>, Vec<_>) =
            calculators.into_iter().partition(|(name, _)| left(name));
        graph.left_out = out.into_iter().map(|(_, calculator)| calculator).collect();
        catalog.calculators = kept.into_iter().collect();
        let figures = std::mem::take(&mut catalog.figures);
        catalog.figures = figures
            .into_iter()
            .filter(|(path, _)| drawn.contains(path))
            .collect();
    }
    findings
}

fn still_taken(name: &Placed<String>, kept: &[&Calculator]) -> Option<Finding> {
    let takes = |one: &&&Calculator| {
        let mut sources = one.inputs.iter().filter_map(|input| input.from.as_ref());
        sources.any(|from| {
            let supplier = from.value.split_once('.');
            supplier.is_some_and(|(supplier, _)| supplier == name.value)
        })
    };
    let takers: Vec<&str> = kept.iter().filter(takes).map(|one| &*one.name).collect();
    let first = takers.first()?;
    let message = match takers.len() {
        1 => format!("`{}` is left out, and {first} takes its result", name.value),
        more => format!(
            "`{}` is left out, and {first} and {} more take its result",
            name.value,
            more - 1
        ),
    };
    let help = format!(
        "keep {}, or leave out {} too",
        name.value,
        takers.join(" and ")
    );
    Some(
        Finding::error(
            Code::StillTaken,
            "handbook.toml",
            name.span.clone(),
            message,
        )
        .help(help),
    )
}

/// The paths of a calculator's drawings.
fn drawings(calculator: &Calculator) -> impl Iterator<Item = String> {
    let files = calculator.figure.iter().chain(&calculator.map);
    files.map(|file| calculator.beside(file))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn left_out(names: &[&str]) -> (Graph, Vec<(String, Option<String>)>) {
        let placed = |name: &&str| Placed {
            value: (*name).to_string(),
            span: 0..name.len(),
        };
        let handbook = Handbook {
            leave_out: names.iter().map(placed).collect(),
            ..Handbook::default()
        };
        let mut graph = Graph::built_in();
        let told = leave_out(&handbook, &mut graph).into_iter();
        let told = told.map(|one| (one.message, one.help)).collect();
        (graph, told)
    }

    #[test]
    fn what_is_left_out_is_gone_with_its_figure() {
        let all = Graph::built_in().catalog;
        let (graph, told) = left_out(&["noise-exposure"]);
        assert_eq!(told, []);
        assert!(!graph.catalog.calculators.contains_key("noise-exposure"));
        assert_eq!(graph.catalog.calculators.len(), all.calculators.len() - 1);
        assert_eq!(graph.catalog.figures.len(), all.figures.len() - 1);
        let out = graph.left_out.iter().map(|one| one.name.as_str());
        assert_eq!(out.collect::<Vec<_>>(), ["noise-exposure"]);
    }

    #[test]
    fn one_whose_result_another_takes_stays_and_both_may_go() {
        let catalog = Graph::built_in().catalog;
        let pair = catalog.calculators.values().find_map(|taker| {
            let mut sources = taker.inputs.iter().filter_map(|input| input.from.as_ref());
            let (supplier, _) = sources.find_map(|from| from.value.split_once('.'))?;
            Some((taker.name.clone(), supplier.to_string()))
        });
        let (taker, supplier) = pair.expect("some calculator takes another's result");
        let (graph, told) = left_out(&[&supplier]);
        assert_eq!(told.len(), 1);
        assert!(
            told[0].0.contains(&format!("`{supplier}` is left out")),
            "{told:?}"
        );
        assert!(
            told[0].1.as_ref().is_some_and(|help| help.contains(&taker)),
            "{told:?}"
        );
        assert!(graph.catalog.calculators.contains_key(&supplier));
    }
}
