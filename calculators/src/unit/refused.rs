//! Words that mean several units, and what to write instead of each.

use super::Dimension;

/// A word that means several things.
#[derive(Debug)]
pub struct RefusedWord {
    pub word: &'static str,
    /// The kinds of quantity that it may be meant for; any, where there is none.
    pub about: &'static [Dimension],
    /// What to write instead.
    pub help: &'static str,
}

const fn refuse(
    word: &'static str,
    about: &'static [Dimension],
    help: &'static str,
) -> RefusedWord {
    RefusedWord { word, about, help }
}

const TON: &str = "a ton is 2000 lb, 2240 lb or 1000 kg: write the mass in lb or kg";
const MIL: &str =
    "to some a mil is a thousandth of an inch, to others a millimetre: write thou or mm";

pub static REFUSED: &[RefusedWord] = &[
    refuse("ton", &[Dimension::MASS], TON),
    refuse("tons", &[Dimension::MASS], TON),
    refuse("tonne", &[Dimension::MASS], "write the mass in kg"),
    refuse("t", &[Dimension::MASS], "write the mass in kg"),
    refuse("k", &[], "write the thousands out, such as 10000"),
    refuse("mil", &[Dimension::LENGTH], MIL),
    refuse("mils", &[Dimension::LENGTH], MIL),
    refuse(
        "#",
        &[Dimension::PRESSURE, Dimension::FORCE, Dimension::MASS],
        "write psi for a pressure, lbf for a force or lb for a mass",
    ),
    refuse(
        "C",
        &[Dimension::TEMPERATURE],
        "write degC for a temperature in degrees Celsius",
    ),
    refuse(
        "F",
        &[Dimension::TEMPERATURE],
        "write degF for a temperature in degrees Fahrenheit",
    ),
    refuse(
        "bhp",
        &[Dimension::POWER],
        "write hp, the mechanical horsepower of 550 ft·lbf/s",
    ),
    refuse(
        "PS",
        &[Dimension::POWER],
        "write kW, or hp for the mechanical horsepower",
    ),
    refuse("kgf", &[Dimension::FORCE], "write the force in N or lbf"),
    refuse(
        "kg/cm2",
        &[Dimension::PRESSURE],
        "write the pressure in bar or psi",
    ),
    refuse(
        "oz",
        &[Dimension::MASS, Dimension::VOLUME],
        "write the mass in lb or g, the volume in gal or L",
    ),
];

/// What to write instead of a word that means several units.
pub(crate) fn refused(word: &str) -> Option<&'static str> {
    let found = REFUSED.iter().find(|refused| refused.word == word);
    found.map(|refused| refused.help)
}
