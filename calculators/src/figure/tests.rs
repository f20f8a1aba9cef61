//! Figures: drawn values, and what is refused.

use super::*;
use crate::formula::Value;
use crate::message::in_english;
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
    assert_eq!(refused("<rect x=\"{1 +}\"/>"), "}");
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

#[test]
fn a_tube_map_shows_every_tube_once_in_the_plans_strokes() {
    let (catalog, _) = (crate::testing::CATALOG.clone(), ());
    for layout in ["30", "60", "90", "45"] {
        for (lances, skip) in [("1", "1"), ("2", "1"), ("2", "2"), ("3", "2")] {
            let given = [("layout", layout), ("lances", lances), ("skip", skip)];
            let given = given.map(|(name, text)| crate::Argument::new(name, text));
            let answer = catalog
                .calculate("index-plan", &given, &crate::testing::demonstration())
                .unwrap();
            let map = catalog.draw_map(&answer).unwrap();
            let numbers = |of: &str| -> std::collections::BTreeSet<i32> {
                let values = map.split(of).skip(1);
                values
                    .map(|rest| rest.split('"').next().unwrap().parse().unwrap())
                    .collect()
            };
            let tubes = numbers(" data-tube=\"");
            assert_eq!(tubes.len(), map.matches("data-tube").count());
            assert_eq!(answer.texts.get("tubes").unwrap(), &tubes.len().to_string());
            let strokes = numbers(" data-stroke=\"");
            assert_eq!(strokes.last(), Some(&(strokes.len() as i32)));
            assert_eq!(
                in_english(&answer.output("strokes").unwrap().told()),
                strokes.len().to_string()
            );
            assert_eq!(
                in_english(&answer.output("setups").unwrap().told()),
                map.matches("data-row").count().to_string()
            );
        }
    }
}
