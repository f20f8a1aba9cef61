//! Measurements and ratings: the named quantities that the graph begins with.

use crate::field::Field;
use crate::source::{Fields, Located, Reader};
use gaugeleaf_finding::Code;
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
pub struct Named {
    pub role: Role,
    pub field: Field,
    /// The rating's value, or the measurement's on the demonstration job.
    pub value: Located,
    #[serde(skip)]
    pub source: String,
}

pub(crate) fn load(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Vec<Named> {
    let mut named = Vec::new();
    for (key, role, value_key) in [
        ("measurement", Role::Measurement, "default"),
        ("rating", Role::Rating, "value"),
    ] {
        for mut fields in fields.tables(key, reader) {
            let Some(field) = Field::read(&mut fields, reader) else {
                continue;
            };
            let value = fields.wanted(value_key, reader);
            let source = match role {
                Role::Rating => fields.wanted("source", reader),
                Role::Measurement => fields.text("source", reader),
            };
            fields.finish(reader);
            let Some(value) = value else {
                continue;
            };
            if let Err(refusal) = field.take(&value.text, None, false) {
                reader.error(Code::Value, &value.span, refusal.message).help = refusal.help;
            }
            let source =
                source.map_or_else(|| "measured on the job".to_string(), |source| source.text);
            named.push(Named {
                role,
                field,
                value,
                source,
            });
        }
    }
    named
}
