//! Questions whose answers are words: one right among others, or steps to put in order.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::blocks::question::parts::{Answer, Question, missing};
use crate::blocks::question::seed::Draw;
use crate::blocks::question::wanted::Wanted;
use crate::page::desk::Desk;
use crate::page::inline::{self, Line};
use crate::settings::Placed;

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
    question: &mut Question,
    wanted: &Wanted,
    word: &Range<usize>,
    draw: &mut Draw,
    desk: &mut Desk,
) -> Option<()> {
    let Some(right) = &wanted.right else {
        missing("right", "this question has no right answer", word, desk);
        return None;
    };
    let file = desk.file;
    let few = wanted.wrong.len() < 2;
    if few || wanted.wrong.len() > 3 {
        let message = format!(
            "a question has 2 or 3 wrong answers, and this one {}",
            wanted.wrong.len()
        );
        let help = "write wrong = [\"…\", \"…\"], each a slip that somebody could make";
        let finding = if few {
            Finding::error(Code::AnswerCount, file, word.clone(), message)
        } else {
            Finding::warning(Code::AnswerCount, file, word.clone(), message)
        };
        desk.findings.push(finding.help(help));
    }
    let options: Vec<&Placed<String>> = std::iter::once(right).chain(&wanted.wrong).collect();
    for option in &options {
        let bare = option.value.to_lowercase();
        if let Some(riddle) = RIDDLES.iter().find(|riddle| bare.contains(*riddle)) {
            let message = format!("`{riddle}` asks for two answers in one");
            desk.findings.push(
                Finding::error(Code::Riddle, file, option.span.clone(), message)
                    .help("write an answer that can be right or wrong by itself"),
            );
        }
    }
    apart(&options, desk);
    let lines: Vec<Line> = options
        .iter()
        .map(|option| inline::line(option, desk))
        .collect();
    uneven(&options, &lines, desk);
    question.kind = "choice";
    question.answer = vec![lines[0].html.clone()];
    question.options = answers(lines);
    draw.shuffle(&mut question.options);
    Some(())
}

/// Fills in steps to put in order.
pub fn order(
    question: &mut Question,
    wanted: &Wanted,
    draw: &mut Draw,
    desk: &mut Desk,
) -> Option<()> {
    let options: Vec<&Placed<String>> = wanted.order.iter().collect();
    if !(3..=9).contains(&options.len()) {
        let span = options[0].span.start..options[options.len() - 1].span.end;
        let message = format!("an order has 3 to 9 steps, and this one {}", options.len());
        desk.findings.push(
            Finding::error(Code::AnswerCount, desk.file, span, message)
                .help("ask for another part of the work, or for one right answer"),
        );
        return None;
    }
    apart(&options, desk);
    let lines: Vec<Line> = options
        .iter()
        .map(|option| inline::line(option, desk))
        .collect();
    question.kind = "order";
    question.answer = lines.iter().map(|line| line.html.clone()).collect();
    question.options = answers(lines);
    draw.shuffle(&mut question.options);
    if question.options.is_sorted_by_key(|option| option.place) {
        question.options.rotate_left(1);
    }
    Some(())
}

fn answers(lines: Vec<Line>) -> Vec<Answer> {
    let numbered = lines.into_iter().enumerate();
    numbered
        .map(|(place, line)| Answer {
            place,
            html: line.html,
            words: line.words,
        })
        .collect()
}

/// Two answers that say the same are a finding at the later one.
fn apart(options: &[&Placed<String>], desk: &mut Desk) {
    let plain = |option: &Placed<String>| option.value.trim().to_lowercase();
    for (at, option) in options.iter().enumerate() {
        if options[..at]
            .iter()
            .any(|other| plain(other) == plain(option))
        {
            let message = format!("the answer `{}` stands here twice", option.value.trim());
            desk.findings.push(
                Finding::error(Code::SameAnswer, desk.file, option.span.clone(), message)
                    .help("write each answer once, the right one only under `right`"),
            );
        }
    }
}

fn uneven(options: &[&Placed<String>], lines: &[Line], desk: &mut Desk) {
    let length = |line: &Line| line.words.trim().chars().count();
    let Some((longest, most)) = lines
        .iter()
        .map(length)
        .enumerate()
        .max_by_key(|(_, count)| *count)
    else {
        return;
    };
    let least = lines.iter().map(length).min().unwrap_or(0);
    if most > least + FEW_LETTERS && most as f64 > UNEVEN * least as f64 {
        let message = format!(
            "this answer is {most} letters long, and the shortest {least}: its length tells it apart"
        );
        desk.findings.push(
            Finding::warning(
                Code::UnevenAnswers,
                desk.file,
                options[longest].span.clone(),
                message,
            )
            .help("make the answers about equally long"),
        );
    }
}
