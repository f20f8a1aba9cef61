//! Holds a parsed table to its table of fields: every fault is told, each at its place.

use super::scalar::{date, whole};
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use crate::code::Code;
use crate::excerpt::Excerpt;
use crate::finding::Finding;
use crate::nearest::nearest;
use crate::place::widened;
use crate::settings::field::{Need, OTHERS, SettingField, SettingType, field, is_name};
use crate::settings::scalar;

pub(super) struct SettingsCheck<'c> {
    pub file: &'c str,
    pub body: &'c Excerpt,
    /// Every line could be read. Where one couldn't, a key may seem to be missing or to be of
    /// another kind, and only is cut off.
    pub complete: bool,
    pub findings: Vec<Finding>,
}

impl SettingsCheck<'_> {
    /// One table; its faults that have no place of their own stand at `whole`.
    pub fn table(
        &mut self,
        table: &DeTable,
        fields: &'static [SettingField],
        whole: &Range<usize>,
    ) {
        if self.complete {
            self.missing(table, fields, whole);
        }
        for (key, value) in table {
            match field(fields, key.get_ref()) {
                Some(SettingField {
                    need: Need::Moved(to),
                    ..
                }) => {
                    let message = format!("there is no setting named `{}` here", key.get_ref());
                    let help = Some((*to).to_string());
                    self.tell(Code::UnknownSetting, key.span(), message, help);
                }
                Some(field) => self.value(key.get_ref(), value, field),
                // a line without a key is told already
                None if key.get_ref().is_empty() && !self.complete => {}
                None => self.unknown(key.get_ref(), key.span(), fields),
            }
        }
    }

    fn missing(&mut self, table: &DeTable, fields: &'static [SettingField], whole: &Range<usize>) {
        for field in fields {
            let why = match field.need {
                Need::Always(why) => why,
                Need::Unless(other, why) if !table.get(other).is_some_and(says_so) => why,
                Need::Free | Need::Told | Need::Unless(..) | Need::Moved(_) => continue,
            };
            let (span, fault, help) = match table.get_key_value(field.key) {
                // told at the key that was meant for it
                None if misspelt(table, fields, field.key) => continue,
                None => (whole.clone(), "missing", "add"),
                Some((key, value)) if is_blank(value.get_ref(), field.takes) => {
                    (key.span().start..value.span().end, "empty", "write")
                }
                Some(_) => continue,
            };
            let message = format!("`{}` is {fault}: {why}", field.key);
            let help = format!("{help} {}", field.takes.written(field.key));
            self.tell(Code::MissingSetting, span, message, Some(help));
        }
    }

    fn tell(&mut self, code: Code, span: Range<usize>, message: String, help: Option<String>) {
        let span = self.body.locate(widened(self.body.text(), span));
        let mut finding = Finding::error(code, self.file, span, message);
        finding.help = help;
        self.findings.push(finding);
    }

    fn unknown(&mut self, key: &str, span: Range<usize>, fields: &'static [SettingField]) {
        let known = fields.iter().filter(|field| field.stands_here());
        let known = known.map(|field| field.key);
        let help = match nearest(key, known.clone()) {
            Some(near) => format!("write {near}"),
            None if fields.is_empty() => "leave it out".to_string(),
            None => format!("the settings are {}", known.collect::<Vec<_>>().join(", ")),
        };
        let message = format!("there is no setting named `{key}` here");
        self.tell(Code::UnknownSetting, span, message, Some(help));
    }

    fn wrong(&mut self, key: &str, value: &Spanned<DeValue>, wanted: SettingType) {
        if !self.complete {
            return;
        }
        let found = match value.get_ref().type_str() {
            "string" => "text",
            "integer" | "float" => "a number",
            "boolean" => "true or false",
            "datetime" => "a date",
            "array" => "a list",
            _ => "a table",
        };
        let message = format!("`{key}` is {found}, where {} is wanted", wanted.words());
        let help = format!("write {}", wanted.written(key));
        self.tell(Code::WrongKind, value.span(), message, Some(help));
    }

    fn value(&mut self, key: &str, value: &Spanned<DeValue>, field: &SettingField) {
        match (field.takes, value.get_ref()) {
            (SettingType::Text | SettingType::Name, DeValue::String(text)) => {
                self.text(text, value, field)
            }
            (SettingType::Truth, DeValue::Boolean(_)) => {}
            (SettingType::Date, one) if date(one).is_some() => {}
            (SettingType::Table(fields), DeValue::Table(table)) => {
                self.table(table, fields, &value.span());
            }
            (SettingType::Tables(fields), DeValue::Array(items)) => {
                for item in items.iter() {
                    match item.get_ref() {
                        DeValue::Table(table) => self.table(table, fields, &item.span()),
                        _ => self.wrong(key, item, field.takes),
                    }
                }
            }
            (SettingType::TablesByName(fields), DeValue::Table(items)) => {
                for (name, item) in items {
                    match item.get_ref() {
                        DeValue::Table(table) => self.table(table, fields, &item.span()),
                        _ => self.wrong(name.get_ref(), item, SettingType::Table(fields)),
                    }
                }
            }
            (SettingType::Texts, DeValue::Array(items)) => self.scalars(key, items, field.takes),
            (SettingType::Rows, DeValue::Array(items)) => {
                for item in items.iter() {
                    match item.get_ref() {
                        DeValue::Array(cells) => self.scalars(key, cells, field.takes),
                        _ => self.wrong(key, item, field.takes),
                    }
                }
            }
            (SettingType::Quantities | SettingType::Lists, DeValue::Table(table)) => {
                let each = match field.takes {
                    SettingType::Lists => SettingType::Texts,
                    _ => SettingType::Quantity,
                };
                for (name, value) in table {
                    let field = SettingField::new(OTHERS, each, "");
                    self.value(name.get_ref(), value, &field);
                }
            }
            (SettingType::Quantity, one) if scalar(one).is_some() => {}
            (SettingType::Whole, one) if whole(one).is_some() => {}
            _ => self.wrong(key, value, field.takes),
        }
    }

    fn scalars(&mut self, key: &str, items: &DeArray, wanted: SettingType) {
        for item in items.iter() {
            if scalar(item.get_ref()).is_none() {
                self.wrong(key, item, wanted);
            }
        }
    }

    /// A text that may be few words alone, or has to be a name.
    fn text(&mut self, text: &str, value: &Spanned<DeValue>, field: &SettingField) {
        if field.takes == SettingType::Name && !is_name(text) {
            let message = format!("`{text}` can't be a name");
            let help = "use small letters, digits and _, a letter first".to_string();
            self.tell(Code::Name, value.span(), message, Some(help));
        }
        if let Some(only) = field.only
            && !only.words.contains(&text)
        {
            let message = format!("`{text}` is not {}", only.what);
            let help = format!("write {}", in_words(only.words));
            self.tell(only.code, value.span(), message, Some(help));
        }
    }
}

