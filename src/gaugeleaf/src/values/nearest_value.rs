//! Which of some values stands nearest to a check: where a stop is told.

use std::collections::VecDeque;

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::calculator::{Calculator, Check};

/// The first measurement or rating with a place that is met on the way from a check to what it
/// hangs on: what its case reads comes first, then what its calculator takes, then what
/// supplies that.
pub fn nearest_value<'c, P>(
    catalog: &'c Catalog,
    calculator: &'c Calculator,
    from: Vec<&'c str>,
    place: impl Fn(&str) -> Option<P>,
) -> Option<P> {
    let mut ways: VecDeque<(&Calculator, Vec<&str>)> = VecDeque::from([(calculator, from)]);
    let mut met: Vec<(&str, Vec<&str>)> = Vec::new();
    while let Some((calculator, names)) = ways.pop_front() {
        let known = met.iter().any(|(of, known)| {
            *of == calculator.name && names.iter().all(|name| known.contains(name))
        });
        if known {
            continue;
        }
        met.push((&calculator.name, names.clone()));
        let mut beyond = Vec::new();
        for name in calculator.behind(names.into_iter()) {
            let from = calculator.input(name).and_then(|input| input.from.as_ref());
            let Some(from) = from else { continue };
            match from.value.split_once('.') {
                None => {
                    if let Some(found) = place(&from.value) {
                        return Some(found);
                    }
                }
                Some((supplier, output)) => beyond.push((supplier, output)),
            }
        }
        for (supplier, output) in beyond {
            if let Some(supplier) = catalog.calculators.get(supplier) {
                ways.push_back((supplier, vec![output]));
            }
        }
    }
    None
}

/// What a check reads, with the case first that was met.
pub fn read_by<'c>(check: &'c Check, met: Option<usize>) -> Vec<&'c str> {
    let first = met.and_then(|at| check.cases.get(at));
    let cases = first.into_iter().chain(&check.cases);
    let conditions = cases.filter_map(|case| case.when.as_ref());
    let mut names: Vec<&'c str> = Vec::new();
    for name in conditions.flat_map(|(when, _)| when.names()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::values::graph::Graph;

    fn nearest(calculator: &str, held: &[&str]) -> Option<String> {
        let catalog = Graph::built_in().catalog;
        let calculator = &catalog.calculators[calculator];
        let check = calculator.checks.last().expect("each checks something");
        let from = read_by(check, Some(0));
        nearest_value(&catalog, calculator, from, |name| {
            held.contains(&name).then(|| name.to_string())
        })
    }

    #[test]
    fn a_value_of_the_case_itself_comes_before_those_beneath() {
        let ratings = ["gauge_rating", "pump_rating", "working_pressure"];
        assert_eq!(
            nearest("pressure-rating", &ratings).as_deref(),
            Some("working_pressure")
        );
        assert_eq!(
            nearest("pressure-rating", &ratings[..2]).as_deref(),
            Some("pump_rating")
        );
        assert_eq!(nearest("pressure-rating", &["tube_od"]), None);
    }

    #[test]
    fn what_supplies_an_input_is_met_after_what_the_calculator_takes() {
        let catalog = Graph::built_in().catalog;
        // every value that any check hangs on can be found from it
        for calculator in catalog.calculators.values() {
            for check in &calculator.checks {
                let from = read_by(check, None);
                let taken = calculator.behind(from.iter().copied());
                let mut met = Vec::new();
                let met_all = std::cell::RefCell::new(&mut met);
                let none: Option<()> = nearest_value(&catalog, calculator, from, |name| {
                    met_all.borrow_mut().push(name.to_string());
                    None
                });
                assert_eq!(none, None);
                let own = calculator.inputs.iter().filter(|input| {
                    let from = input.from.as_ref();
                    from.is_some_and(|from| !from.value.contains('.'))
                        && taken.contains(&input.field.name.as_str())
                });
                let own = own.count();
                for input in &calculator.inputs {
                    let from = input.from.as_ref().map_or("", |from| &from.value);
                    let at = met.iter().position(|name| name == from);
                    if taken.contains(&input.field.name.as_str()) && !from.contains('.') {
                        assert!(from.is_empty() || at.is_some_and(|at| at < own), "{from}");
                    }
                }
            }
        }
    }
}
