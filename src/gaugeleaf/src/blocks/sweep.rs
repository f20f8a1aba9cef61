//! What a chart's block asks for: an output, the input that is swept, its values.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Calculator, Output};
use gaugeleaf_calc::field::{Field, FieldKind};
use gaugeleaf_calc::finding::settings::{self, Binding, Placed, SettingType};
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::message::in_english;
use gaugeleaf_calc::quantity::{Typed, Want, in_unit, read, tidy};
use gaugeleaf_calc::unit::ScaleKind;

use crate::blocks::calculator_fence::CalculatorFence;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::Fence;
use crate::page::working::{WorkingPart, unknown};

pub const FIELDS: &[settings::SettingField] = &[
    settings::SettingField::new("caption", SettingType::Text, "What stands under the chart."),
    settings::SettingField::new(
        "output",
        SettingType::Text,
        "The result that the chart shows.",
    )
    .needed_and_told(),
    settings::SettingField::new(
        "over",
        SettingType::Text,
        "The input that changes from row to row.",
    )
    .needed_and_told(),
    settings::SettingField::new(
        "from",
        SettingType::Quantity,
        "The first value of that input; needed where it is a quantity.",
    ),
    settings::SettingField::new(
        "to",
        SettingType::Quantity,
        "The last value of that input; needed where it is a quantity.",
    ),
    settings::SettingField::new(
        "step",
        SettingType::Quantity,
        "From one value to the next; needed where the input is a quantity.",
    ),
    settings::SettingField::new(
        "across",
        SettingType::Text,
        "A second input, with a column for each of its values.",
    ),
    settings::SettingField::new(
        "across_values",
        SettingType::Texts,
        "The values of the second input.",
    ),
    settings::SettingField::new(
        "given",
        SettingType::Quantities,
        "Values of other inputs, where they aren't the job's.",
    ),
    settings::SettingField::new(
        "plot",
        SettingType::Truth,
        "Whether a curve is drawn above the table.",
    ),
];

/// Rows or columns past this many are no help on a card.
const MOST: usize = 60;

/// What a chart's block says.
#[derive(Default)]
pub struct ChartSettings {
    pub caption: Option<Placed<String>>,
    pub output: Option<Placed<String>>,
    pub over: Option<Placed<String>>,
    pub from: Option<Placed<String>>,
    pub to: Option<Placed<String>>,
    pub step: Option<Placed<String>>,
    pub across: Option<Placed<String>>,
    pub across_values: Vec<Placed<String>>,
    pub given: Vec<Binding>,
    pub plot: bool,
}

impl ChartSettings {
    /// Reads a chart's block; nothing where it isn't TOML.
    pub fn read(fence: &Fence, context: &Context) -> Composed<Option<ChartSettings>> {
        fence.settings(context, |settings| {
            Some(ChartSettings {
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
        })
    }
}

/// What a chart shows, once its names are known.
pub struct Sweep<'s> {
    pub calculator: &'s Calculator,
    pub output: &'s Output,
    pub over: &'s Field,
    /// The swept input's values as texts, each with the place to blame.
    pub values: Vec<Placed<String>>,
    pub across: Option<&'s Field>,
    /// The values of the input across; one column without any where there is none.
    pub columns: Vec<Option<Placed<String>>>,
}

impl<'s> Sweep<'s> {
    /// What a block asks for; every fault of it is told.
    pub fn of(
        named: &CalculatorFence<'s>,
        wanted: &ChartSettings,
        context: &Context,
    ) -> Composed<Option<Sweep<'s>>> {
        let calculator = named.calculator;
        let mut all = Composed::of(());
        let span = &named.span;
        let output = all.take(output(calculator, wanted, span, context).into());
        let over = input(calculator, wanted.over.as_ref(), "over", span, context);
        let over = all.take(over.into());
        let values = over.and_then(|over| all.take(values(over, wanted, span, context)));
        let across = wanted.across.as_ref().map(|across| {
            all.take(input(calculator, Some(across), "across", span, context).into())
        });
        let columns = all.take(columns(wanted, context).into());
        if let Some(finding) = twice(wanted, context) {
            all.findings.push(finding);
            return all.with(None);
        }
        let sweep = || {
            Some(Sweep {
                calculator,
                output: output?,
                over: over?,
                values: values?,
                across: match across {
                    Some(across) => Some(across?),
                    None => None,
                },
                columns: columns?,
            })
        };
        let sweep = sweep();
        all.with(sweep)
    }

    /// The inputs of one cell.
    pub fn given(
        &self,
        wanted: &ChartSettings,
        value: &Placed<String>,
        column: Option<&Placed<String>>,
    ) -> Vec<Binding> {
        let assigned = |field: &Field, text: &Placed<String>| Binding {
            name: Placed {
                value: field.name.clone(),
                span: text.span.clone(),
            },
            text: text.clone(),
        };
        let mut given = wanted.given.clone();
        given.push(assigned(self.over, value));
        given.extend(
            self.across
                .zip(column)
                .map(|(across, column)| assigned(across, column)),
        );
        given
    }
}

