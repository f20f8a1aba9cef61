//! JSON Schemas for editors, made from the tables of fields that the reader goes by: one for each
//! kind of file and one for each kind of block.

use gaugeleaf_calc::finding::settings::{Need, OTHERS, SettingField, SettingType};
use serde_json::{Map, Value, json};

use crate::blocks::registry::KINDS;
use crate::handbook::file_kinds::FILE_KINDS;

/// What names and dates look like, as the reader takes them.
const NAME: &str = "^[a-z][a-z0-9_]*$";
const DATE: &str = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$";

/// Every schema by its name in the site's folder `schemas`.
pub fn schemas() -> Vec<(String, Vec<u8>)> {
    let files = FILE_KINDS.iter().map(|form| {
        let about = format!("{} It lies at {}.", form.help, form.place);
        (form.name, schema(form.place, &about, form.fields))
    });
    let blocks = KINDS.iter().map(|kind| {
        let name = kind.name();
        let about = format!("The body of a fenced block. {}", kind.help());
        let title = format!("Block {name}");
        (name, schema(&title, &about, kind.fields()))
    });
    files
        .chain(blocks)
        .map(|(name, schema)| (format!("{name}.json"), format!("{schema:#}\n").into_bytes()))
        .collect()
}

/// Their names, with the ending.
pub fn names() -> impl Iterator<Item = String> {
    let files = FILE_KINDS.iter().map(|form| form.name);
    let blocks = KINDS.iter().map(|kind| kind.name());
    files.chain(blocks).map(|name| format!("{name}.json"))
}

fn schema(title: &str, about: &str, fields: &[SettingField]) -> Value {
    let mut schema = Map::new();
    schema.insert(
        "$schema".into(),
        "https://json-schema.org/draft/2020-12/schema".into(),
    );
    schema.insert("title".into(), title.into());
    schema.insert("description".into(), about.into());
    schema.extend(object(fields));
    Value::Object(schema)
}

fn object(fields: &[SettingField]) -> Map<String, Value> {
    let mut object = Map::new();
    object.insert("type".into(), "object".into());
    let own = fields
        .iter()
        .filter(|field| field.key != OTHERS && field.stands_here());
    let properties: Map<String, Value> = own
        .clone()
        .map(|field| (field.key.to_string(), property(field)))
        .collect();
    object.insert("properties".into(), properties.into());
    let required: Vec<&str> = own
        .clone()
        .filter(|field| matches!(field.need, Need::Always(_) | Need::Told))
        .map(|field| field.key)
        .collect();
    if !required.is_empty() {
        object.insert("required".into(), required.into());
    }
    let either: Vec<Value> = own.filter_map(|field| either(field, fields)).collect();
    if !either.is_empty() {
        object.insert("allOf".into(), either.into());
    }
    let others = fields.iter().find(|field| field.key == OTHERS);
    let others = others.map_or(Value::Bool(false), property);
    object.insert("additionalProperties".into(), others);
    object
}

/// A field, or the other one that makes it needless.
fn either(field: &SettingField, fields: &[SettingField]) -> Option<Value> {
    let Need::Unless(other, _) = field.need else {
        return None;
    };
    let takes = fields.iter().find(|field| field.key == other)?.takes;
    let said = match takes {
        SettingType::Truth => json!({ "const": true }),
        SettingType::Tables(_) => json!({ "minItems": 1 }),
        _ => Value::Bool(true),
    };
    Some(json!({ "anyOf": [
        { "required": [field.key] },
        { "required": [other], "properties": { other: said } },
    ] }))
}

fn property(field: &SettingField) -> Value {
    let mut property = Map::new();
    property.insert("description".into(), field.help.into());
    property.extend(value(field.takes));
    if let Some(only) = field.only {
        property.insert("enum".into(), only.words.into());
    } else if field.need != Need::Free {
        // what is needed says something
        match field.takes {
            SettingType::Text => property.insert("pattern".into(), "\\S".into()),
            SettingType::Texts | SettingType::Tables(_) => {
                property.insert("minItems".into(), 1.into())
            }
            SettingType::Quantities | SettingType::TablesByName(_) => {
                property.insert("minProperties".into(), 1.into())
            }
            _ => None,
        };
    }
    Value::Object(property)
}

