//! A gauge to read: a drawn input as a needle over a round scale.

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::field::FieldKind;
use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::quantity::{Typed, read};
use serde::Serialize;

use crate::blocks::question::variants::{Drawn, Variant};
use crate::page::context::Context;

pub const FIELDS: &[SettingField] = &[
    SettingField::new(
        "shows",
        SettingType::Text,
        "The drawn input that the needle shows.",
    )
    .needed("a gauge shows a drawn input"),
    SettingField::new("to", SettingType::Quantity, "The last figure on the dial.")
        .needed("a dial has a last figure"),
    SettingField::new("every", SettingType::Quantity, "From one mark to the next.")
        .needed("a dial has marks"),
];

/// What a block says of it.
pub struct DialSettings {
    pub shows: Placed<String>,
    pub to: Placed<String>,
    pub every: Placed<String>,
}

/// The sweep of the scale, and where it begins: half of the rest, left of straight down.
const SWEEP: f64 = 270.0;
const START: f64 = -135.0;
/// More marks run into each other on a phone.
const MOST_MARKS: usize = 60;
/// With more figures the dial can't be read at arm's length.
const MOST_FIGURES: usize = 7;
/// Where the figures stand, of a dial whose radius is 100.
const FIGURES: f64 = 62.0;

/// What the page shows.
#[derive(Debug, Serialize)]
pub struct DialView {
    label: String,
    unit: String,
    marks: Vec<DialMark>,
    /// The needle's angle for each variant, in degrees from straight up; JSON too, for the page.
    first: f64,
    turns: String,
}

#[derive(Debug, Serialize)]
struct DialMark {
    angle: f64,
    /// Printed beside it, at its place.
    figure: Option<DialFigure>,
}

#[derive(Debug, Serialize)]
struct DialFigure {
    text: String,
    x: f64,
    y: f64,
}

/// The gauge, where a question has one.
pub fn dial(
    wanted: Option<&DialSettings>,
    calculator: &Calculator,
    drawn: &[Drawn],
    variants: &[Variant],
    context: &Context,
) -> Result<Option<DialView>, Finding> {
    let Some(wanted) = wanted else {
        return Ok(None);
    };
    let bad = |at: &Placed<String>, message: String, help: &str| {
        context
            .error(Code::BadDial, at.span.clone(), message)
            .help(help)
    };
    let name = &wanted.shows.value;
    let place = drawn.iter().position(|one| one.name.value == *name);
    let input = calculator.input(name).map(|input| &input.field);
    let (Some(place), Some(input)) = (place, input) else {
        let message = format!("`{name}` is not drawn");
        return Err(bad(
            &wanted.shows,
            message,
            "name an input that stands under draw",
        ));
    };
    let FieldKind::Number { want, .. } = &input.kind else {
        let message = format!("`{name}` is chosen, not read");
        return Err(bad(&wanted.shows, message, "name a quantity"));
    };
    let typed = |text: &Placed<String>| -> Result<Typed, Finding> {
        let typed = read(&text.value, want).ok();
        typed.filter(|typed| typed.value > 0.0).ok_or_else(|| {
            let message = format!("`{}` is no figure of this dial", text.value);
            bad(
                text,
                message,
                "write a quantity of the input's kind, over zero",
            )
        })
    };
    let (to, every) = (typed(&wanted.to)?, typed(&wanted.every)?);
    let marks = (to.si / every.si).round();
    if (to.si - marks * every.si).abs() > 1e-6 * to.si || marks < 2.0 || marks > MOST_MARKS as f64 {
        let message = format!(
            "marks each `{}` don't lead to `{}`",
            wanted.every.value, wanted.to.value
        );
        let help = format!("write 2 to {MOST_MARKS} marks that end on the last figure");
        return Err(bad(&wanted.every, message, &help));
    }
    let mut turns = Vec::new();
    for variant in variants {
        let shown = read(&variant[place], want).map_or(f64::NAN, |typed| typed.si);
        if !(0.0..=to.si).contains(&shown) {
            let message = format!("`{}` lies off this dial", variant[place]);
            return Err(bad(
                &wanted.to,
                message,
                "write a last figure that no drawn value passes",
            ));
        }
        turns.push(tenth(START + SWEEP * shown / to.si));
    }
    Ok(Some(DialView {
        label: input.label.clone(),
        unit: to.unit.shown.clone(),
        marks: scale(marks as usize, to.value),
        first: turns.first().copied().unwrap_or(START),
        turns: serde_json::to_string(&turns).expect("numbers"),
    }))
}

/// The marks, and figures beside so many that they stay apart.
fn scale(count: usize, last: f64) -> Vec<DialMark> {
    let steps = [1, 2, 4, 5, 10, 20, 25];
    let fits = |step: &&usize| count.is_multiple_of(**step) && count / **step < MOST_FIGURES;
    let step = steps.iter().find(fits).copied().unwrap_or(count);
    let mark = |at: usize| {
        let angle = START + SWEEP * at as f64 / count as f64;
        let figure = at.is_multiple_of(step).then(|| DialFigure {
            text: format!("{}", tenth(last * at as f64 / count as f64)),
            x: tenth(FIGURES * angle.to_radians().sin()),
            y: tenth(-FIGURES * angle.to_radians().cos()),
        });
        DialMark {
            angle: tenth(angle),
            figure,
        }
    };
    (0..=count).map(mark).collect()
}

/// Rounded as far as an eye can follow.
fn tenth(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}
