//! Reads a calculator's plot: `plot = { output = "loss", over = "flow", from = "…", to = "…" }`.

use super::definition::{Calculator, Output, OutputKind, Plot};
use crate::field::FieldKind;
use crate::quantity::read;
use crate::source::{Fields, Located, Reader};
use gaugeleaf_finding::{Code, nearest};

/// The plot that the head of a calculator's file asks for; what is wrong with it
/// becomes a finding.
pub(super) fn load(
    fields: Option<Fields<'_, '_>>,
    calculator: &Calculator,
    reader: &mut Reader<'_>,
) -> Option<Plot> {
    let mut fields = fields?;
    let output = fields.wanted("output", reader);
    let over = fields.wanted("over", reader);
    let from = fields.wanted("from", reader);
    let to = fields.wanted("to", reader);
    fields.finish(reader);
    let (output, over, from, to) = (output?, over?, from?, to?);
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
    let known = known(&output, name, "output", &outputs, reader);
    if !(known & self::known(&over, name, "input", &inputs, reader)) {
        return None;
    }
    let FieldKind::Number { want, .. } = &calculator.input(&over.text)?.field.kind else {
        return None;
    };
    let mut ends = [0.0; 2];
    for (end, text) in ends.iter_mut().zip([&from, &to]) {
        match read(&text.text, want) {
            Ok(typed) => *end = typed.si,
            Err(fault) => {
                reader.error(Code::Value, &text.span, fault.message()).help = fault.help();
                return None;
            }
        }
    }
    let [start, end] = ends;
    if start >= end {
        reader
            .error(Code::Plot, &to.span, "the plot ends before it begins")
            .help = Some("give `to` a greater value than `from`".into());
        return None;
    }
    Some(Plot {
        output: output.text,
        over: over.text,
        from: start,
        to: end,
    })
}

fn known(
    name: &Located,
    calculator: &str,
    what: &str,
    names: &[&str],
    reader: &mut Reader<'_>,
) -> bool {
    if names.contains(&name.text.as_str()) {
        return true;
    }
    let message = format!("`{}` is not an {what} with a number", name.text);
    let finding = reader.error(Code::Plot, &name.span, message);
    finding
        .ties
        .follows
        .push(format!("{calculator}.{}", name.text));
    finding.help = Some(match nearest(&name.text, names.iter().copied()) {
        Some(near) => format!("did you mean {near}?"),
        None => format!("the {what}s are {}", names.join(", ")),
    });
    false
}
