//! What a question's block says.

use gaugeleaf_calc::finding::settings::{Binding, Placed, SettingField, SettingType};

use crate::blocks::question::dial::{self, DialSettings};
use crate::blocks::question::rest::{self, RestSettings};
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::Fence;

pub const FIELDS: &[SettingField] = &[
    SettingField::new(
        "ask",
        SettingType::Text,
        "The question; with an input's name in braces for each drawn number.",
    )
    .needed_and_told(),
    SettingField::new("right", SettingType::Text, "The right answer of a choice."),
    SettingField::new(
        "wrong",
        SettingType::Texts,
        "Three to five wrong answers, as long as the right one.",
    ),
    SettingField::new(
        "order",
        SettingType::Texts,
        "Three to nine steps in their right order.",
    ),
    SettingField::new(
        "calculator",
        SettingType::Text,
        "The calculator that works out a number.",
    ),
    SettingField::new("output", SettingType::Text, "Its result that is asked for."),
    SettingField::new(
        "draw",
        SettingType::Lists,
        "The least, the greatest and the step of each input that is drawn.",
    ),
    SettingField::new(
        "given",
        SettingType::Quantities,
        "Values of the other inputs, where they aren't the job's.",
    ),
    SettingField::new(
        "tolerance",
        SettingType::Quantity,
        "How far off still counts as right: a quantity, or a share such as `2 %`.",
    ),
    SettingField::new(
        "decide",
        SettingType::Truth,
        "Whether it asks for the verdict on a card of what is given and drawn.",
    ),
    SettingField::new(
        "missing",
        SettingType::Texts,
        "Lines of that card that nobody has measured, in some variants.",
    ),
    SettingField::new(
        "slips",
        SettingType::Quantities,
        "Wrong readings of a card of what is given, one at a time: the reader finds the line.",
    ),
    SettingField::new(
        "dial",
        SettingType::Table(dial::FIELDS),
        "A gauge on which a drawn input is read.",
    ),
    SettingField::new("why", SettingType::Text, "What is told after the answer."),
    SettingField::new(
        "rests",
        SettingType::Table(rest::FIELDS),
        "The step or hazard that the right answer rests on.",
    ),
    SettingField::new(
        "critical",
        SettingType::Truth,
        "Whether it has to be right for a pass.",
    ),
];

/// The settings of a question of any kind.
#[derive(Default)]
pub struct QuestionSettings {
    pub ask: Option<Placed<String>>,
    pub right: Option<Placed<String>>,
    pub wrong: Vec<Placed<String>>,
    pub order: Vec<Placed<String>>,
    pub calculator: Option<Placed<String>>,
    pub output: Option<Placed<String>>,
    pub draw: Vec<(Placed<String>, Vec<Placed<String>>)>,
    pub given: Vec<Binding>,
    pub tolerance: Option<Placed<String>>,
    pub decide: bool,
    pub missing: Vec<Placed<String>>,
    pub slips: Vec<Binding>,
    pub dial: Option<DialSettings>,
    pub why: Option<Placed<String>>,
    pub rests: Option<RestSettings>,
    pub critical: bool,
}

impl QuestionSettings {
    /// Reads the block; nothing where it isn't TOML.
    pub fn read(fence: &Fence, context: &Context) -> Composed<Option<QuestionSettings>> {
        fence.settings(context, |settings| {
            Some(QuestionSettings {
                ask: settings.text("ask"),
                right: settings.text("right"),
                wrong: settings.texts("wrong"),
                order: settings.texts("order"),
                calculator: settings.text("calculator"),
                output: settings.text("output"),
                draw: settings.ranges("draw"),
                given: settings.quantities("given"),
                tolerance: settings.quantity("tolerance"),
                decide: settings.truth("decide"),
                missing: settings.texts("missing"),
                slips: settings.quantities("slips"),
                dial: settings
                    .table("dial", |dial| {
                        Some(DialSettings {
                            shows: dial.text("shows")?,
                            to: dial.quantity("to")?,
                            every: dial.quantity("every")?,
                        })
                    })
                    .flatten(),
                why: settings.text("why"),
                rests: settings
                    .table("rests", |rests| {
                        Some(RestSettings {
                            says: rests.text("says")?,
                            page: rests.text("page"),
                        })
                    })
                    .flatten(),
                critical: settings.truth("critical"),
            })
        })
    }
}
