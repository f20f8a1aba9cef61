//! Comparisons of small ledgers.

mod why;

use crate::compare::read::{EditionLedger, PageRead, ValueRead};
use crate::compare::told::Wording;
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
            "Steps 1 and 2 are now steps 2 and 3"
        ]
    );
    // a word beside the value is a change of its own
    let other = of("5 1/2 in", "2", "Saw at 5\u{a0}1/2\u{a0}in.");
    assert!(compare(&old, &other).cards[0].changes[0].reads.is_empty());
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
