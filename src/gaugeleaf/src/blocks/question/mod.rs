//! `question`: one answer among others, steps to put in order, or a number that the engine grades.

mod card;
mod choice;
mod decide;
mod dial;
mod names;
mod number;
pub mod parts;
pub mod place;
mod rest;
pub mod say;
mod seed;
mod settings;
mod slip;
mod variants;

use gaugeleaf_calc::finding::Code;
use gaugeleaf_calc::finding::settings::{Placed, SettingField};

use crate::blocks::question::parts::Filled;
use crate::blocks::question::say::missing;
use crate::handbook::kind::BlockShape;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::inline;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, words};
use crate::values::hash::hash;
use place::place;
use rest::rest;
use seed::Draw;
use settings::QuestionSettings;

/// `question`: one that the page grades.
pub struct QuestionBlock;

impl BlockShape for QuestionBlock {
    fn name(&self) -> &'static str {
        "question"
    }

    fn help(&self) -> &'static str {
        "A question after a number, a choice or an order, graded on the page."
    }

    fn fields(&self) -> &'static [SettingField] {
        settings::FIELDS
    }

    fn address(&self, name: &str) -> Option<String> {
        (name != KEPT).then(|| self.name().to_string())
    }
}

impl BlockKind for QuestionBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["questions"]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let question = asked(fence, context);
        if is_kept(fence) {
            // its page shows nothing of it, and tells what is wrong with it all the same
            return Composed {
                findings: question.findings,
                ..Composed::of(None)
            };
        }
        fence.standing(self.name(), context, question)
    }
}

/// On a fence: this question is for tests alone.
const KEPT: &str = "test";

fn is_kept(fence: &Fence) -> bool {
    matches!(fence.names.as_slice(), [name] if name.value == KEPT)
}

/// The question of a block, wherever it is asked.
pub fn asked(fence: &Fence, context: &Context) -> Composed<Option<Block>> {
    let wanted = QuestionSettings::read(fence, context);
    wanted.then(|wanted| question(&wanted, fence, context))
}

/// The question that a block asks.
fn question(
    wanted: &QuestionSettings,
    fence: &Fence,
    context: &Context,
) -> Composed<Option<Block>> {
    let word = &fence.kind;
    let says = |ask: &&Placed<String>| !ask.value.trim().is_empty();
    let Some(ask) = wanted.ask.as_ref().filter(says) else {
        return Composed::fault(missing("ask", "this question asks nothing", word, context));
    };
    let mut draw = Draw::of(&ask.value);
    let checked = !wanted.slips.is_empty();
    let decided = wanted.decide;
    let numeric = !checked && !decided && (wanted.calculator.is_some() || !wanted.draw.is_empty());
    let chosen = wanted.right.is_some() || !wanted.wrong.is_empty();
    let kinds = [numeric, decided, checked, chosen, !wanted.order.is_empty()];
    if kinds.iter().filter(|kind| **kind).count() > 1 {
        let message = "this question is of two kinds";
        return Composed::fault(
            context
                .error(Code::MixedQuestion, word.clone(), message)
                .help("give right and wrong, or order, or a calculator and what is asked of it; a block each"),
        );
    }
    let mut filled = if numeric {
        number::fill(wanted, ask, word, &mut draw, context)
    } else {
        let mut all = Composed::of(());
        let line = all.take(inline::line(ask, context));
        let filled = all.take(if decided {
            decide::decide(wanted, ask, word, &mut draw, context)
        } else if checked {
            slip::slip(wanted, ask, word, &mut draw, context)
        } else if wanted.order.is_empty() {
            choice::choose(wanted, word, &mut draw, context)
        } else {
            choice::order(wanted, &mut draw, context)
        });
        all.with(filled.map(|filled| Filled {
            ask: line,
            ..filled
        }))
    };
    let rests = match &wanted.rests {
        Some(wanted) => rest(wanted, context)
            .map_err(|finding| filled.findings.push(finding))
            .ok(),
        None => None,
    };
    if wanted.critical && wanted.rests.is_none() {
        let message = "this answer decides a test, and nothing says what it rests on";
        filled.findings.push(
            context
                .warning(Code::CriticalWithoutRest, word.clone(), message)
                .help("write rests = { says = \"…\" }, with words of the step or hazard"),
        );
    }
    filled.then(|filled| {
        let why = Composed::all(&wanted.why, |why| inline::line(why, context));
        let place = rests.unwrap_or_else(|| place(context.page, fence.range.start));
        let key = &hash(ask.value.as_bytes())[..8];
        let asked = Some((place.url.route().clone(), words(&filled.ask)));
        why.map(|why| {
            let block = filled.block(key, wanted.critical, why.into_iter().next(), place);
            Some(Block { asked, ..block })
        })
    })
}

#[cfg(test)]
mod card_tests;
#[cfg(test)]
mod tests;
