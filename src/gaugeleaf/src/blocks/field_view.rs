//! A field as `blocks/field.html` shows it: in a widget, and in the form of a job.

use gaugeleaf_calc::calculator::{InputReading, PrintedValue};
use gaugeleaf_calc::field::{Field, FieldKind};
use gaugeleaf_calc::message::Language;
use gaugeleaf_calc::quantity::RoundingStep;
use gaugeleaf_calc::unit::Unit;
use serde::Serialize;

/// What the template is given as `input`.
#[derive(Debug, Default, Serialize)]
pub struct FieldView<'f> {
    pub name: &'f str,
    label: &'f str,
    help: &'f str,
    why: &'f str,
    kind: &'static str,
    unit: String,
    /// How the unit is shown to people: `°C`.
    unit_shown: String,
    units: Vec<UnitView>,
    also: String,
    text: String,
    understood: String,
    choices: Vec<ChoiceView<'f>>,
    range: String,
    fractions: bool,
    /// Some check may change its verdict with it.
    pub checked: bool,
    pub from: String,
    /// Its value comes along the graph, so another job's may differ.
    pub supplied: bool,
    /// The page gives its value itself, to show how the calculator is used.
    pub example: bool,
    /// What the value stands on, and where it comes from in a few words.
    pub ground: &'static str,
    pub source: String,
}

#[derive(Debug, Serialize)]
struct UnitView {
    /// As the engine takes it: `degC`.
    name: String,
    /// As people read it: `°C`.
    shown: String,
}

impl UnitView {
    fn of(name: String) -> UnitView {
        let shown = Unit::parse(&name).map_or_else(|_| name.clone(), |unit| unit.shown);
        UnitView { name, shown }
    }
}

#[derive(Debug, Serialize)]
struct ChoiceView<'f> {
    name: &'f str,
    label: &'f str,
    chosen: bool,
}

impl<'f> FieldView<'f> {
    /// The field with nothing in it.
    pub fn of(field: &'f Field, language: &Language) -> Self {
        let range = field.range_words().map(|range| language.say(&range));
        let mut view = FieldView {
            name: &field.name,
            label: &field.label,
            help: &field.help,
            why: &field.why,
            kind: "choice",
            range: range.unwrap_or_default(),
            ..FieldView::default()
        };
        match &field.kind {
            FieldKind::Number { format, want, .. } => {
                view.kind = if want.count { "count" } else { "number" };
                if !want.count {
                    view.unit.clone_from(&format.main.unit.symbol);
                    view.unit_shown.clone_from(&format.main.unit.shown);
                    view.units = format.units().into_iter().map(UnitView::of).collect();
                }
                view.also = format
                    .also
                    .as_ref()
                    .map(|form| form.unit.symbol.clone())
                    .unwrap_or_default();
                view.fractions = matches!(format.main.step, RoundingStep::Fraction(_));
            }
            FieldKind::Choice(choices) => {
                view.choices = choices
                    .iter()
                    .map(|choice| ChoiceView {
                        name: &choice.name,
                        label: &choice.label,
                        chosen: false,
                    })
                    .collect();
            }
        }
        view
    }

    /// Puts in what a calculation read.
    pub fn read(&mut self, read: &InputReading, language: &Language) {
        self.ground = read.footing.ground.word();
        self.source = language.say(&read.from);
        match &read.reading {
            PrintedValue::Number(printed) => {
                self.text.clone_from(&printed.text);
                self.understood.clone_from(&read.understood);
            }
            PrintedValue::Choice { name, .. } => {
                self.text.clone_from(name);
                for choice in &mut self.choices {
                    choice.chosen = choice.name == name;
                }
            }
        }
    }
}
