//! Questions on a card or a dial, and what is wrong with them, as a page writes them.

use serde_json::Value;

use crate::blocks::question::tests::{asked, held};
use crate::page::testing::printed;

fn codes(body: &str) -> Vec<&'static str> {
    asked(body).1.into_iter().map(|(code, _)| code).collect()
}

const DECIDE: &str = "ask = \"Is it go?\"\ncalculator = \"hose-stop-range\"\ndecide = true\n\
    given = { hose_od = \"9.6 mm\", opening = \"10.4 mm\" }\n\
    draw = { ferrule_od = [\"10.6 mm\", \"12.6 mm\", \"0.1 mm\"] }";

/// The ferrule that a case shows, in mm.
fn ferrule(case: &Value) -> f64 {
    let text = case["shown"]["ferrule_od"].as_str().expect("drawn");
    let number = text
        .split(' ')
        .next()
        .and_then(|number| number.parse().ok());
    number.expect("mm")
}

#[test]
fn what_is_right_of_a_card_is_what_the_calculator_says_of_it() {
    let (html, findings) = asked(DECIDE);
    assert_eq!(findings, []);
    let cases = held(&html, "data-cases");
    let cases = cases.as_array().expect("cases");
    assert_eq!(cases.len(), 12);
    // With a hose of 9.6 mm in an opening of 10.4 mm, the least catch of a ferrule D is
    // (D + 9.6) / 2 - 10.4: none at 11.2 mm, so that every thinner one is a stop.
    for case in cases {
        let ferrule = ferrule(case);
        let stops = case["right"] == 2;
        let least = f64::midpoint(ferrule, 9.6) - 10.4;
        if least <= 0.0 {
            assert!(stops, "{case}");
        }
        assert!(!case["because"].as_str().unwrap_or("").is_empty(), "{case}");
    }
    let kinds: std::collections::BTreeSet<_> =
        cases.iter().map(|case| case["right"].as_u64()).collect();
    assert!(kinds.len() > 1, "{kinds:?}");
    for part in [
        "GO: it may go on",
        "STOP: not like this",
        "Hose outside diameter",
    ] {
        assert!(html.contains(part), "{part} in {html}");
    }
}

#[test]
fn a_line_that_nobody_measured_makes_open_right_and_no_other_does() {
    let (html, findings) = asked(&format!("{DECIDE}\nmissing = [\"opening\"]"));
    assert_eq!(findings, []);
    let cases = held(&html, "data-cases");
    for case in cases.as_array().expect("cases") {
        let lacks = case["shown"]["opening"] == "not measured";
        assert_eq!(lacks, case["right"] == 3, "{case}");
        // what another job's value would come to is no answer here
        assert!(
            !case["because"]
                .as_str()
                .is_some_and(|text| text.contains("T1")),
            "{case}"
        );
    }
    let without = DECIDE.replace(", opening = \"10.4 mm\"", "");
    assert_eq!(codes(&without), ["bad-variant"]);
    assert_eq!(
        codes(&format!("{DECIDE}\nmissing = [\"stop_min\"]")),
        ["unknown-place"]
    );
}

#[test]
fn a_card_that_can_be_answered_unread_and_names_that_it_has_not_are_findings() {
    let always = DECIDE.replace("\"10.6 mm\", \"12.6 mm\"", "\"12.6 mm\", \"15 mm\"");
    assert_eq!(asked(&always).1, [("one-sided", "ferrule_od".to_string())]);
    let said = DECIDE.replace("Is it go?", "With {ferrule_od}?");
    assert_eq!(codes(&said), ["unknown-place"]);
    let unknown = DECIDE.replace("hose_od =", "hose_of =");
    assert_eq!(codes(&unknown), ["unknown-input"]);
    let two = format!("{DECIDE}\nright = \"a\"\nwrong = [\"b\", \"c\", \"d\"]");
    assert_eq!(codes(&two), ["mixed-question"]);
}

