//! `question`: one answer among others, steps to put in order, or a number that the engine grades.

mod choice;
mod number;
pub mod parts;
pub mod place;
mod seed;
mod variants;
mod wanted;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::blocks::question::parts::{Asked, Question, missing};
use crate::handbook::kind::Shape;
use crate::markdown::event::Piece;
use crate::markdown::place::fence_kind;
use crate::page::desk::Desk;
use crate::page::inline;
use crate::page::kind::{Fence, Kind};
use crate::settings::Field;
use crate::values::hash::hash;
use place::place;
use seed::Draw;
use wanted::Wanted;

/// `question`: one that the page grades.
pub struct QuestionBlock;

impl Shape for QuestionBlock {
    fn name(&self) -> &'static str {
        "question"
    }

    fn fields(&self) -> &'static [Field] {
        wanted::FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl Kind for QuestionBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["show", "questions"]
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

/// The question as HTML, and whether it decides a test by itself.
pub fn question(asked: &Asked, desk: &mut Desk) -> Option<(String, bool)> {
    let wanted = Wanted::read(asked, desk)?;
    let word = fence_kind(desk.text, asked.range.clone());
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
                Code::MixedQuestion,
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
    let html = desk.part("blocks/question.html", "q", &question)?;
    Some((html, wanted.critical))
}

#[cfg(test)]
mod tests;
