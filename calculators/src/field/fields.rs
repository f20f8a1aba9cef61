//! The keys that whatever has a name and a unit shares: for the tables of fields of each.

use gaugeleaf_finding::Code;
use gaugeleaf_finding::settings::{SettingField, SettingType};

pub(crate) const NAME: SettingField = SettingField::new(
    "name",
    SettingType::Name,
    "What formulas and value links call it: small letters, digits and `_`.",
)
.needed("formulas and pages call it by its name");
pub(crate) const LABEL: SettingField =
    SettingField::new("label", SettingType::Text, "What people call it.")
        .needed("a reader has to know what it is");
pub(crate) const CALLED: SettingField = SettingField::new(
    "called",
    SettingType::Texts,
    "What people call it besides: a number beside these words is taken for it.",
);
pub(crate) const HELP: SettingField = SettingField::new(
    "help",
    SettingType::Text,
    "How it is measured, or what it stands for.",
);
pub(crate) const SYMBOL: SettingField = SettingField::new(
    "symbol",
    SettingType::Text,
    "Its symbol in the working, as `l_s` for a subscript; the label otherwise.",
);
pub(crate) const CHOICES: SettingField = SettingField::new(
    "choices",
    SettingType::Tables(CHOICE),
    "The choices, where it is one of a few instead of a number.",
);
pub(crate) const UNIT: SettingField = SettingField::new(
    "unit",
    SettingType::Text,
    "What a bare number means; `count` for whole numbers, `1` for plain ones.",
);
pub(crate) const PRINT: SettingField = SettingField::new(
    "print",
    SettingType::Quantity,
    "The step that is printed: `1/8`, `0.1`, `1` or `100`.",
);
pub(crate) const ROUND: SettingField = SettingField::new(
    "round",
    SettingType::Text,
    "To the safe side: `up`, `down` or `nearest`.",
)
.only(Code::Round, "a way to round", &["up", "down", "nearest"]);
pub(crate) const ALSO: SettingField =
    SettingField::new("also", SettingType::Text, "The unit of the other system.");
pub(crate) const ALSO_PRINT: SettingField = SettingField::new(
    "also_print",
    SettingType::Quantity,
    "The step that is printed in that unit.",
);
pub(crate) const LEAST: SettingField = SettingField::new(
    "least",
    SettingType::Quantity,
    "The least value; what is less is refused.",
);
pub(crate) const MOST: SettingField = SettingField::new(
    "most",
    SettingType::Quantity,
    "The greatest value; what is more is refused.",
);
pub(crate) const USUAL: SettingField = SettingField::new(
    "usual",
    SettingType::Texts,
    "The least and the greatest usual value; what lies outside has to be confirmed.",
);
pub(crate) const WHY: SettingField =
    SettingField::new("why", SettingType::Text, "The reason for the limits.");

const CHOICE: &[SettingField] = &[
    SettingField::new("name", SettingType::Text, "What formulas call the choice.")
        .needed("formulas call a choice by its name"),
    SettingField::new(
        "label",
        SettingType::Text,
        "What people call it; the name otherwise.",
    ),
    CALLED,
];

/// The unit of what may be one of a few choices instead.
pub(crate) const UNIT_UNLESS_CHOICES: SettingField =
    UNIT.needed_unless("choices", "a number has a unit, if it is only 1");
