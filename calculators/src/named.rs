//! Measurements and ratings: the named quantities that the graph begins with.

use crate::field::Field;
use crate::field::fields::{
    ALSO, ALSO_PRINT, CHOICES, HELP, LABEL, LEAST, MOST, NAME, PRINT, ROUND, SYMBOL,
    UNIT_UNLESS_CHOICES, USUAL, WHY,
};
use gaugeleaf_finding::settings::{self, SettingType, Settings};
use gaugeleaf_finding::{Code, Placed};
use serde::{Deserialize, Serialize};

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Role {
    /// The crew measures it on the job.
    Measurement,
    /// The equipment fixes it.
    Rating,
}

impl Role {
    pub fn word(self) -> &'static str {
        match self {
            Role::Measurement => "measurement",
            Role::Rating => "rating",
        }
    }
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NamedQuantity {
    pub role: Role,
    pub field: Field,
    /// The rating's value, or the measurement's on the demonstration job.
    pub value: Placed<String>,
    #[serde(skip)]
    pub source: String,
}

pub const FIELDS: &[settings::SettingField] = &[
    settings::SettingField::new(
        "measurement",
        SettingType::Tables(MEASUREMENT),
        "What the crew measures on the job.",
    ),
    settings::SettingField::new(
        "rating",
        SettingType::Tables(RATING),
        "What the equipment fixes.",
    ),
];

const MEASUREMENT: &[settings::SettingField] = &[
    NAME,
    LABEL,
    HELP,
    SYMBOL,
    UNIT_UNLESS_CHOICES,
    PRINT,
    ROUND,
    ALSO,
    ALSO_PRINT,
    CHOICES,
    LEAST,
    MOST,
    USUAL,
    WHY,
    settings::SettingField::new(
        "default",
        SettingType::Quantity,
        "Its value on the handbook's own job.",
    )
    .needed("the handbook prints it until a crew has measured it"),
    settings::SettingField::new("source", SettingType::Text, "Who measured that, and when."),
];

const RATING: &[settings::SettingField] = &[
    NAME,
    LABEL,
    HELP,
    SYMBOL,
    UNIT_UNLESS_CHOICES,
    PRINT,
    ROUND,
    ALSO,
    ALSO_PRINT,
    CHOICES,
    LEAST,
    MOST,
    USUAL,
    WHY,
    settings::SettingField::new(
        "value",
        SettingType::Quantity,
        "Its value, as the source has it.",
    )
    .needed("the equipment fixes it"),
    settings::SettingField::new(
        "source",
        SettingType::Text,
        "The plate or the sheet that it is read from.",
    )
    .needed("a rating is worth what its source is"),
];

pub(crate) fn load(settings: &mut Settings) -> Vec<NamedQuantity> {
    let mut named = Vec::new();
    for (key, role, value_key) in [
        ("measurement", Role::Measurement, "default"),
        ("rating", Role::Rating, "value"),
    ] {
        let found = settings.tables(key, |one, _| {
            let field = Field::read(one)?;
            let value = one.quantity(value_key)?;
            if let Err(refusal) = field.take(&value.value, None, false) {
                let bad = one.error(Code::Value, &value.span, refusal.message);
                bad.help = refusal.help;
                bad.ties.breaks.push(field.name.clone());
            }
            let source = one.text("source");
            Some(NamedQuantity {
                role,
                field,
                value,
                source: source
                    .map_or_else(|| "measured on the job".to_string(), |source| source.value),
            })
        });
        named.extend(found.into_iter().flatten());
    }
    named
}
