//! Comparisons of small ledgers.

use std::collections::BTreeMap;

use crate::compare::read::{CalculatorRead, EditionLedger, InputRead, PageRead, ValueRead};
use crate::compare::told::Wording;
use crate::compare::why::CauseKind;
use crate::compare::*;
use crate::values::act::{Act, ActKind};

fn page(url: &str, fingerprint: &str, acts: Vec<Act>) -> PageRead {
    PageRead {
        page: url.to_string(),
        title: format!("Title of {url}"),
        fingerprint: fingerprint.to_string(),
        acts,
    }
}

fn value(page: &str, name: &str, text: &str, inputs: &[(&str, &str)]) -> ValueRead {
    let given = inputs.iter().map(|(name, text)| format!("{name} {text}"));
    ValueRead {
        page: page.to_string(),
        name: name.to_string(),
        label: format!("Label of {name}"),
        text: text.to_string(),
        given: Some(given.collect::<Vec<_>>().join(", ")),
        inputs: inputs
            .iter()
            .map(|(name, text)| (name.to_string(), text.to_string()))
            .collect(),
        formula: "a + b".to_string(),
        ground: "rated".to_string(),
        ..ValueRead::default()
    }
}

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

fn ledger(pages: Vec<PageRead>, values: Vec<ValueRead>) -> EditionLedger {
    EditionLedger {
        version: 1,
        revision: "A".to_string(),
        pages: Some(pages),
        values,
        ..EditionLedger::default()
    }
}

fn step(number: usize, text: &str) -> Act {
    Act::new(ActKind::Step, format!("{number}. {text}"))
}

/// Kind, way and texts of what changed on the one card that did.
fn told(old: &EditionLedger, new: &EditionLedger) -> Vec<(ChangeKind, ChangeWay, String, String)> {
    let found = compare(old, new);
    assert_eq!(found.cards.len(), 1, "{:?}", found.cards);
    let changes = found.cards[0].changes.iter();
    let told = changes.map(|one| (one.kind, one.is, one.from.clone(), one.to.clone()));
    told.collect()
}

fn texts(from: &str, to: &str) -> (String, String) {
    (from.to_string(), to.to_string())
}

#[test]
fn a_page_with_the_same_fingerprint_is_as_it_was() {
    let old = ledger(
        vec![page("a.html", "1", vec![])],
        vec![value("a.html", "r", "1 in", &[])],
    );
    // the source alone: no reader acts on it
    let mut new = old.clone();
    new.values[0].source = "another plate".to_string();
    let found = compare(&old, &new);
    assert!(found.cards.is_empty() && found.causes.is_empty());
    assert!(
        !found.same_revision(),
        "nothing differs, so nothing is wrong"
    );
}

#[test]
fn new_and_gone_pages_are_told_apart_from_changed_ones() {
    let old = ledger(
        vec![page("a.html", "1", vec![]), page("b.html", "2", vec![])],
        vec![],
    );
    let new = ledger(
        vec![page("c.html", "3", vec![]), page("a.html", "1", vec![])],
        vec![],
    );
    let found = compare(&old, &new);
    let states: Vec<_> = found
        .cards
        .iter()
        .map(|one| (one.page.as_str(), one.state))
        .collect();
    assert_eq!(
        states,
        [("c.html", CardState::New), ("b.html", CardState::Gone)]
    );
    assert_eq!(found.to_print(), 1);
    let wording = Wording {
        of: &found,
        arrow: "->",
    };
    assert_eq!(
        wording.count(),
        "1 of 2 cards to print anew, 1 of them new; 1 card to take out of use."
    );
    assert!(wording.warnings()[0].contains("Both call themselves revision A"));
}

#[test]
fn hazards_come_first_and_the_worst_card_comes_first() {
    let act = |kind, text: &str| Act::new(kind, text);
    let old = vec![
        act(ActKind::Picture, "a.svg 1"),
        step(1, "Open it."),
        act(ActKind::Hazard, "WARNING Hot."),
    ];
    let new = vec![
        act(ActKind::Picture, "a.svg 2"),
        step(1, "Shut it."),
        act(ActKind::Hazard, "DANGER Hot."),
    ];
    let row = |text: &str| vec![act(ActKind::Row, text)];
    let before = ledger(
        vec![page("a.html", "1", row("a | b")), page("b.html", "1", old)],
        vec![],
    );
    let after = ledger(
        vec![page("a.html", "2", row("a | c")), page("b.html", "2", new)],
        vec![],
    );
    let found = compare(&before, &after);
    assert_eq!(found.cards[0].page, "b.html");
    let kinds: Vec<_> = found.cards[0].changes.iter().map(|one| one.kind).collect();
    assert_eq!(
        kinds,
        [ChangeKind::Hazard, ChangeKind::Step, ChangeKind::Picture]
    );
    assert_eq!(found.cards[0].changes[2].what, "a.svg");
}

