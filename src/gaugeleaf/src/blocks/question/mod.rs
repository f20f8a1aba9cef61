//! `question`: one answer among others, steps to put in order, or a number that the engine grades.

mod choice;
mod number;
pub mod place;
mod seed;
mod variants;
mod wanted;

use std::ops::Range;

use gaugeleaf_calc::calculator::WorkingLine;
use gaugeleaf_calc::finding::Finding;
use serde::Serialize;

use crate::markdown::escape::escape;
use crate::markdown::event::Piece;
use crate::markdown::excerpt::Excerpt;
use crate::markdown::place::info_span;
use crate::page::desk::Desk;
use crate::page::inline;
use crate::page::kind::{Fence, Kind};
use crate::page::needs::Need;
use crate::values::hash::hash;
use place::place;
use seed::Draw;
use wanted::Wanted;

/// `question`: one that the page grades.
pub struct QuestionBlock;

impl Kind for QuestionBlock {
    fn name(&self) -> &'static str {
        "question"
    }

    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        let asked = Asked {
            id: fence.alone(self.name(), desk),
            body: &fence.body,
            range: fence.range.clone(),
            place: Some(place(desk.page, desk.text, fence.range.start)),
        };
        fence.html(question(&asked, desk).map(|(text, _)| text))
    }
}

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
struct Question {
    id: String,
    key: String,
    kind: &'static str,
    critical: bool,
    ask: String,
    options: Vec<Answer>,
    /// The right option's number, for a choice.
    right: usize,
    number: Option<Number>,
    /// The answer in words, for paper and for a page without scripts.
    answer: Vec<String>,
    why: String,
    place: Option<ReadMore>,
}

/// One of the answers to choose from or to put in order, with its place in the block.
#[derive(Debug, Default, Serialize)]
struct Answer {
    place: usize,
    html: String,
    words: String,
}

/// What the page hands to the engine for a numeric question.
#[derive(Debug, Default, Serialize)]
struct Number {
    calculator: String,
    output: String,
    unit: String,
    tolerance: String,
    tolerance_said: String,
    /// JSON: the drawn inputs of each variant, the fixed inputs, and the page's own job values.
    variants: String,
    given: String,
    job: String,
    working: Vec<Line>,
}

#[derive(Debug, Serialize)]
struct Line {
    name: String,
    label: String,
    formula: String,
    mathml: String,
    numbers: String,
    result: String,
}

impl Line {
    fn of(line: &WorkingLine) -> Line {
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

/// The question as HTML, and whether it decides a test by itself.
pub fn question(asked: &Asked, desk: &mut Desk) -> Option<(String, bool)> {
    let wanted = Wanted::read(asked, desk)?;
    let word = info_span(desk.text, asked.range.clone(), "question");
    let Some(ask) = wanted
        .ask
        .clone()
        .filter(|ask| !ask.value.trim().is_empty())
    else {
        missing("ask", "this question asks nothing", &word, desk);
        return None;
    };
    let mut draw = Draw::of(&ask.value);
    let mut question = Question {
        id: asked.id.clone(),
        key: hash(ask.value.as_bytes())[..8].to_string(),
        critical: wanted.critical,
        place: asked.place.clone(),
        ..Question::default()
    };
    let numeric = wanted.calculator.is_some() || !wanted.draw.is_empty();
    let chosen = wanted.right.is_some() || !wanted.wrong.is_empty();
    if [numeric, chosen, !wanted.order.is_empty()]
        .iter()
        .filter(|kind| **kind)
        .count()
        > 1
    {
        desk.findings.push(
            Finding::error(
                "mixed-question",
                desk.file,
                word,
                "this question is of two kinds",
            )
            .help("give right and wrong, or order, or a calculator; a block each"),
        );
        return None;
    }
    if numeric {
        number::fill(&mut question, &wanted, &ask, &word, &mut draw, desk)?;
    } else {
        question.ask = inline::line(&ask, desk).html;
        let filled = if wanted.order.is_empty() {
            choice::choose(&mut question, &wanted, &word, &mut draw, desk)
        } else {
            choice::order(&mut question, &wanted, &mut draw, desk)
        };
        filled?;
    }
    if let Some(why) = &wanted.why {
        question.why = inline::line(why, desk).html;
    }
    desk.needs.insert(Need::Questions);
    let html = desk.part("blocks/question.html", "q", &question)?;
    Some((html, wanted.critical))
}

fn missing(key: &str, message: &str, span: &Range<usize>, desk: &mut Desk) {
    desk.findings.push(
        Finding::error("missing-setting", desk.file, span.clone(), message)
            .help(format!("add {key} = \"…\"")),
    );
}

/// The text in which every `{name}` gives way to a place that the page fills in.
fn with_places(html: &str, text_of: impl Fn(&str) -> Option<String>) -> String {
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

#[cfg(test)]
mod tests;
