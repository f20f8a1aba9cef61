//! What a question's block says.

use gaugeleaf_calc::finding::settings::{Binding, Field, Placed, Takes};

use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::Fence;

pub const FIELDS: &[Field] = &[
    Field::new(
        "ask",
        Takes::Text,
        "The question; with an input's name in braces for each drawn number.",
    )
    .needed_and_told(),
    Field::new("right", Takes::Text, "The right answer of a choice."),
    Field::new(
        "wrong",
        Takes::Texts,
        "Two or three wrong answers, as long as the right one.",
    ),
    Field::new(
        "order",
        Takes::Texts,
        "Three to nine steps in their right order.",
    ),
    Field::new(
        "calculator",
        Takes::Text,
        "The calculator that works out a number.",
    ),
    Field::new("output", Takes::Text, "Its result that is asked for."),
    Field::new(
        "draw",
        Takes::Lists,
        "The least, the greatest and the step of each input that is drawn.",
    ),
    Field::new(
        "given",
        Takes::Quantities,
        "Values of the other inputs, where they aren't the job's.",
    ),
    Field::new(
        "tolerance",
        Takes::Quantity,
        "How far off still counts as right: a quantity, or a share such as `2 %`.",
    ),
    Field::new("why", Takes::Text, "What is told after the answer."),
    Field::new(
        "critical",
        Takes::Truth,
        "Whether it has to be right for a pass.",
    ),
];

/// The settings of a question of any kind.
#[derive(Default)]
pub struct Wanted {
    pub ask: Option<Placed<String>>,
    pub right: Option<Placed<String>>,
    pub wrong: Vec<Placed<String>>,
    pub order: Vec<Placed<String>>,
    pub calculator: Option<Placed<String>>,
    pub output: Option<Placed<String>>,
    pub draw: Vec<(Placed<String>, Vec<Placed<String>>)>,
    pub given: Vec<Binding>,
    pub tolerance: Option<Placed<String>>,
    pub why: Option<Placed<String>>,
    pub critical: bool,
}

impl Wanted {
    /// Reads the block; nothing where it isn't TOML.
    pub fn read(fence: &Fence, context: &Context) -> Composed<Option<Wanted>> {
        fence.settings(context, |settings| {
            Some(Wanted {
                ask: settings.text("ask"),
                right: settings.text("right"),
                wrong: settings.texts("wrong"),
                order: settings.texts("order"),
                calculator: settings.text("calculator"),
                output: settings.text("output"),
                draw: settings.ranges("draw"),
                given: settings.quantities("given"),
                tolerance: settings.quantity("tolerance"),
                why: settings.text("why"),
                critical: settings.truth("critical"),
            })
        })
    }
}
