//! Reads a calculator's plot: `plot = { output = "loss", over = "flow", from = "…", to = "…" }`.

use super::definition::{Calculator, Output, OutputKind, Plot};
use crate::field::FieldKind;
use crate::message::in_english;
use crate::quantity::read;
use crate::words::joined;
use gaugeleaf_finding::settings::Settings;
use gaugeleaf_finding::{Code, Placed, nearest};

/// The plot that the head of a calculator's file asks for; what is wrong with it
/// becomes a finding.
pub(super) fn load(settings: &mut Settings, calculator: &Calculator) -> Option<Plot> {
    let (output, over) = (settings.text("output")?, settings.text("over")?);
    let (from, to) = (settings.quantity("from")?, settings.quantity("to")?);
    let numbers = |output: &&Output| matches!(output.kind, OutputKind::Number(_));
    let outputs: Vec<&str> = calculator
        .results()
        .filter(numbers)
        .map(|output| output.name.as_str())
        .collect();
    let inputs: Vec<&str> = calculator
        .inputs
        .iter()
        .filter(|input| matches!(input.field.kind, FieldKind::Number { .. }))
        .map(|input| input.field.name.as_str())
        .collect();
    let name = &calculator.name;
    let known = known(&output, name, "output", &outputs, settings);
    if !(known & self::known(&over, name, "input", &inputs, settings)) {
        return None;
    }
    let FieldKind::Number { want, .. } = &calculator.input(&over.value)?.field.kind else {
        return None;
    };
    let mut ends = [0.0; 2];
    for (end, text) in ends.iter_mut().zip([&from, &to]) {
        match read(&text.value, want) {
            Ok(typed) => *end = typed.si,
            Err(fault) => {
                settings
                    .error(Code::Value, &text.span, in_english(&fault.message()))
                    .help = Some(in_english(&fault.help()));
                return None;
            }
        }
    }
    let [start, end] = ends;
    if start >= end {
        settings
            .error(Code::Plot, &to.span, "the plot ends before it begins")
            .help = Some("give `to` a greater value than `from`".into());
        return None;
    }
    Some(Plot {
        output: output.value,
        over: over.value,
        from: start,
        to: end,
    })
}

fn known(
    name: &Placed<String>,
    calculator: &str,
    what: &str,
    names: &[&str],
    settings: &mut Settings,
) -> bool {
    if names.contains(&name.value.as_str()) {
        return true;
    }
    let message = format!("`{}` is not an {what} with a number", name.value);
    let finding = settings.error(Code::Plot, &name.span, message);
    finding
        .ties
        .follows
        .push(format!("{calculator}.{}", name.value));
    finding.help = Some(match nearest(&name.value, names.iter().copied()) {
        Some(near) => format!("did you mean {near}?"),
        None => format!("the {what}s are {}", joined(names, ", ")),
    });
    false
}
