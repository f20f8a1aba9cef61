//! Reads fields from a catalog's file.

use super::face::{Face, local};
use super::{Choice, Field, FieldKind, is_name};
use crate::quantity::{Want, read};
use crate::source::{Fields, Located, Reader};
use gaugeleaf_finding::Code;

impl Field {
    pub(crate) fn read(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Option<Field> {
        let name = fields.wanted("name", reader)?;
        if !is_name(&name.text) {
            reader
                .error(
                    Code::Name,
                    &local(&name.span, reader),
                    format!("`{}` can't be a name", name.text),
                )
                .help = Some("use small letters, digits and _, a letter first".into());
        }
        let text = |key, fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>| {
            fields
                .text(key, reader)
                .map_or(String::new(), |found| found.text)
        };
        let label = fields
            .wanted("label", reader)
            .map_or(name.text.clone(), |found| found.text);
        let help = text("help", fields, reader);
        let why = text("why", fields, reader);
        let symbol = fields
            .text("symbol", reader)
            .map_or_else(|| label.clone(), |found| found.text);
        let choices = choices(fields, reader);
        let kind = if choices.is_empty() {
            number(fields, reader)?
        } else {
            FieldKind::Choice(choices)
        };
        Some(Field {
            label,
            help,
            symbol,
            why,
            kind,
            file: reader.file.to_string(),
            span: name.span.clone(),
            name: name.text,
        })
    }
}

pub(crate) fn choices(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Vec<Choice> {
    let mut choices: Vec<Choice> = Vec::new();
    for mut fields in fields.tables("choices", reader) {
        let Some(name) = fields.wanted("name", reader) else {
            continue;
        };
        let label = fields
            .text("label", reader)
            .map_or(name.text.clone(), |found| found.text);
        if choices.iter().any(|choice| choice.name == name.text) {
            reader.error(
                Code::Name,
                &local(&name.span, reader),
                format!("the choice `{}` stands twice", name.text),
            );
        }
        choices.push(Choice {
            name: name.text,
            label,
        });
        fields.finish(reader);
    }
    choices
}

fn number(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Option<FieldKind> {
    let face = Face::read(fields, reader)?;
    let want = Want {
        kind: face.main.kind,
        ..Want::of(face.main.unit.clone())
    };
    let limit = |key, fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>| {
        let text = fields.text(key, reader)?;
        limit_of(&text, &want, reader)
    };
    let least = limit("least", fields, reader);
    let most = limit("most", fields, reader);
    let band = fields.texts("usual", reader);
    let usual = match band.as_slice() {
        [] => None,
        [low, high] => limit_of(low, &want, reader).zip(limit_of(high, &want, reader)),
        [first, ..] => {
            reader.error(
                Code::WrongKind,
                &local(&first.span, reader),
                "`usual` takes two values, low and high",
            );
            None
        }
    };
    Some(FieldKind::Number {
        face,
        want,
        least,
        most,
        usual,
    })
}

fn limit_of(text: &Located, want: &Want, reader: &mut Reader<'_>) -> Option<f64> {
    match read(&text.text, want) {
        Ok(typed) => Some(typed.si),
        Err(fault) => {
            reader
                .error(Code::Value, &local(&text.span, reader), fault.message())
                .help = fault.help();
            None
        }
    }
}