/// Whether a key that nobody knows is nearest to this one.
fn misspelt(table: &DeTable, fields: &'static [SettingField], key: &str) -> bool {
    let mut said = table.iter().map(|(said, _)| said.get_ref());
    said.any(|said| {
        field(fields, said).is_none()
            && nearest(said, fields.iter().map(|field| field.key)) == Some(key)
    })
}

/// Whether a key's value stands for another: an empty list and `false` don't.
fn says_so(value: &Spanned<DeValue>) -> bool {
    match value.get_ref() {
        DeValue::Boolean(truth) => *truth,
        DeValue::Array(items) => !items.is_empty(),
        _ => true,
    }
}

/// Whether a value says nothing; a table with keys of its own tells what is missing in it.
fn is_blank(value: &DeValue, takes: SettingType) -> bool {
    match value {
        // what remedies leave to be filled in says nothing either
        DeValue::String(text) => text.trim_matches([' ', '\t', '\n', '.', '…']).is_empty(),
        DeValue::Array(items) => items.is_empty(),
        DeValue::Table(table) => {
            let named = matches!(
                takes,
                SettingType::Quantities | SettingType::TablesByName(_)
            );
            table.is_empty() && named
        }
        _ => false,
    }
}

fn in_words(words: &[&str]) -> String {
    match words {
        [first @ .., last] if !first.is_empty() => format!("{} or {last}", first.join(", ")),
        words => words.join(", "),
    }
}
