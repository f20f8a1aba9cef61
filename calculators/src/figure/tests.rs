//! Figures: drawn values, and what is refused.

use super::*;
use crate::formula::Value;
use crate::names::Names;

fn draw(body: &str) -> String {
    let text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><title>t</title>{body}</svg>"
    );
    let figure = Figure::parse("f.svg", &text).unwrap();
    let values = Names::from([("length".to_string(), Value::Number(0.5))]);
    let texts = Names::from([("length".to_string(), "19 3/4 in".to_string())]);
    let drawn = figure.draw(&values, &texts).unwrap();
    assert!(roxmltree::Document::parse(&drawn).is_ok(), "{drawn}");
    drawn
        .split_once("</title>")
        .unwrap()
        .1
        .trim_end_matches("</svg>")
        .to_string()
}

fn refused(body: &str) -> String {
    let text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><title>t</title>{body}</svg>"
    );
    let findings = Figure::parse("f.svg", &text).unwrap_err();
    text[findings[0].span.clone()].to_string()
}

#[test]
fn attributes_are_numbers_and_texts_are_printed_quantities() {
    let drawn =
        draw("<let name=\"s\" value=\"100 / 1 m\"/><rect x=\"{s * length}\" class=\"fig-part\"/>");
    assert_eq!(drawn, "<rect x=\"50\" class=\"fig-part\"></rect>");
    assert_eq!(
        draw("<text>L {length}</text>"),
        "<text>L 19\u{a0}3/4\u{a0}in</text>"
    );
}

#[test]
fn conditions_and_repetitions_are_drawn() {
    assert_eq!(
        draw(
            "<when test=\"length &lt; 1 m\"><g/></when><when test=\"length &gt; 1 m\"><line/></when>"
        ),
        "<g></g>"
    );
    let drawn = draw("<each name=\"k\" from=\"1\" to=\"3\"><circle cx=\"{k * 2}\"/></each>");
    assert_eq!(drawn.matches("<circle").count(), 3);
    assert!(drawn.contains("cx=\"6\""));
}

#[test]
fn an_element_that_reads_an_absent_result_is_left_out() {
    assert_eq!(draw("<rect x=\"{missing}\"/><g/>"), "<g></g>");
}

#[test]
fn whatever_is_not_drawing_is_refused_at_its_place() {
    assert_eq!(refused("<script>alert(1)</script>"), "<script");
    assert_eq!(refused("<rect onload=\"x\"/>"), "onload=\"x\"");
    assert_eq!(refused("<rect style=\"fill:red\"/>"), "style=\"fill:red\"");
    assert_eq!(refused("<image href=\"x\"/>"), "<image");
    assert_eq!(refused("<rect x=\"{1 +}\"/>"), "");
    assert_eq!(refused("<rect x=\"{1\"/>"), "{1");
    assert_eq!(refused("loose"), "loose");
}

#[test]
fn broken_and_hostile_files_are_findings() {
    for text in ["", "<svg", "<a/>", "<!DOCTYPE x [<!ENTITY a \"b\">]><svg/>"] {
        assert!(
            !Figure::parse("f.svg", text).unwrap_err().is_empty(),
            "{text}"
        );
    }
    let deep = format!(
        "<svg viewBox=\"0 0 1 1\"><title>t</title>{}{}</svg>",
        "<g>".repeat(500),
        "</g>".repeat(500)
    );
    assert!(Figure::parse("f.svg", &deep).is_err());
}

#[test]
fn a_runaway_repetition_is_refused() {
    let text = "<svg viewBox=\"0 0 1 1\"><title>t</title><each name=\"k\" from=\"1\" to=\"1000000\"><g/></each></svg>";
    let figure = Figure::parse("f.svg", text).unwrap();
    assert!(figure.draw(&Names::new(), &Names::new()).is_err());
}