/// An input that is swept, and is given by another setting too.
fn twice(wanted: &ChartSettings, context: &Context) -> Option<Finding> {
    let swept = [&wanted.over, &wanted.across];
    let across = wanted.across.as_ref();
    let given = wanted.given.iter().map(|one| &one.name);
    let again =
        across.filter(|across| wanted.over.as_ref().map(|over| &over.value) == Some(&across.value));
    let given = given.filter(|name| {
        swept
            .iter()
            .any(|one| one.as_ref().map(|one| &one.value) == Some(&name.value))
    });
    let name = again.into_iter().chain(given).next()?;
    let message = format!(
        "`{}` changes from row to row or column to column already",
        name.value
    );
    let finding = context.error(Code::SameInput, name.span.clone(), message);
    Some(finding.help("leave one of the two out"))
}

fn columns(
    wanted: &ChartSettings,
    context: &Context,
) -> Result<Vec<Option<Placed<String>>>, Finding> {
    let Some(across) = &wanted.across else {
        return Ok(vec![None]);
    };
    let columns = &wanted.across_values;
    if (1..=MOST).contains(&columns.len()) {
        return Ok(columns.iter().cloned().map(Some).collect());
    }
    let message = format!(
        "`{}` goes across with 1 to {MOST} values, and has {}",
        across.value,
        columns.len()
    );
    Err(context
        .error(Code::ChartSize, across.span.clone(), message)
        .help("write across_values = [\"…\", \"…\"]"))
}

fn output<'c>(
    calculator: &'c Calculator,
    wanted: &ChartSettings,
    span: &Range<usize>,
    context: &Context,
) -> Result<&'c Output, Finding> {
    let names: Vec<&str> = calculator
        .results()
        .map(|output| output.name.as_str())
        .collect();
    let Some(output) = &wanted.output else {
        return Err(missing("output", &names, span, context));
    };
    let found = calculator.results().find(|one| one.name == output.value);
    found.ok_or_else(|| {
        unknown(
            WorkingPart::Output,
            output,
            &names,
            calculator,
            context.file,
        )
    })
}

fn input<'c>(
    calculator: &'c Calculator,
    name: Option<&Placed<String>>,
    setting: &str,
    span: &Range<usize>,
    context: &Context,
) -> Result<&'c Field, Finding> {
    let names = calculator.input_names();
    let Some(name) = name else {
        return Err(missing(setting, &names, span, context));
    };
    let found = calculator.input(&name.value).map(|input| &input.field);
    found.ok_or_else(|| unknown(WorkingPart::Input, name, &names, calculator, context.file))
}

fn missing(setting: &str, names: &[&str], span: &Range<usize>, context: &Context) -> Finding {
    let message = format!("this chart doesn't say its `{setting}`");
    context
        .error(Code::MissingSetting, span.clone(), message)
        .help(format!(
            "add {setting} = \"…\", one of {}",
            names.join(", ")
        ))
}

fn values(
    over: &Field,
    wanted: &ChartSettings,
    span: &Range<usize>,
    context: &Context,
) -> Composed<Option<Vec<Placed<String>>>> {
    let (format, want) = match &over.kind {
        FieldKind::Choice(choices) => {
            let named = wanted.over.as_ref();
            let span = named.map_or(span, |over| &over.span);
            let choice = |name: &String| Placed {
                value: name.clone(),
                span: span.clone(),
            };
            let choices = choices.iter().map(|one| choice(&one.name)).collect();
            return Composed::of(Some(choices));
        }
        FieldKind::Number { format, want, .. } => (format, want),
    };
    let mut all = Composed::of(());
    let [from, to, step] = [
        ("from", &wanted.from),
        ("to", &wanted.to),
        ("step", &wanted.step),
    ]
    .map(|(name, text)| all.take(quantity(name, text.as_ref(), want, span, context).into()));
    let (Some(from), Some(to), Some(step)) = (from, to, step) else {
        return all.with(None);
    };
    let Some(texts) = stepped(&from.value, &to.value, &step.value, format.main.kind, MOST) else {
        let said = [&wanted.from, &wanted.to, &wanted.step]
            .map(|text| text.as_ref().map_or("", |text| text.value.as_str()));
        let message = format!(
            "from {} to {} by {} makes no chart of 1 to {MOST} rows",
            said[0], said[1], said[2]
        );
        return Composed::fault(
            context
                .error(Code::ChartSize, step.span, message)
                .help("choose a step that leads from the first value to the last"),
        );
    };
    let last = texts.len() - 1;
    let place = |(index, value): (usize, String)| {
        let span = if index == last { &to.span } else { &from.span };
        Placed {
            value,
            span: span.clone(),
        }
    };
    all.with(Some(texts.into_iter().enumerate().map(place).collect()))
}

/// The texts from one quantity to another by a step; none where that makes no values, or more than
/// `most`.
pub fn stepped(
    from: &Typed,
    to: &Typed,
    step: &Typed,
    kind: ScaleKind,
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
    text: Option<&Placed<String>>,
    want: &Want,
    span: &Range<usize>,
    context: &Context,
) -> Result<Placed<Typed>, Finding> {
    let text = text.ok_or_else(|| missing(setting, &["a quantity"], span, context))?;
    let typed = read(&text.value, want).map_err(|fault| {
        let message = in_english(&fault.message());
        let finding = context.error(Code::BadInput, text.span.clone(), message);
        Finding {
            help: Some(in_english(&fault.help())),
            ..finding
        }
    })?;
    Ok(Placed {
        value: typed,
        span: text.span.clone(),
    })
}
