//! What a kit's file may hold.

use gaugeleaf_finding::settings::{SettingField, SettingType};

pub const FIELDS: &[SettingField] = &[
    SettingField::new("kit", SettingType::Table(HEAD), "The kit itself.")
        .needed("jobs call a kit by its name"),
    SettingField::new(
        "rating",
        SettingType::TablesByName(RATING),
        "What the equipment fixes, by the names of ratings; or a row of a table by a name of your own.",
    )
    .needed("a kit is what it fixes"),
];

const HEAD: &[SettingField] = &[
    SettingField::new("name", SettingType::Text, "What jobs call it.")
        .needed("jobs call a kit by its name"),
    SettingField::new("title", SettingType::Text, "What people call it.")
        .needed("it is listed by its title"),
];

pub(super) const RATING: &[SettingField] = &[
    SettingField::new(
        "value",
        SettingType::Quantity,
        "The value, as the source has it.",
    )
    .needed_unless("table", "the equipment fixes it"),
    SettingField::new(
        "source",
        SettingType::Text,
        "The plate, the tag or the sheet that it is read from.",
    )
    .needed_unless("table", "a rating is worth what its source is"),
    SettingField::new(
        "read",
        SettingType::Date,
        "The day on which it was read there.",
    ),
    SettingField::new("by", SettingType::Text, "Who read it."),
    SettingField::new(
        "confirmed",
        SettingType::Truth,
        "Says that a value outside the usual band was read twice.",
    ),
    SettingField::new(
        "table",
        SettingType::Text,
        "The table whose row gives all the ratings that its columns name.",
    ),
    SettingField::others("With `table`: a column, and its entry in the row that is meant."),
];