const SLIP: &str = "ask = \"Which line is wrong?\"\ncalculator = \"hose-stop-range\"\n\
    given = { hose_od = \"9.6 mm\", ferrule_od = \"12 mm\", opening = \"10.4 mm\", stop_min = \"7.5 mm\" }\n\
    slips = { hose_od = \"0.96 mm\", opening = \"14 mm\", ferrule_od = \"9.2 mm\" }";

#[test]
fn each_slip_is_a_variant_and_so_is_the_card_without_one() {
    let (html, findings) = asked(SLIP);
    assert_eq!(findings, []);
    let cases = held(&html, "data-cases");
    let cases = cases.as_array().expect("cases");
    let right: std::collections::BTreeSet<_> =
        cases.iter().map(|case| case["right"].as_u64()).collect();
    // hose, ferrule and opening are the card's first three lines, and the fifth answer is none
    assert_eq!(right, [Some(0), Some(1), Some(2), Some(4)].into());
    let sound = cases.iter().find(|case| case["right"] == 4).expect("none");
    assert_eq!(sound["shown"]["hose_od"], "9.6 mm");
    assert!(html.contains("none: the card is right"), "{html}");
}

#[test]
fn a_slip_that_nobody_can_see_and_a_card_that_is_no_go_are_findings() {
    let hidden = SLIP.replace("\"14 mm\"", "\"10.5 mm\"");
    assert_eq!(
        asked(&hidden).1,
        [("hidden-slip", "\"10.5 mm\"".to_string())]
    );
    let stop = SLIP.replace("opening = \"10.4 mm\"", "opening = \"13 mm\"");
    assert_eq!(codes(&stop), ["bad-variant"]);
    let few = SLIP.replace(", ferrule_od = \"9.2 mm\" }", " }");
    assert_eq!(codes(&few), ["answer-count"]);
    let short = SLIP.replace(", stop_min = \"7.5 mm\"", "");
    assert_eq!(codes(&short), ["answer-count"]);
    let elsewhere = SLIP.replace("slips = { hose_od", "slips = { stop_max");
    assert_eq!(codes(&elsewhere), ["unknown-place"]);
}

#[test]
fn a_dial_shows_a_drawn_input_and_its_question_does_not_say_it() {
    let dial = "\ndial = { shows = \"ferrule_od\", to = \"20 mm\", every = \"1 mm\" }";
    let (html, findings) = asked(&format!("{DECIDE}{dial}"));
    assert_eq!(findings, []);
    let (turns, cases) = (held(&html, "data-turns"), held(&html, "data-cases"));
    for (turn, case) in turns
        .as_array()
        .expect("turns")
        .iter()
        .zip(cases.as_array().expect("cases"))
    {
        let ferrule = ferrule(case);
        // three quarters of a round, from 135 degrees left of straight up
        let wanted = -135.0 + 270.0 * ferrule / 20.0;
        assert!(
            (turn.as_f64().expect("degrees") - wanted).abs() < 0.06,
            "{turn} {case}"
        );
    }
    assert!(
        !html.contains("data-line=\"ferrule_od\""),
        "the card says it too: {html}"
    );
    for (from, to, at) in [
        ("\"20 mm\"", "\"12 mm\"", "\"12 mm\""),
        ("\"1 mm\"", "\"3 mm\"", "\"3 mm\""),
        ("\"ferrule_od\"", "\"hose_od\"", "\"hose_od\""),
        ("\"20 mm\"", "\"-20 mm\"", "\"-20 mm\""),
    ] {
        let bad = format!("{DECIDE}{}", dial.replace(from, to));
        assert_eq!(asked(&bad).1, [("bad-dial", at.to_string())], "{to}");
    }
}

#[test]
fn a_question_kept_for_tests_shows_nothing_and_tells_its_faults() {
    let kept = |body: &str| {
        let (html, findings) = printed(&format!("# T\n\n```question test\n{body}\n```\n"));
        (
            html,
            findings
                .into_iter()
                .map(|one| one.code.name())
                .collect::<Vec<_>>(),
        )
    };
    let (html, findings) = kept(DECIDE);
    assert_eq!(findings, [""; 0]);
    assert!(!html.contains("question"), "{html}");
    assert_eq!(kept("ask = \"a\"").1, ["missing-setting"]);
}
