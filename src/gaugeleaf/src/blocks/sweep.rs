//! What a chart's block asks for: an output, the input that is swept, its values.

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::field::{Field, FieldKind};
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::quantity::{Typed, Want, in_unit, read, tidy};
use gaugeleaf_calc::unit::Kind;

use crate::blocks::named::Block;
use crate::page::desk::Desk;
use crate::page::working::{Part, unknown};
use crate::settings::{self, Assigned, Placed, Takes};

pub const FIELDS: &[settings::Field] = &[
    settings::Field::new("caption", Takes::Text, "What stands under the chart."),
    settings::Field::new("output", Takes::Text, "The result that the chart shows.")
        .needed_and_told(),
    settings::Field::new(
        "over",
        Takes::Text,
        "The input that changes from row to row.",
    )
    .needed_and_told(),
    settings::Field::new("from", Takes::Quantity, "The first value of that input."),
    settings::Field::new("to", Takes::Quantity, "The last value of that input."),
    settings::Field::new("step", Takes::Quantity, "From one value to the next."),
    settings::Field::new(
        "across",
        Takes::Text,
        "A second input, with a column for each of its values.",
    ),
    settings::Field::new(
        "across_values",
        Takes::Texts,
        "The values of the second input.",
    ),
    settings::Field::new(
        "given",
        Takes::Quantities,
        "Values of other inputs, where they aren't the job's.",
    ),
    settings::Field::new(
        "plot",
        Takes::Truth,
        "Whether a curve is drawn above the table.",
    ),
];

/// Rows or columns past this many are no help on a card.
pub const MOST: usize = 60;

/// What a chart's block says.
#[derive(Default)]
pub struct Wanted {
    pub caption: Option<Placed<String>>,
    pub output: Option<Placed<String>>,
    pub over: Option<Placed<String>>,
    pub from: Option<Placed<String>>,
    pub to: Option<Placed<String>>,
    pub step: Option<Placed<String>>,
    pub across: Option<Placed<String>>,
    pub across_values: Vec<Placed<String>>,
    pub given: Vec<Assigned>,
    pub plot: bool,
}

impl Wanted {
    /// Reads a chart's block; nothing where it isn't TOML.
    pub fn read(block: &Block, desk: &mut Desk) -> Option<Wanted> {
        settings::read(
            desk.file,
            &block.body,
            FIELDS,
            &mut desk.findings,
            |settings| {
                Some(Wanted {
                    caption: settings.text("caption"),
                    output: settings.text("output"),
                    over: settings.text("over"),
                    from: settings.quantity("from"),
                    to: settings.quantity("to"),
                    step: settings.quantity("step"),
                    across: settings.text("across"),
                    across_values: settings.texts("across_values"),
                    given: settings.quantities("given"),
                    plot: settings.truth("plot"),
                })
            },
        )
    }
}

pub fn output(
    calculator: &Calculator,
    wanted: &Wanted,
    block: &Block,
    desk: &mut Desk,
) -> Option<String> {
    let names: Vec<&str> = calculator
        .results()
        .map(|output| output.name.as_str())
        .collect();
    match &wanted.output {
        None => missing("output", &names, block, desk),
        Some(output) if names.contains(&output.value.as_str()) => {
            return Some(output.value.clone());
        }
        Some(output) => {
            desk.findings
                .push(unknown(Part::Output, output, &names, calculator, desk.file))
        }
    }
    None
}

pub fn input<'c>(
    calculator: &'c Calculator,
    name: Option<&Placed<String>>,
    setting: &str,
    block: &Block,
    desk: &mut Desk,
) -> Option<&'c Field> {
    let names = calculator.input_names();
    let Some(name) = name else {
        missing(setting, &names, block, desk);
        return None;
    };
    let input = calculator.input(&name.value);
    if input.is_none() {
        desk.findings
            .push(unknown(Part::Input, name, &names, calculator, desk.file));
    }
    input.map(|input| &input.field)
}

fn missing(setting: &str, names: &[&str], block: &Block, desk: &mut Desk) {
    let message = format!("this chart doesn't say its `{setting}`");
    desk.findings.push(
        Finding::error(Code::MissingSetting, desk.file, block.span.clone(), message).help(format!(
            "add {setting} = \"…\", one of {}",
            names.join(", ")
        )),
    );
}

/// The swept input's values as texts, each with the place to blame.
pub fn values(
    over: &Field,
    wanted: &Wanted,
    block: &Block,
    desk: &mut Desk,
) -> Option<Vec<Placed<String>>> {
    let (face, want) = match &over.kind {
        FieldKind::Choice(choices) => {
            let span = wanted
                .over
                .as_ref()
                .map_or(block.span.clone(), |over| over.span.clone());
            return Some(
                choices
                    .iter()
                    .map(|one| Placed {
                        value: one.name.clone(),
                        span: span.clone(),
                    })
                    .collect(),
            );
        }
        FieldKind::Number { face, want, .. } => (face, want),
    };
    let from = quantity("from", &wanted.from, want, block, desk);
    let to = quantity("to", &wanted.to, want, block, desk);
    let step = quantity("step", &wanted.step, want, block, desk);
    let (from, to, step) = (from?, to?, step?);
    let kind = face.main.kind;
    let Some(texts) = stepped(&from.value, &to.value, &step.value, kind, MOST) else {
        let said = [&wanted.from, &wanted.to, &wanted.step]
            .map(|text| text.as_ref().map_or("", |text| text.value.as_str()));
        let message = format!(
            "from {} to {} by {} makes no chart of 1 to {MOST} rows",
            said[0], said[1], said[2]
        );
        desk.findings.push(
            Finding::error(Code::ChartSize, desk.file, step.span, message)
                .help("choose a step that leads from the first value to the last"),
        );
        return None;
    };
    let last = texts.len() - 1;
    let place = |(index, value): (usize, String)| {
        let span = if index == last { &to.span } else { &from.span };
        Placed {
            value,
            span: span.clone(),
        }
    };
    Some(texts.into_iter().enumerate().map(place).collect())
}

/// The texts from one quantity to another by a step; none where that makes no values, or more than
/// `most`.
pub fn stepped(
    from: &Typed,
    to: &Typed,
    step: &Typed,
    kind: Kind,
    most: usize,
) -> Option<Vec<String>> {
    let unit = &from.unit;
    // a step is a difference: a scale's own zero must not count in it
    let stride = unit.difference_from_si(step.unit.difference_to_si(step.value));
    let count = ((unit.from_si_as(to.si, kind) - from.value) / stride + 1e-9).floor();
    if !(count >= 0.0 && count < most as f64) {
        return None;
    }
    let text = |index: usize| {
        let value = tidy(from.value + index as f64 * stride);
        in_unit(unit.to_si_as(value, kind), unit, kind)
    };
    Some((0..=count as usize).map(text).collect())
}

fn quantity(
    setting: &str,
    text: &Option<Placed<String>>,
    want: &Want,
    block: &Block,
    desk: &mut Desk,
) -> Option<Placed<Typed>> {
    let Some(text) = text else {
        missing(setting, &["a quantity"], block, desk);
        return None;
    };
    match read(&text.value, want) {
        Ok(typed) => Some(Placed {
            value: typed,
            span: text.span.clone(),
        }),
        Err(fault) => {
            let mut finding = Finding::error(
                Code::BadInput,
                desk.file,
                text.span.clone(),
                fault.message(),
            );
            finding.help = fault.help();
            desk.findings.push(finding);
            None
        }
    }
}