fn value(takes: SettingType) -> Map<String, Value> {
    let scalar = || json!({ "type": ["string", "number"] });
    let value = match takes {
        SettingType::Text => json!({ "type": "string" }),
        SettingType::Name => json!({ "type": "string", "pattern": NAME }),
        SettingType::Quantity => scalar(),
        SettingType::Truth => json!({ "type": "boolean" }),
        SettingType::Whole => json!({ "type": "integer" }),
        SettingType::Date => json!({ "type": "string", "format": "date", "pattern": DATE }),
        SettingType::Texts => json!({ "type": "array", "items": scalar() }),
        SettingType::Quantities => json!({ "type": "object", "additionalProperties": scalar() }),
        SettingType::Lists => json!({
            "type": "object",
            "additionalProperties": { "type": "array", "items": scalar() },
        }),
        SettingType::Rows => json!({
            "type": "array",
            "items": { "type": "array", "items": scalar() },
        }),
        SettingType::Table(fields) => Value::Object(object(fields)),
        SettingType::Tables(fields) => json!({ "type": "array", "items": object(fields) }),
        SettingType::TablesByName(fields) => json!({
            "type": "object",
            "additionalProperties": object(fields),
        }),
    };
    match value {
        Value::Object(value) => value,
        _ => Map::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use gaugeleaf_calc::finding::settings::is_name;

    #[test]
    fn a_small_schema_says_what_the_reader_takes() {
        let all = schemas();
        let (_, phase) = all
            .iter()
            .find(|(name, _)| name == "phase.json")
            .expect("the schema");
        let expected = r#"{
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "content/NAME/phase.toml",
  "description": "Makes a folder of pages a phase of the work. It lies at content/NAME/phase.toml.",
  "type": "object",
  "properties": {
    "title": {
      "description": "The phase's name in every list.",
      "type": "string",
      "pattern": "\\S"
    },
    "order": {
      "description": "Its place in the work; leave gaps for phases to come.",
      "type": "integer"
    },
    "purpose": {
      "description": "What is done when the phase is over, in one line.",
      "type": "string",
      "pattern": "\\S"
    }
  },
  "required": [
    "title",
    "order",
    "purpose"
  ],
  "additionalProperties": false
}
"#;
        assert_eq!(String::from_utf8_lossy(phase), expected);
    }

    #[test]
    fn every_kind_of_file_and_block_has_a_schema_of_its_own_name() {
        let mut names: Vec<String> = schemas().into_iter().map(|(name, _)| name).collect();
        let count = names.len();
        assert_eq!(count, FILE_KINDS.len() + KINDS.len());
        names.sort();
        names.dedup();
        assert_eq!(names.len(), count);
    }

    #[test]
    fn every_field_says_in_one_sentence_what_it_is_for() {
        fn look(fields: &[SettingField], path: &str) {
            for field in fields {
                let path = format!("{path}.{}", field.key);
                let help = field.help;
                assert!(
                    help.ends_with('.') && !help.contains(". "),
                    "{path}: {help}"
                );
                assert!(help.chars().count() <= 120, "{path}: {help}");
                if let SettingType::Table(fields)
                | SettingType::Tables(fields)
                | SettingType::TablesByName(fields) = field.takes
                {
                    look(fields, &path);
                }
            }
        }
        FILE_KINDS
            .iter()
            .for_each(|form| look(form.fields, form.name));
        KINDS
            .iter()
            .for_each(|kind| look(kind.fields(), kind.name()));
        assert!(
            is_name("a_1") && !is_name("1a"),
            "as the pattern has it: {NAME}"
        );
    }
}
