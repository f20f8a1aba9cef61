//! Questions whose answers are words: one right among others, or steps to put in order.

use std::ops::Range;

use gaugeleaf_calc::finding::settings::Placed;
use gaugeleaf_calc::finding::{Code, Finding};

use crate::blocks::question::parts::Filled;
use crate::blocks::question::say::missing;
use crate::blocks::question::seed::Draw;
use crate::blocks::question::settings::QuestionSettings;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::inline;
use crate::page::node::{Node, words};

/// Answers that ask for the others to be read as a riddle.
const RIDDLES: [&str; 6] = [
    "all of the above",
    "none of the above",
    "both of the above",
    "all of these",
    "none of these",
    "all of them",
];

/// An answer longer than another by this much gives itself away.
const UNEVEN: f64 = 1.5;
/// So few letters more are seen by nobody.
const FEW_LETTERS: usize = 4;

/// Fills in a choice.
pub fn choose(
    wanted: &QuestionSettings,
    word: &Range<usize>,
    draw: &mut Draw,
    context: &Context,
) -> Composed<Option<Filled>> {
    let Some(right) = &wanted.right else {
        let message = "this question has no right answer";
        return Composed::fault(missing("right", message, word, context));
    };
    let options: Vec<&Placed<String>> = std::iter::once(right).chain(&wanted.wrong).collect();
    let mut all = lines(&options, context);
    let lines = std::mem::take(&mut all.value);
    all.findings.extend(count(&wanted.wrong, word, context));
    all.findings.extend(riddles(&options, context));
    all.findings.extend(uneven(&options, &lines, context));
    let answer = vec![lines[0].clone()];
    let mut options: Vec<_> = lines.into_iter().enumerate().collect();
    draw.shuffle(&mut options);
    all.with(Some(Filled {
        kind: "choice",
        options,
        answer,
        ..Filled::default()
    }))
}

/// Fills in steps to put in order.
pub fn order(
    wanted: &QuestionSettings,
    draw: &mut Draw,
    context: &Context,
) -> Composed<Option<Filled>> {
    let options: Vec<&Placed<String>> = wanted.order.iter().collect();
    if !(3..=9).contains(&options.len()) {
        let span = options[0].span.start..options[options.len() - 1].span.end;
        let message = format!("an order has 3 to 9 steps, and this one {}", options.len());
        return Composed::fault(
            context
                .error(Code::AnswerCount, span, message)
                .help("ask for another part of the work, or for one right answer"),
        );
    }
    lines(&options, context).map(|answer| {
        let mut options: Vec<_> = answer.iter().cloned().enumerate().collect();
        draw.shuffle(&mut options);
        if options.is_sorted_by_key(|(place, _)| *place) {
            options.rotate_left(1);
        }
        Some(Filled {
            kind: "order",
            options,
            answer,
            ..Filled::default()
        })
    })
}

/// The answers as the page shows them; two that say the same are a finding at the later one.
fn lines(options: &[&Placed<String>], context: &Context) -> Composed<Vec<Vec<Node>>> {
    let mut lines = Composed::all(options, |option| inline::line(option, context));
    let plain = |option: &Placed<String>| option.value.trim().to_lowercase();
    for (at, option) in options.iter().enumerate() {
        if options[..at]
            .iter()
            .any(|other| plain(other) == plain(option))
        {
            let message = format!("the answer `{}` stands here twice", option.value.trim());
            lines.findings.push(
                context
                    .error(Code::SameAnswer, option.span.clone(), message)
                    .help("write each answer once, the right one only under `right`"),
            );
        }
    }
    lines
}

fn count(wrong: &[Placed<String>], word: &Range<usize>, context: &Context) -> Option<Finding> {
    if (3..=5).contains(&wrong.len()) {
        return None;
    }
    let message = format!(
        "a question has 3 to 5 wrong answers, and this one {}",
        wrong.len()
    );
    let finding = if wrong.is_empty() {
        context.error(Code::AnswerCount, word.clone(), message)
    } else {
        // with three to choose from, every third guess is right
        context.warning(Code::AnswerCount, word.clone(), message)
    };
    Some(finding.help("write wrong = [\"…\", \"…\", \"…\"], each a slip that somebody could make"))
}

fn riddles(options: &[&Placed<String>], context: &Context) -> Vec<Finding> {
    let riddle = |option: &&Placed<String>| {
        let bare = option.value.to_lowercase();
        let riddle = RIDDLES.iter().find(|riddle| bare.contains(*riddle))?;
        let message = format!("`{riddle}` asks for two answers in one");
        let finding = context.error(Code::Riddle, option.span.clone(), message);
        Some(finding.help("write an answer that can be right or wrong by itself"))
    };
    options.iter().filter_map(riddle).collect()
}

/// An answer whose length tells it apart.
fn uneven(options: &[&Placed<String>], lines: &[Vec<Node>], context: &Context) -> Option<Finding> {
    let lengths = || lines.iter().map(|line| words(line).trim().chars().count());
    let (longest, most) = lengths().enumerate().max_by_key(|(_, count)| *count)?;
    let least = lengths().min()?;
    if most <= least + FEW_LETTERS || most as f64 <= UNEVEN * least as f64 {
        return None;
    }
    let message = format!(
        "this answer is {most} letters long, and the shortest {least}: its length tells it apart"
    );
    let span = options[longest].span.clone();
    let finding = context.warning(Code::UnevenAnswers, span, message);
    Some(finding.help("make the answers about equally long"))
}
