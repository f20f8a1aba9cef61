//! Reads fields from a catalog's file.

use super::format::NumberFormat;
use super::{Choice, Field, FieldKind};
use crate::message::in_english;
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
            called: called(settings),
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
            called: called(choice),
            name: name.value,
            label,
        });
    });
    choices
}

pub(crate) fn called(settings: &mut Settings) -> Vec<String> {
    let called = settings.texts("called").into_iter();
    called.map(|called| called.value).collect()
}

fn number(settings: &mut Settings) -> Option<FieldKind> {
    let format = NumberFormat::read(settings)?;
    let want = Want {
        kind: format.main.kind,
        ..Want::of(format.main.unit.clone())
    };
    let mut limit = |key| {
        let text = settings.quantity(key)?;
        Some((limit_of(&text, &want, settings)?, text.span))
    };
    let (least, most) = (limit("least"), limit("most"));
    let hard = (
        least.as_ref().map(|end| end.0),
        most.as_ref().map(|end| end.0),
    );
    if let (Some((low, _)), Some((high, span))) = (&least, &most)
        && low > high
    {
        let message = "the limits are the wrong way round: nothing would be taken";
        settings.error(Code::Value, span, message).help =
            Some("write the lower one as `least`".into());
    }
    let band = settings.texts("usual");
    let usual = match band.as_slice() {
        [] => None,
        [low, high] => {
            let ends = [low, high].map(|end| limit_of(end, &want, settings));
            let usual = ends[0].zip(ends[1]);
            if let Some(usual) = usual {
                band_inside(usual, hard, high, settings);
            }
            usual
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
        least: hard.0,
        most: hard.1,
        usual,
    })
}

/// A usual band begins below its end, and lies inside the hard limits.
fn band_inside(
    (low, high): (f64, f64),
    (least, most): (Option<f64>, Option<f64>),
    at: &Placed<String>,
    settings: &mut Settings,
) {
    // limits may be written in another unit
    let slack = 1e-9 * low.abs().max(high.abs());
    let past = least.is_some_and(|least| low < least - slack)
        || most.is_some_and(|most| high > most + slack);
    let message = match (low > high, past) {
        (true, _) => "the usual band ends below where it begins",
        (false, true) => "the usual band reaches past the limits",
        (false, false) => return,
    };
    settings.error(Code::Value, &at.span, message).help =
        Some("write the low end first, both between `least` and `most`".into());
}

fn limit_of(text: &Placed<String>, want: &Want, settings: &mut Settings) -> Option<f64> {
    match read(&text.value, want) {
        Ok(typed) => Some(typed.si),
        Err(fault) => {
            settings
                .error(Code::Value, &text.span, in_english(&fault.message()))
                .help = Some(in_english(&fault.help()));
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::{Catalog, SourceFile};

    #[test]
    fn limits_the_wrong_way_round_are_found_where_they_stand() {
        let faults = [
            (
                "least = \"9 in\"\nmost = \"3 in\"",
                "3 in",
                "the limits are the wrong way round",
            ),
            (
                "usual = [\"9 in\", \"3 in\"]",
                "3 in",
                "the usual band ends below where it begins",
            ),
            (
                "least = \"1 in\"\nmost = \"8 in\"\nusual = [\"2 in\", \"9 in\"]",
                "9 in",
                "the usual band reaches past",
            ),
        ];
        for (limits, at, says) in faults {
            let text = format!(
                "[[measurement]]\nname = \"gap\"\nlabel = \"Gap\"\nunit = \"in\"\n{limits}\nwhy = \"w\"\n"
            );
            let file = SourceFile {
                path: "calculators/gap.toml".into(),
                text: text.clone(),
            };
            let (_, findings) = Catalog::load(&[file]);
            let found: Vec<&str> = findings.iter().map(|one| one.message.as_str()).collect();
            assert!(
                found.iter().any(|message| message.contains(says)),
                "{found:?}"
            );
            assert!(
                text[findings[0].span.clone()].contains(at),
                "{:?}",
                findings[0]
            );
        }
    }
}
