//! A calculation's answer in words, for a person at a terminal.

use gaugeleaf_calc::calculator::{
    Answer, Calculator, CheckResult, Limit, OutputReading, PrintedValue, Verdict,
};
use gaugeleaf_calc::message::Language;
use serde_json::Value;

use crate::handbook::answered::StopAnswers;
use crate::values::judge::answer_to;

/// Beside every verdict on invented equipment.
pub const TRAINING: &str = "TRAINING, INVENTED EQUIPMENT";

/// What stands beside verdicts.
#[derive(Debug, Clone, Copy)]
pub struct Beside<'h> {
    /// The equipment is invented.
    pub demonstration: bool,
    pub answers: StopAnswers<'h>,
    pub language: &'h Language,
}

/// Puts who answers for a stop beside it, in an answer for machines.
pub(super) fn answered(json: &mut Value, answer: &Answer, answers: &StopAnswers) {
    for (at, verdict) in answer.checks.iter().enumerate() {
        let words = answer_to(verdict, &answer.calculator, answers);
        if !words.is_empty() {
            json["verdicts"][at]["answer"] = words.into();
        }
    }
}

/// Inputs as understood, results, verdicts, working, and what to beware of.
pub fn for_people(
    calculator: &Calculator,
    answer: &Answer,
    limits: Option<&[Limit]>,
    beside: &Beside,
) -> String {
    let mut lines = vec![
        calculator.title.clone(),
        format!("  {}", calculator.purpose),
    ];
    let labels = answer
        .inputs
        .iter()
        .map(|one| &one.label)
        .chain(answer.unset.iter().map(|one| &one.label))
        .chain(answer.outputs.iter().map(|one| &one.label));
    let width = labels.map(|label| label.chars().count()).max().unwrap_or(0);
    lines.push("Understood".to_string());
    for input in &answer.inputs {
        let from = match beside.language.say(&input.from) {
            from if from.is_empty() => from,
            from => format!("  ({from})"),
        };
        lines.push(format!(
            "  {:width$}  {}{from}",
            input.label, input.understood
        ));
    }
    for input in &answer.unset {
        let from = input.needs.first().map_or(&input.from, |leaf| &leaf.from);
        let from = beside.language.say(from);
        lines.push(format!("  {:width$}  {from}", input.label));
    }
    lines.push("Result".to_string());
    for output in &answer.outputs {
        lines.push(format!(
            "  {:width$}  {}",
            output.label,
            result(output, beside.language)
        ));
    }
    if !answer.checks.is_empty() {
        lines.push("Verdict".to_string());
    }
    if beside.demonstration {
        lines.push(format!("  {TRAINING}"));
    }
    for verdict in &answer.checks {
        verdict_lines(verdict, answer, beside, "  ", &mut lines);
    }
    let limits = limits.unwrap_or_default();
    limit_lines(answer, limits, beside.language, &mut lines);
    lines.push("Working".to_string());
    for line in &answer.working {
        lines.push(format!("  {}", line.formula));
        let steps = [&line.numbers, &line.result];
        lines.extend(
            steps
                .into_iter()
                .filter(|text| !text.is_empty())
                .map(|text| format!("    {text}")),
        );
    }
    if !calculator.not_counted.is_empty() {
        lines.push(format!("Not counted: {}", calculator.not_counted));
    }
    if let Some(hazard) = &calculator.hazard {
        lines.push(format!("{}: {}", hazard.word, hazard.text));
    }
    lines.join("\n")
}

/// A verdict, and who answers for it.
pub(super) fn verdict_lines(
    verdict: &CheckResult,
    answer: &Answer,
    beside: &Beside,
    indent: &str,
    lines: &mut Vec<String>,
) {
    let word = verdict.is.word().to_uppercase();
    let because = beside.language.say(&verdict.because);
    lines.push(format!("{indent}{word:7}  {because}"));
    let words = answer_to(verdict, &answer.calculator, &beside.answers);
    if !words.is_empty() {
        lines.push(format!("{indent}{:7}  {words}", ""));
    }
}

/// How far the numbers carry. What they stand on is said too: a limit is no verdict.
fn limit_lines(answer: &Answer, limits: &[Limit], language: &Language, lines: &mut Vec<String>) {
    if limits.is_empty() {
        return;
    }
    lines.push("Limit".to_string());
    let of = |limit: &Limit| answer.checks.iter().find(|one| one.check == limit.check);
    let open = |limit: &Limit| of(limit).is_none_or(|check| check.is == Verdict::Open);
    if limits.iter().any(open) {
        let honest = "  An open verdict has no limit yet. What is told of it is so for the values above, \
                      and not for the job until these are its own.";
        lines.push(honest.to_string());
    }
    for limit in limits {
        let whose = if open(limit) { " (open)" } else { "" };
        let words = language.say(&limit.words());
        lines.push(format!("  {}{whose}: {words}", limit.check));
    }
}

/// `25 1/2 in (647 mm), rounded down to 1/8 in`: each side is rounded from the exact result, so
/// they aren't equal.
pub(super) fn result(output: &OutputReading, language: &Language) -> String {
    let mut text = language.say(&output.told());
    if !output.of.is_empty() {
        text.insert_str(0, &format!("{}: ", language.say(&output.of)));
    }
    if let Some(PrintedValue::Number(printed)) = &output.reading
        && let Some(also) = &printed.also
    {
        text.push_str(&format!(" ({also})"));
    }
    if !output.rounded.is_empty() {
        text.push_str(&format!(", {}", language.say(&output.rounded)));
    }
    if let Some(span) = &output.span {
        let span = language.say(&span.text);
        text.push_str(&format!("; inside the tolerance {span}"));
    }
    text
}
