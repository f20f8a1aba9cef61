//! What a changed value is laid to.

use std::collections::BTreeMap;

use super::{ledger, page, value};
use crate::compare::cause::CauseKind;
use crate::compare::compare;
use crate::compare::read::{CalculatorRead, EditionLedger, InputRead};
use crate::values::act::{Act, ActKind};

/// A calculator by its inputs and what supplies each.
fn calculator(name: &str, inputs: &[(&str, &str)]) -> CalculatorRead {
    let input = |(name, from): &(&str, &str)| {
        let read = InputRead {
            label: format!("Label of {name}"),
            from: from.to_string(),
        };
        (name.to_string(), read)
    };
    CalculatorRead {
        name: name.to_string(),
        title: format!("Title of {name}"),
        inputs: inputs.iter().map(input).collect::<BTreeMap<_, _>>(),
    }
}

#[test]
fn a_value_is_followed_to_the_rating_beneath_another_calculator() {
    let calculators = vec![
        calculator("cut", &[("length", "guide.length")]),
        calculator("guide", &[("stock", "stock_tube"), ("depth", "depth")]),
    ];
    let of = |fingerprint: &str, stock: &str, length: &str, cut: &str, inner: bool| {
        let mut values = vec![
            value("a.html", "cut.mark", cut, &[("length", length)]),
            value("b.html", "stock_tube", stock, &[]),
        ];
        // printed or not, the way leads through it
        if inner {
            let inputs = [("stock", stock), ("depth", "9 in")];
            values.push(value("c.html", "guide.length", length, &inputs));
        }
        let pages = ["a.html", "b.html", "c.html"];
        let pages = pages.map(|url| page(url, fingerprint, vec![]));
        EditionLedger {
            calculators: calculators.clone(),
            ..ledger(pages.to_vec(), values)
        }
    };
    for inner in [false, true] {
        let old = of("1", "12 in", "21 in", "30 in", inner);
        let new = of("2", "13 in", "22 in", "31 in", inner);
        let found = compare(&old, &new);
        let causes: Vec<_> = found
            .causes
            .iter()
            .map(|one| (one.kind, one.name.as_str()))
            .collect();
        assert_eq!(causes, [(CauseKind::Rating, "stock_tube")], "{inner}");
        let cards = found.causes[0].cards.len();
        assert_eq!(cards, 2 + usize::from(inner));
    }
}

#[test]
fn a_value_that_its_page_gives_otherwise_is_not_laid_to_the_rating_of_that_name() {
    let of = |fingerprint: &str, stock: &str, depth: &str, length: &str| {
        let values = vec![
            value("a.html", "guide.length", length, &[("depth", depth)]),
            value("b.html", "depth", stock, &[]),
        ];
        let pages = vec![
            page("a.html", fingerprint, vec![]),
            page("b.html", fingerprint, vec![]),
        ];
        EditionLedger {
            calculators: vec![calculator("guide", &[("depth", "depth")])],
            ..ledger(pages, values)
        }
    };
    let found = compare(
        &of("1", "12 in", "1 in", "4 in"),
        &of("2", "13 in", "2 in", "5 in"),
    );
    let first = &found.cards[0].changes[0];
    assert_eq!(found.causes[first.because[0]].kind, CauseKind::Input);
}

#[test]
fn formulas_tables_rounding_and_sources_are_causes() {
    let formula = |text: &str| Act::new(ActKind::Formula, text);
    let of = |fingerprint: &str, text: &str, said: Vec<Act>, url: &str| {
        let pages = vec![
            page("a.html", fingerprint, vec![]),
            page(url, fingerprint, said),
        ];
        EditionLedger {
            calculators: vec![calculator("guide", &[])],
            ..ledger(pages, vec![value("a.html", "guide.length", text, &[])])
        }
    };
    let kinds = |old: &EditionLedger, new: &EditionLedger| -> Vec<CauseKind> {
        compare(old, new)
            .causes
            .iter()
            .map(|one| one.kind)
            .collect()
    };
    let url = "calculators/guide.html";
    let old = of(
        "1",
        "4 in",
        vec![
            formula("Label of guide.length = a + b"),
            formula("stop a < b: no"),
        ],
        url,
    );
    let new = of(
        "2",
        "5 in",
        vec![
            formula("Label of guide.length = a + 2 × b"),
            formula("stop a < b: no"),
        ],
        url,
    );
    assert_eq!(kinds(&old, &new), [CauseKind::Formula]);
    // a verdict's case moves no value
    let case = of(
        "2",
        "5 in",
        vec![
            formula("Label of guide.length = a + b"),
            formula("stop a < 2 b: no"),
        ],
        url,
    );
    assert_eq!(kinds(&old, &case), []);

    let row = |text: &str| vec![Act::new(ActKind::Row, text)];
    let mut old = of("1", "4 in", row("4 | 5"), "tables/gauges.html");
    let mut new = of("2", "5 in", row("4 | 6"), "tables/gauges.html");
    for one in [&mut old, &mut new] {
        one.values[0].formula = "lookup(\"gauges\", \"wall\", \"gauge\", a)".to_string();
    }
    assert_eq!(kinds(&old, &new), [CauseKind::Table]);

    let mut old = of("1", "4 in", vec![], "b.html");
    let mut new = of("2", "4.0 in", vec![], "b.html");
    old.values[0].si = Some(0.1016);
    new.values[0].si = Some(0.1016);
    assert_eq!(kinds(&old, &new), [CauseKind::Printing]);
    new.values[0].si = Some(0.1017);
    new.values[0].source = "another book".to_string();
    assert_eq!(kinds(&old, &new), [CauseKind::Source]);
}

#[test]
fn a_ledger_that_leads_in_a_circle_ends() {
    let of = |fingerprint: &str, text: &str| {
        let calculators = vec![
            calculator("a", &[("x", "b.y")]),
            calculator("b", &[("x", "a.y")]),
        ];
        let values = vec![
            value("a.html", "a.y", text, &[("x", text)]),
            value("a.html", "b.y", text, &[("x", text)]),
        ];
        EditionLedger {
            calculators,
            ..ledger(vec![page("a.html", fingerprint, vec![])], values)
        }
    };
    let found = compare(&of("1", "4 in"), &of("2", "5 in"));
    assert_eq!(found.cards[0].changes.len(), 2);
}
