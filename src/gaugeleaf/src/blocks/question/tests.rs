//! Questions of each kind, and what is wrong with them, as a page writes them.

use serde_json::Value;

use crate::page::route::Route;
use crate::page::testing::{Sample, printed};

/// The question's HTML, and each finding's code and offending text.
pub(super) fn asked(body: &str) -> (String, Vec<(&'static str, String)>) {
    let text = format!("# T\n\n```question\n{body}\n```\n");
    let (html, findings) = printed(&text);
    let at = |span: std::ops::Range<usize>| text.get(span).unwrap_or("").to_string();
    (
        html,
        findings
            .into_iter()
            .map(|one| (one.code.name(), at(one.span)))
            .collect(),
    )
}

fn faults(body: &str) -> Vec<(&'static str, String)> {
    asked(body).1
}

fn fault(code: &'static str, at: &str) -> Vec<(&'static str, String)> {
    vec![(code, at.to_string())]
}

const NUMBER: &str = "ask = \"Behind {channel_depth}?\"\ncalculator = \"guide-tube-length\"\noutput = \"length\"\n\
    draw = { channel_depth = [\"4 in\", \"13 in\", \"1/4 in\"] }\ntolerance = \"1/8 in\"";

/// The numeric question with one part written otherwise.
fn number(part: &str, otherwise: &str) -> Vec<(&'static str, String)> {
    assert!(NUMBER.contains(part), "{part}");
    faults(&NUMBER.replace(part, otherwise))
}

/// What an attribute of the HTML holds, as JSON.
pub(super) fn held(html: &str, attribute: &str) -> Value {
    let start = format!("{attribute}=\"");
    let text = html
        .split(start.as_str())
        .nth(1)
        .and_then(|rest| rest.split_once('"'));
    let text = text
        .map_or("null", |(text, _)| text)
        .replace("&quot;", "\"");
    serde_json::from_str(&text).unwrap_or(Value::Null)
}

/// The variants that a question's HTML carries.
fn variants(html: &str) -> Vec<Value> {
    held(html, "data-variants")
        .as_array()
        .cloned()
        .unwrap_or_default()
}

#[test]
fn a_choice_holds_its_answer_shut_and_its_options_in_one_order_of_chance() {
    let body = "ask = \"Who may *stop* it?\"\nright = \"anyone, always\"\nwrong = [\"the lead alone\", \"the pump's man\", \"the operator\"]\nwhy = \"All see.\"\ncritical = true";
    let (html, findings) = asked(body);
    assert_eq!(findings, fault("critical-without-rest", "question"));
    for part in [
        "<em>stop</em>",
        "data-critical",
        "value=\"0\"><span>anyone, always",
        "All see.",
    ] {
        assert!(html.contains(part), "{part} in {html}");
    }
    assert!(
        html.contains("<details class=\"question-answer\">"),
        "{html}"
    );
    assert_eq!(asked(body).0, html);
}

#[test]
fn answers_that_give_themselves_away_are_findings_in_their_place() {
    let choice = |right: &str, wrong: &str| {
        faults(&format!(
            "ask = \"x\"\nright = \"{right}\"\nwrong = [{wrong}]"
        ))
    };
    assert_eq!(
        choice("a", "\"b\", \"c\""),
        fault("answer-count", "question")
    );
    assert_eq!(
        choice("a", "\"b\", \"c\", \"A\""),
        fault("same-answer", "\"A\"")
    );
    assert_eq!(
        choice(
            "the lead",
            "\"the pump\", \"the crew\", \"None of the above\""
        ),
        [
            ("riddle", "\"None of the above\"".to_string()),
            ("uneven-answers", "\"None of the above\"".to_string())
        ]
    );
    assert_eq!(
        choice(
            "anyone who sees a reason to",
            "\"the lead\", \"the pump\", \"the crew\""
        ),
        fault("uneven-answers", "\"anyone who sees a reason to\"")
    );
    assert_eq!(
        faults("ask = \"x\"\nwrong = [\"a\", \"b\"]"),
        fault("missing-setting", "question")
    );
    assert_eq!(
        faults("right = \"a\""),
        fault("missing-setting", "question")
    );
    assert_eq!(
        faults("ask = \"x\"\nright = \"a\"\norder = [\"b\"]"),
        fault("mixed-question", "question")
    );
}

#[test]
fn an_order_is_never_printed_in_its_right_order() {
    for ask in ["a", "b", "c", "d", "e", "f", "g", "h"] {
        let (html, findings) = asked(&format!(
            "ask = \"{ask}\"\norder = [\"one\", \"two\", \"three\"]"
        ));
        assert_eq!(findings, []);
        let places: Vec<&str> = html
            .split("data-place=\"")
            .skip(1)
            .map(|rest| &rest[..1])
            .collect();
        assert_eq!(places.len(), 3);
        assert_ne!(places, ["0", "1", "2"], "{ask}");
    }
    assert_eq!(
        faults("ask = \"x\"\norder = [\"a\", \"b\"]"),
        fault("answer-count", "\"a\", \"b\"")
    );
    assert_eq!(
        faults("ask = \"x\"\norder = [\"a\", \"b\", \"a\"]"),
        fault("same-answer", "\"a\"")
    );
}

#[test]
fn a_numeric_question_has_distinct_variants_and_prints_the_first_with_its_worked_answer() {
    let (html, findings) = asked(NUMBER);
    assert_eq!(findings, []);
    let variants = variants(&html);
    let mut apart: Vec<String> = variants.iter().map(ToString::to_string).collect();
    apart.sort();
    apart.dedup();
    assert!(
        apart.len() == variants.len() && apart.len() >= 20,
        "{apart:?}"
    );
    let first = variants[0]["channel_depth"]
        .as_str()
        .unwrap_or("")
        .replace(' ', "\u{A0}");
    assert!(
        html.contains(&format!("data-name=\"channel_depth\">{first}</b>")),
        "{html}"
    );
    assert!(
        html.contains("class=\"working-result\"") && html.contains("Right within 1/8\u{A0}in."),
        "{html}"
    );
}

#[test]
fn a_numeric_question_that_cannot_be_asked_is_found_where_it_is_wrong() {
    assert_eq!(
        number("guide-tube-length", "guide-tube-lenght"),
        fault("unknown-calculator", "\"guide-tube-lenght\"")
    );
    assert_eq!(
        number("output = \"length\"", "output = \"lenght\""),
        fault("unknown-output", "\"lenght\"")
    );
    assert_eq!(
        number("{ channel_depth =", "{ chanel_depth ="),
        [
            ("unknown-input", "chanel_depth".to_string()),
            ("unknown-place", "\"Behind {channel_depth}?\"".to_string()),
            ("unknown-place", "chanel_depth".to_string()),
        ]
    );
    assert_eq!(number("{channel_depth}", "{depth}").len(), 2);
    assert_eq!(
        number("\"4 in\"", "\"14 in\""),
        fault("bad-draw", "\"14 in\"")
    );
    assert_eq!(
        number("\"4 in\"", "\"4 psi\""),
        fault("bad-input", "\"4 psi\"")
    );
    assert_eq!(
        number("\"1/4 in\"", "\"0 in\""),
        fault("bad-draw", "\"0 in\"")
    );
    assert_eq!(
        number(", \"1/4 in\"]", "]"),
        fault("bad-draw", "channel_depth")
    );
    assert_eq!(
        number("\"1/4 in\"", "\"1 in\""),
        fault("few-variants", "channel_depth")
    );
    assert_eq!(
        number("\"1/8 in\"", "\"1 psi\""),
        fault("bad-tolerance", "\"1 psi\"")
    );
    assert_eq!(
        number("\ntolerance = \"1/8 in\"", ""),
        fault("missing-setting", "question")
    );
}

#[test]
fn a_variant_outside_the_usual_band_or_a_bad_given_value_stops_the_publish() {
    let far = faults(&NUMBER.replace("\"13 in\", \"1/4 in\"", "\"100 in\", \"4 in\""));
    assert_eq!(far, fault("bad-variant", "channel_depth"));
    let given = format!("{NUMBER}\ngiven = {{ stock_length = \"900 in\" }}");
    assert_eq!(faults(&given), fault("bad-variant", "\"900 in\""));
}

#[test]
fn a_tolerance_is_printed_by_the_engine_as_a_quantity_or_a_share() {
    for (typed, printed) in [
        ("0.5 in", "1/2 in"),
        ("1-1/4\\\"", "1 1/4 in"),
        ("2%", "2 %"),
    ] {
        let (html, findings) = asked(&NUMBER.replace("\"1/8 in\"", &format!("\"{typed}\"")));
        assert_eq!(findings, []);
        let bound = printed.replace(' ', "\u{A0}");
        assert!(
            html.contains(&format!("Right within {bound}.")),
            "{typed}: {html}"
        );
    }
}

#[test]
fn two_drawn_inputs_make_their_variants_together() {
    let body = NUMBER
        .replace("Behind {channel_depth}?", "{stock_length} and {channel_depth}?")
        .replace("{ channel_depth = [\"4 in\", \"13 in\", \"1/4 in\"] }", "{ channel_depth = [\"4 in\", \"8 in\", \"1 in\"], stock_length = [\"10 in\", \"13 in\", \"1 in\"] }");
    let (html, findings) = asked(&body);
    assert_eq!(findings, []);
    assert_eq!(variants(&html).len(), 20);
}

#[test]
fn what_is_asked_leads_to_where_it_is_told_and_what_is_kept_for_tests_nowhere() {
    let choice = "right = \"one turn\"\nwrong = [\"two turns\", \"no turns\", \"six turns\"]";
    let text = format!(
        "# T\n\n## Turn it\n\n1. Turn it.\n\n```question\nask = \"How *far*?\"\n{choice}\n```\n\n\
         ```question test\nask = \"And then?\"\n{choice}\n```\n"
    );
    let asked = Sample::new(&text).composed().value.asked;
    let [(Route { anchor, .. }, ask)] = asked.as_slice() else {
        panic!("{asked:?}");
    };
    assert_eq!((anchor.as_str(), ask.as_str()), ("turn-it", "How far?"));
}
