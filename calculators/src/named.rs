//! Measurements and ratings: the named quantities that the graph begins with.

use crate::field::Field;
use crate::field::fields::{
    ALSO, ALSO_PRINT, CALLED, CHOICES, HELP, LABEL, LEAST, MOST, NAME, PRINT, ROUND, SYMBOL,
    UNIT_UNLESS_CHOICES, USUAL, WHY,
};
use crate::message::in_english;
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
    /// The usual value of what may be taken for granted until somebody measures it.
    pub assumed: Option<Placed<String>>,
}

/// What may be assumed where nobody has taken it, and nothing else: properties of water, air and
/// fuel, of a surface, an opening or a machine, and the noise before it is metered. Never a
/// dimension, a count, a pressure, a rating, a setting, a force or a clearance.
pub const ASSUMABLE: [&str; 13] = [
    "air_temperature",
    "discharge_coefficient",
    "efficiency",
    "fuel_consumption",
    "fuel_density",
    "hose_roughness",
    "length_change",
    "level",
    "noise_level",
    "pump_efficiency",
    "roughness",
    "volume_growth",
    "water_temperature",
];

pub fn may_be_assumed(name: &str) -> bool {
    ASSUMABLE.contains(&name)
}

pub const FIELDS: &[settings::SettingField] = &[
    settings::SettingField::new(
        "measurement",
        SettingType::Tables(NAMED),
        "What the crew measures on the job.",
    ),
    settings::SettingField::new(
        "rating",
        SettingType::Tables(NAMED),
        "What the equipment fixes; its value stands in a kit.",
    ),
];

/// Where values stand: here are names alone.
const PLACES: &str = "a rating's value and source stand in a kit, content/equipment/NAME.toml; a measurement's value under given, on its job's page";

const NAMED: &[settings::SettingField] = &[
    NAME,
    LABEL,
    CALLED,
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
        "assumed",
        SettingType::Quantity,
        "The usual value until somebody takes it, for the few properties that may be assumed.",
    ),
    settings::SettingField::moved("value", PLACES),
    settings::SettingField::moved("default", PLACES),
    settings::SettingField::moved("source", PLACES),
];

pub(crate) fn load(settings: &mut Settings) -> Vec<NamedQuantity> {
    let mut named = Vec::new();
    for (key, role) in [("measurement", Role::Measurement), ("rating", Role::Rating)] {
        let found = settings.tables(key, |one, _| {
            let field = Field::read(one)?;
            let assumed = one.quantity("assumed");
            if let Some(value) = &assumed {
                assumable(&field, value, one);
            }
            Some(NamedQuantity {
                role,
                field,
                assumed,
            })
        });
        named.extend(found.into_iter().flatten());
    }
    named
}

/// Whether a value may be assumed at all, and the usual band is there over which verdicts must hold.
fn assumable(field: &Field, value: &Placed<String>, one: &mut Settings) {
    let mut tell = |message: String, help: Option<String>| {
        let bad = one.error(Code::Value, &value.span, message);
        bad.help = help;
        bad.ties.breaks.push(field.name.clone());
    };
    if !may_be_assumed(&field.name) {
        let message = format!("`{}` is not one of the few that may be assumed", field.name);
        let help = format!(
            "leave this out: nobody knows it until it is taken. What may be assumed: {}",
            ASSUMABLE.join(", ")
        );
        tell(message, Some(help));
    } else if field.usual_span().is_none() {
        let message = "what is assumed needs a usual band".to_string();
        tell(
            message,
            Some("add usual = [\"least\", \"most\"]: a verdict has to hold over it".into()),
        );
    } else if let Err(refusal) = field.take(&value.value, None, false) {
        let help = refusal.help.as_ref().map(in_english);
        tell(in_english(&refusal.message), help);
    }
}
