//! What a question is made of.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Calculator, WorkingLine};
use gaugeleaf_calc::field::Face;
use gaugeleaf_calc::finding::{Code, Finding};
use serde::Serialize;

use crate::markdown::escape::escape;
use crate::markdown::excerpt::Excerpt;
use crate::page::desk::Desk;
use crate::settings::Placed;

/// A question's block, and its address on the page that shows it.
pub struct Asked<'q> {
    pub id: String,
    pub body: &'q Excerpt,
    pub range: Range<usize>,
    /// Where to read what it asks for.
    pub place: Option<ReadMore>,
}

/// A part of the handbook, as a link.
#[derive(Debug, Clone, Default, Serialize)]
pub struct ReadMore {
    pub title: String,
    pub url: String,
}

/// What `blocks/question.html` is given as `q`.
#[derive(Debug, Default, Serialize)]
pub struct Question {
    pub id: String,
    pub key: String,
    pub kind: &'static str,
    pub critical: bool,
    pub ask: String,
    pub options: Vec<Answer>,
    /// The right option's number, for a choice.
    pub right: usize,
    pub number: Option<Number>,
    /// The answer in words, for paper and for a page without scripts.
    pub answer: Vec<String>,
    pub why: String,
    pub place: Option<ReadMore>,
}

/// One of the answers to choose from or to put in order, with its place in the block.
#[derive(Debug, Default, Serialize)]
pub struct Answer {
    pub place: usize,
    pub html: String,
    pub words: String,
}

/// What the page hands to the engine for a numeric question.
#[derive(Debug, Default, Serialize)]
pub struct Number {
    pub calculator: String,
    pub output: String,
    pub unit: String,
    pub tolerance: String,
    pub tolerance_said: String,
    /// JSON: the drawn inputs of each variant, the fixed inputs, and the page's own job values.
    pub variants: String,
    pub given: String,
    pub job: String,
    pub working: Vec<Line>,
}

#[derive(Debug, Serialize)]
pub struct Line {
    pub name: String,
    pub label: String,
    pub formula: String,
    pub mathml: String,
    pub numbers: String,
    pub result: String,
}

impl Line {
    pub fn of(line: &WorkingLine) -> Line {
        let WorkingLine {
            name,
            label,
            formula,
            numbers,
            result,
            mathml,
        } = line.clone();
        Line {
            name,
            label,
            formula,
            mathml,
            numbers,
            result,
        }
    }
}

/// What the question is about, once its names are known.
pub struct Asks<'a> {
    pub calculator: &'a Calculator,
    pub output: &'a str,
    pub face: &'a Face,
    pub tolerance: &'a Placed<String>,
}

pub fn missing(key: &str, message: &str, span: &Range<usize>, desk: &mut Desk) {
    desk.findings.push(
        Finding::error(Code::MissingSetting, desk.file, span.clone(), message)
            .help(format!("add {key} = \"…\"")),
    );
}

/// The text in which every `{name}` gives way to a place that the page fills in.
pub fn with_places(html: &str, text_of: impl Fn(&str) -> Option<String>) -> String {
    let mut out = String::new();
    let mut rest = html;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        rest = after;
        let Some((name, after)) = rest.split_once('}') else {
            out.push('{');
            continue;
        };
        let Some(text) = text_of(name) else {
            out.push('{');
            continue;
        };
        let bound = escape(&text).replace(' ', "\u{A0}");
        out.push_str(&format!(
            "<b class=\"drawn\" data-name=\"{name}\">{bound}</b>"
        ));
        rest = after;
    }
    out + rest
}