#[test]
fn a_step_in_front_is_told_with_one_run_of_new_numbers() {
    let lines = ["Open the drain.", "Wait for it.", "Shut the drain."];
    let old: Vec<Act> = lines
        .iter()
        .zip(1..)
        .map(|(text, at)| step(at, text))
        .collect();
    let mut new = vec![step(1, "Lock the pump.")];
    new.extend(lines.iter().zip(2..).map(|(text, at)| step(at, text)));
    let before = ledger(vec![page("a.html", "1", old)], vec![]);
    let after = ledger(vec![page("a.html", "2", new)], vec![]);
    let (nothing, said) = texts("", "Lock the pump.");
    assert_eq!(
        told(&before, &after),
        [
            (ChangeKind::Step, ChangeWay::Added, nothing.clone(), said),
            (
                ChangeKind::Step,
                ChangeWay::Renumbered,
                nothing.clone(),
                nothing
            )
        ]
    );
    let found = compare(&before, &after);
    let wording = Wording {
        of: &found,
        arrow: "->",
    };
    let heads: Vec<String> = wording
        .card(&found.cards[0])
        .into_iter()
        .map(|one| one.head)
        .collect();
    assert_eq!(heads, ["New step 1", "Steps 1 to 3 are now steps 2 to 4"]);
}

#[test]
fn a_step_that_differs_by_a_value_alone_says_which() {
    let acts = |text: &str| vec![step(1, text), step(2, "Measure 4\u{a0}in off.")];
    let of = |text: &str, fingerprint: &str, said: &str| {
        ledger(
            vec![page("a.html", fingerprint, acts(said))],
            vec![value("a.html", "length", text, &[])],
        )
    };
    let old = of("4 in", "1", "Cut at 4\u{a0}in.");
    let new = of("5 1/2 in", "2", "Cut at 5\u{a0}1/2\u{a0}in.");
    let found = compare(&old, &new);
    let change = &found.cards[0].changes[0];
    assert_eq!(
        (change.reads.len(), change.because.as_slice()),
        (1, &[0][..])
    );
    let wording = Wording {
        of: &found,
        arrow: "->",
    };
    let head = &wording.card(&found.cards[0])[0].head;
    assert_eq!(
        head.replace('\u{a0}', " "),
        "Step 1: only Label of length 4 in -> 5 1/2 in"
    );
    // nor does its own number count
    let acts = vec![
        step(1, "Stop."),
        step(2, "Cut at 5\u{a0}1/2\u{a0}in."),
        step(3, "Measure 4\u{a0}in off."),
    ];
    let moved = ledger(vec![page("a.html", "2", acts)], new.values.clone());
    let found = compare(&old, &moved);
    let wording = Wording {
        of: &found,
        arrow: "->",
    };
    let heads = wording
        .card(&found.cards[0])
        .into_iter()
        .map(|one| one.head.replace('\u{a0}', " "));
    assert_eq!(
        heads.take(3).collect::<Vec<_>>(),
        [
            "New step 1",
            "Step 2 (was 1): only Label of length 4 in -> 5 1/2 in",
            "Step 2 is now step 3"
        ]
    );
    // a word beside the value is a change of its own
    let other = of("5 1/2 in", "2", "Saw at 5\u{a0}1/2\u{a0}in.");
    assert!(compare(&old, &other).cards[0].changes[0].reads.is_empty());
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

#[test]
fn an_older_ledger_without_pages_is_compared_by_its_values_and_says_so() {
    let old = EditionLedger {
        pages: None,
        ..ledger(
            vec![],
            vec![
                value("a.html", "r", "1 in", &[]),
                value("b.html", "r", "1 in", &[]),
            ],
        )
    };
    let acts = vec![Act::new(ActKind::Hazard, "WARNING Hot.")];
    let pages = vec![
        page("a.html", "1", acts),
        page("b.html", "1", vec![]),
        page("c.html", "1", vec![]),
    ];
    let new = ledger(
        pages,
        vec![
            value("a.html", "r", "2 in", &[]),
            value("b.html", "r", "1 in", &[]),
        ],
    );
    let found = compare(&old, &new);
    assert!(found.by_values);
    let cards: Vec<_> = found.cards.iter().map(|one| one.page.as_str()).collect();
    assert_eq!(cards, ["a.html"]);
    assert_eq!(found.cards[0].title, "Title of a.html");
    let wording = Wording {
        of: &found,
        arrow: "->",
    };
    assert!(
        wording
            .warnings()
            .iter()
            .any(|words| words.contains("Values alone"))
    );
}

#[test]
fn a_fingerprint_that_nothing_explains_is_still_told() {
    let old = ledger(vec![page("a.html", "1", vec![])], vec![]);
    let new = ledger(vec![page("a.html", "2", vec![])], vec![]);
    let nothing = String::new();
    let change = (
        ChangeKind::Page,
        ChangeWay::Changed,
        nothing.clone(),
        nothing,
    );
    assert_eq!(told(&old, &new), [change]);
}

#[test]
fn a_page_for_paper_holds_no_text_as_markup() {
    let hazard = |text: &str| vec![Act::new(ActKind::Hazard, text)];
    let old = ledger(
        vec![page("a.html", "1", hazard("WARNING <script>a</script>"))],
        vec![],
    );
    let mut new = ledger(
        vec![page("a.html", "2", hazard("WARNING <b>&\"</b>"))],
        vec![],
    );
    new.title = "T <i>".to_string();
    new.caution = "C & <u>".to_string();
    let html = paper::page(&compare(&old, &new));
    for raw in ["<script", "<i>\n", "<u>", "<b>&"] {
        assert!(!html.contains(raw), "{raw}");
    }
    assert!(html.contains("C &amp; &lt;u&gt;") && html.contains(paper::MARK));
}
