//! Words that mean several units, and what to write instead of each.

use super::Dimension;
use crate::message::Message;
use crate::message::tell::refused as tell;

/// A word that means several things.
#[derive(Debug)]
pub struct RefusedWord {
    pub word: &'static str,
    /// The kinds of quantity that it may be meant for; any, where there is none.
    pub about: &'static [Dimension],
    /// What to write instead.
    pub help: fn() -> Message,
}

const fn refuse(
    word: &'static str,
    about: &'static [Dimension],
    help: fn() -> Message,
) -> RefusedWord {
    RefusedWord { word, about, help }
}

pub static REFUSED: &[RefusedWord] = &[
    refuse("ton", &[Dimension::MASS], tell::ton),
    refuse("tons", &[Dimension::MASS], tell::ton),
    refuse("tonne", &[Dimension::MASS], tell::tonne),
    refuse("t", &[Dimension::MASS], tell::tonne),
    refuse("k", &[], tell::thousands),
    refuse("mil", &[Dimension::LENGTH], tell::mil),
    refuse("mils", &[Dimension::LENGTH], tell::mil),
    refuse(
        "#",
        &[Dimension::PRESSURE, Dimension::FORCE, Dimension::MASS],
        tell::pound,
    ),
    refuse("C", &[Dimension::TEMPERATURE], tell::celsius),
    refuse("F", &[Dimension::TEMPERATURE], tell::fahrenheit),
    refuse("bhp", &[Dimension::POWER], tell::horsepower),
    refuse("PS", &[Dimension::POWER], tell::metric_horsepower),
    refuse("kg/cm2", &[Dimension::PRESSURE], tell::kilogram_per_area),
    refuse("oz", &[Dimension::MASS, Dimension::VOLUME], tell::ounce),
];

/// What to write instead of a word that means several units.
pub(crate) fn refused(word: &str) -> Option<Message> {
    let found = REFUSED.iter().find(|refused| refused.word == word);
    found.map(|refused| (refused.help)())
}
