//! A calculation's answer in words, for a person at a terminal.

use gaugeleaf_calc::calculator::{Answer, Calculator, Limit, OutputReading, PrintedValue};

/// Beside every verdict on invented equipment.
pub const TRAINING: &str = "TRAINING, INVENTED EQUIPMENT";

/// Inputs as understood, results, verdicts, working, and what to beware of.
pub fn for_people(calculator: &Calculator, answer: &Answer, limits: Option<&[Limit]>) -> String {
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
        let from = match &input.from {
            from if from.is_empty() => String::new(),
            from => format!("  ({from})"),
        };
        lines.push(format!(
            "  {:width$}  {}{from}",
            input.label, input.understood
        ));
    }
    for input in &answer.unset {
        let from = input.needs.first().map_or("not known", |leaf| &leaf.from);
        lines.push(format!("  {:width$}  {from}", input.label));
    }
    lines.push("Result".to_string());
    for output in &answer.outputs {
        lines.push(format!("  {:width$}  {}", output.label, result(output)));
    }
    if !answer.checks.is_empty() {
        lines.push("Verdict".to_string());
    }
    for verdict in &answer.checks {
        lines.push(format!(
            "  {:7}  {}",
            verdict.is.word().to_uppercase(),
            verdict.because
        ));
    }
    if let Some(limits) = limits {
        lines.push("Limit".to_string());
        lines.extend(
            limits
                .iter()
                .map(|limit| format!("  {}: {}", limit.check, limit.words())),
        );
    }
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

/// `25 1/2 in (647 mm), rounded down to 1/8 in`: each side is rounded from the exact result, so
/// they aren't equal.
pub(super) fn result(output: &OutputReading) -> String {
    let mut text = output.text().to_string();
    if let Some(PrintedValue::Number(printed)) = &output.reading
        && let Some(also) = &printed.also
    {
        text.push_str(&format!(" ({also})"));
    }
    if !output.rounded.is_empty() {
        text.push_str(&format!(", {}", output.rounded));
    }
    if let Some(span) = &output.span {
        text.push_str(&format!("; inside the tolerance {}", span.text));
    }
    text
}
