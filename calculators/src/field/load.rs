//! Reads fields from a catalog's file.

use super::format::NumberFormat;
use super::{Choice, Field, FieldKind};
use crate::quantity::{Want, read};
use gaugeleaf_finding::settings::Settings;
use gaugeleaf_finding::{Code, Placed};

impl Field {
    pub(crate) fn read(settings: &mut Settings) -> Option<Field> {
        let choices = choices(settings);
        let kind = if choices.is_empty() {
            number(settings)
        } else {
            Some(FieldKind::Choice(choices))
        };
        let name = settings.text("name")?;
        let label = settings
            .text("label")
            .map_or_else(|| name.value.clone(), |label| label.value);
        let symbol = settings
            .text("symbol")
            .map_or_else(|| label.clone(), |symbol| symbol.value);
        Some(Field {
            label,
            help: settings.plain("help"),
            symbol,
            why: settings.plain("why"),
            kind: kind?,
            file: settings.file().to_string(),
            span: name.span,
            name: name.value,
        })
    }
}

pub(crate) fn choices(settings: &mut Settings) -> Vec<Choice> {
    let mut choices: Vec<Choice> = Vec::new();
    settings.tables("choices", |choice, _| {
        let Some(name) = choice.text("name") else {
            return;
        };
        let label = choice
            .text("label")
            .map_or_else(|| name.value.clone(), |label| label.value);
        if choices.iter().any(|choice| choice.name == name.value) {
            let message = format!("the choice `{}` stands twice", name.value);
            choice.error(Code::Name, &name.span, message);
        }
        choices.push(Choice {
            name: name.value,
            label,
        });
    });
    choices
}

fn number(settings: &mut Settings) -> Option<FieldKind> {
    let format = NumberFormat::read(settings)?;
    let want = Want {
        kind: format.main.kind,
        ..Want::of(format.main.unit.clone())
    };
    let mut limit = |key| {
        let text = settings.quantity(key)?;
        limit_of(&text, &want, settings)
    };
    let (least, most) = (limit("least"), limit("most"));
    let band = settings.texts("usual");
    let usual = match band.as_slice() {
        [] => None,
        [low, high] => {
            let ends = [low, high].map(|end| limit_of(end, &want, settings));
            ends[0].zip(ends[1])
        }
        [first, ..] => {
            let message = "`usual` takes two values, low and high";
            settings.error(Code::WrongKind, &first.span, message);
            None
        }
    };
    Some(FieldKind::Number {
        format,
        want,
        least,
        most,
        usual,
    })
}

fn limit_of(text: &Placed<String>, want: &Want, settings: &mut Settings) -> Option<f64> {
    match read(&text.value, want) {
        Ok(typed) => Some(typed.si),
        Err(fault) => {
            settings
                .error(Code::Value, &text.span, fault.message())
                .help = fault.help();
            None
        }
    }
}
