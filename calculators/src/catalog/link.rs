//! Finds circles: calculators that need each other's results.

use super::Catalog;
use gaugeleaf_finding::{Code, Finding};

/// One finding for each calculator that needs its own result.
pub(super) fn circles(catalog: &Catalog) -> Vec<Finding> {
    let mut findings = Vec::new();
    for calculator in catalog.calculators.values() {
        for input in &calculator.inputs {
            let Some(from) = &input.from else {
                continue;
            };
            if let Some(path) = back_to(catalog, &calculator.name, &from.value) {
                let message = format!(
                    "`{}` needs its own result: {}",
                    calculator.name,
                    path.join(" → ")
                );
                findings.push(
                    Finding::error(Code::Circle, &calculator.file, from.span.clone(), message)
                        .help("take one of these inputs from a measurement or a rating")
                        .breaks([calculator.name.clone()]),
                );
            }
        }
    }
    findings
}

/// The chain of calculators by which `from` comes back to `start`.
fn back_to(catalog: &Catalog, start: &str, from: &str) -> Option<Vec<String>> {
    let mut stack = vec![(from.to_string(), vec![start.to_string()])];
    let mut seen: Vec<String> = Vec::new();
    while let Some((from, mut path)) = stack.pop() {
        let Some((name, _)) = from.split_once('.') else {
            continue;
        };
        path.push(name.to_string());
        if name == start {
            return Some(path);
        }
        if seen.iter().any(|seen| seen == name) {
            continue;
        }
        seen.push(name.to_string());
        if let Some(calculator) = catalog.calculators.get(name) {
            let sources = calculator
                .inputs
                .iter()
                .filter_map(|input| input.from.as_ref());
            stack.extend(sources.map(|from| (from.value.clone(), path.clone())));
        }
    }
    None
}
