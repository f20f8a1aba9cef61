//! The keys that whatever has a name and a unit shares: for the tables of fields of each.

use gaugeleaf_finding::Code;
use gaugeleaf_finding::settings::{Field, Takes};

pub(crate) const NAME: Field = Field::new(
    "name",
    Takes::Name,
    "What formulas and value links call it: small letters, digits and `_`.",
)
.needed("formulas and pages call it by its name");
pub(crate) const LABEL: Field = Field::new("label", Takes::Text, "What people call it.")
    .needed("a reader has to know what it is");
pub(crate) const HELP: Field = Field::new(
    "help",
    Takes::Text,
    "How it is measured, or what it stands for.",
);
pub(crate) const SYMBOL: Field = Field::new(
    "symbol",
    Takes::Text,
    "Its symbol in the working, as `l_s` for a subscript; the label otherwise.",
);
pub(crate) const CHOICES: Field = Field::new(
    "choices",
    Takes::Tables(CHOICE),
    "The choices, where it is one of a few instead of a number.",
);
pub(crate) const UNIT: Field = Field::new(
    "unit",
    Takes::Text,
    "What a bare number means; `count` for whole numbers, `1` for plain ones.",
);
pub(crate) const PRINT: Field = Field::new(
    "print",
    Takes::Quantity,
    "The step that is printed: `1/8`, `0.1`, `1` or `100`.",
);
pub(crate) const ROUND: Field = Field::new(
    "round",
    Takes::Text,
    "To the safe side: `up`, `down` or `nearest`.",
)
.only(Code::Round, "a way to round", &["up", "down", "nearest"]);
pub(crate) const ALSO: Field = Field::new("also", Takes::Text, "The unit of the other system.");
pub(crate) const ALSO_PRINT: Field = Field::new(
    "also_print",
    Takes::Quantity,
    "The step that is printed in that unit.",
);
pub(crate) const LEAST: Field = Field::new(
    "least",
    Takes::Quantity,
    "The least value; what is less is refused.",
);
pub(crate) const MOST: Field = Field::new(
    "most",
    Takes::Quantity,
    "The greatest value; what is more is refused.",
);
pub(crate) const USUAL: Field = Field::new(
    "usual",
    Takes::Texts,
    "The least and the greatest usual value; what lies outside has to be confirmed.",
);
pub(crate) const WHY: Field = Field::new("why", Takes::Text, "The reason for the limits.");

const CHOICE: &[Field] = &[
    Field::new("name", Takes::Text, "What formulas call the choice.")
        .needed("formulas call a choice by its name"),
    Field::new(
        "label",
        Takes::Text,
        "What people call it; the name otherwise.",
    ),
];

/// The unit of what may be one of a few choices instead.
pub(crate) const UNIT_UNLESS_CHOICES: Field =
    UNIT.needed_unless("choices", "a number has a unit, if it is only 1");
