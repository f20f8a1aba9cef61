//! What a question's block says.

use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::Fence;
use crate::settings::{Assigned, Placed};

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
    pub given: Vec<Assigned>,
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
