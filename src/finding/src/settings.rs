//! Settings in TOML: whole files, and the bodies of a page's blocks.
//!
//! What may stand in a table is data, a table of [`SettingField`]s. A text is held to it as a whole
//! before anything is read, so that every fault of a file is told at once and the same everywhere.
//! Whoever reads then asks for values alone: what is of a wrong kind is as good as not there.
//! The schemas for editors and the reference of keys are made from the same tables.

mod check;
mod field;
mod sayings;
mod scalar;
#[cfg(test)]
mod tests;

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::code::Code;
use crate::excerpt::Excerpt;
use crate::finding::Finding;
use crate::place::widened;
pub use crate::placed::Placed;
use check::SettingsCheck;
pub use field::{Need, OTHERS, Only, SettingField, SettingType, field, is_name};
pub use scalar::is_day;
use scalar::{date, whole};

/// A value typed for a name, with both places.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Binding {
    pub name: Placed<String>,
    pub text: Placed<String>,
}

/// A text in TOML, parsed but not yet held to any table of fields.
pub struct ParsedSettings<'d> {
    file: &'d str,
    body: &'d Excerpt,
    table: DeTable<'d>,
    complete: bool,
}

impl<'d> ParsedSettings<'d> {
    /// Parses a text; every place where it isn't TOML is a finding.
    pub fn parse(
        file: &'d str,
        body: &'d Excerpt,
        findings: &mut Vec<Finding>,
    ) -> ParsedSettings<'d> {
        let (table, errors) = DeTable::parse_recoverable(body.text());
        for error in &errors {
            let span = body.locate(widened(body.text(), error.span().unwrap_or(0..0)));
            let message = format!("these settings can't be read: {}", plain(error.message()));
            findings.push(
                Finding::error(Code::BadSettings, file, span, message)
                    .breaks([file])
                    .help("write one setting a line, as name = \"value\""),
            );
        }
        ParsedSettings {
            file,
            body,
            table: table.into_inner(),
            complete: errors.is_empty(),
        }
    }

    /// Whether a key stands there: what a file is for shows by one of its keys.
    pub fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// Holds the text to a table of fields, then hands it to `read`, unless it is no TOML.
    pub fn read<T: Default>(
        &self,
        fields: &'static [SettingField],
        findings: &mut Vec<Finding>,
        read: impl FnOnce(&mut Settings) -> T,
    ) -> T {
        let mut check = SettingsCheck {
            file: self.file,
            body: self.body,
            complete: self.complete,
            findings: Vec::new(),
        };
        check.table(&self.table, fields, &(0..0));
        check.findings.sort_by_key(|finding| finding.span.start);
        findings.append(&mut check.findings);
        if !self.complete {
            return T::default();
        }
        read(&mut Settings {
            file: self.file,
            body: self.body,
            table: &self.table,
            fields,
            span: self.body.locate(0..0),
            findings,
        })
    }
}

/// Parses a text, holds it to a table of fields and hands it to `read`.
pub fn read<T: Default>(
    file: &str,
    body: &Excerpt,
    fields: &'static [SettingField],
    findings: &mut Vec<Finding>,
    read: impl FnOnce(&mut Settings) -> T,
) -> T {
    ParsedSettings::parse(file, body, findings).read(fields, findings, read)
}

/// Every text among the values of a body, whatever its key, in the order of the file.
pub fn every_text(body: &Excerpt) -> Vec<Placed<String>> {
    fn gather(value: &Spanned<DeValue>, body: &Excerpt, texts: &mut Vec<Placed<String>>) {
        match value.get_ref() {
            DeValue::String(text) => texts.push(Placed {
                value: text.to_string(),
                span: body.locate(value.span()),
            }),
            DeValue::Array(items) => items.iter().for_each(|item| gather(item, body, texts)),
            DeValue::Table(table) => table.values().for_each(|item| gather(item, body, texts)),
            _ => {}
        }
    }
    let (table, _) = DeTable::parse_recoverable(body.text());
    let mut texts = Vec::new();
    table
        .get_ref()
        .values()
        .for_each(|value| gather(value, body, &mut texts));
    texts.sort_by_key(|text| text.span.start);
    texts
}

/// The parser's message on one line, in our case.
fn plain(message: &str) -> String {
    let line = message.trim().trim_end_matches('.').replace('\n', ", ");
    let mut letters = line.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().chain(letters).collect()
    })
}

/// One table of settings being read; its faults of form are told already.
pub struct Settings<'s> {
    file: &'s str,
    body: &'s Excerpt,
    table: &'s DeTable<'s>,
    fields: &'static [SettingField],
    span: Range<usize>,
    findings: &'s mut Vec<Finding>,
}

impl<'s> Settings<'s> {
    pub fn file(&self) -> &'s str {
        self.file
    }

    /// Where this table stands, for faults that have no place of their own.
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// Notes a fault in what a setting means, at a range of the file.
    pub fn error(
        &mut self,
        code: Code,
        span: &Range<usize>,
        message: impl Into<String>,
    ) -> &mut Finding {
        let at = self.findings.len();
        let span = self.body.widened(span.clone());
        self.findings
            .push(Finding::error(code, self.file, span, message));
        &mut self.findings[at]
    }

    /// Where a range inside a text stands in the file, if that is read as a whole.
    pub fn inner(&self, text: &Placed<String>, range: &Range<usize>) -> Range<usize> {
        let written = self.body.text().get(text.span.clone());
        text.inner(written.unwrap_or(""), range)
    }

    /// Where a value of this table stands in the file.
    fn placed<T>(&self, value: T, at: &Spanned<DeValue>) -> Placed<T> {
        let span = self.body.locate(at.span());
        Placed { value, span }
    }

    fn entry(&self, key: &'static str) -> Option<&'s Spanned<DeValue<'s>>> {
        debug_assert!(
            self.fields.iter().any(|field| field.key == key),
            "`{key}` is asked for, and in no table of fields"
        );
        self.table.get(key)
    }

    /// Whether a key stands there, of whatever kind.
    pub fn has(&self, key: &'static str) -> bool {
        self.entry(key).is_some()
    }

    /// A text, or nothing.
    pub fn text(&self, key: &'static str) -> Option<Placed<String>> {
        let value = self.entry(key)?;
        let text = value.get_ref().as_str()?;
        Some(self.placed(text.to_string(), value))
    }

    /// A text without its place; empty where there is none.
    pub fn plain(&self, key: &'static str) -> String {
        let text = self.entry(key).and_then(|value| value.get_ref().as_str());
        text.unwrap_or_default().to_string()
    }

    /// A text or a plain number, as written, or nothing.
    pub fn quantity(&self, key: &'static str) -> Option<Placed<String>> {
        let value = self.entry(key)?;
        Some(self.placed(scalar(value.get_ref())?, value))
    }

    /// A whole number, or nothing.
    pub fn whole(&self, key: &'static str) -> Option<Placed<i64>> {
        let value = self.entry(key)?;
        Some(self.placed(whole(value.get_ref())?, value))
    }

    /// Whether a setting is true; missing is false.
    pub fn truth(&self, key: &'static str) -> bool {
        let value = self.entry(key);
        value.and_then(|value| value.get_ref().as_bool()) == Some(true)
    }

    /// A calendar date as text, or nothing.
    pub fn date(&self, key: &'static str) -> Option<String> {
        date(self.entry(key)?.get_ref())
    }

    /// A list of texts; missing is empty.
    pub fn texts(&self, key: &'static str) -> Vec<Placed<String>> {
        self.entry(key)
            .map_or_else(Vec::new, |value| self.scalars(value))
    }

    /// A list of rows, each with its place.
    pub fn rows(&self, key: &'static str) -> Vec<Placed<Vec<Placed<String>>>> {
        let rows = self.entry(key).and_then(|value| value.get_ref().as_array());
        rows.into_iter()
            .flat_map(|rows| rows.iter())
            .map(|row| self.placed(self.scalars(row), row))
            .collect()
    }

    fn scalars(&self, list: &Spanned<DeValue>) -> Vec<Placed<String>> {
        let items = list.get_ref().as_array();
        items
            .into_iter()
            .flat_map(|items| items.iter())
            .filter_map(|item| Some(self.placed(scalar(item.get_ref())?, item)))
            .collect()
    }

    /// A table of quantities or choices by name, such as `[given]`, in the order of the file.
    pub fn quantities(&self, key: &'static str) -> Vec<Binding> {
        let table = self.entry(key).and_then(|value| value.get_ref().as_table());
        table.map_or_else(Vec::new, |table| self.assigned(table, |_| true))
    }

    /// Every key of this table without a field of its own, as a quantity or choice.
    pub fn other_quantities(&self) -> Vec<Binding> {
        let own = |key: &str| field(self.fields, key).is_some_and(|field| field.key != OTHERS);
        self.assigned(self.table, |key| !own(key))
    }

    fn assigned(&self, table: &DeTable, wanted: impl Fn(&str) -> bool) -> Vec<Binding> {
        let wanted = table.iter().filter(|(key, _)| wanted(key.get_ref()));
        let mut given: Vec<Binding> = wanted
            .filter_map(|(key, value)| {
                Some(Binding {
                    name: self.named(key),
                    text: self.placed(scalar(value.get_ref())?, value),
                })
            })
            .collect();
        given.sort_by_key(|one| one.name.span.start);
        given
    }

    fn named(&self, key: &Spanned<impl AsRef<str>>) -> Placed<String> {
        Placed {
            value: key.get_ref().as_ref().to_string(),
            span: self.body.locate(key.span()),
        }
    }

    /// A table of names, each with a list of quantities, in the order of the file.
    pub fn ranges(&self, key: &'static str) -> Vec<(Placed<String>, Vec<Placed<String>>)> {
        let table = self.entry(key).and_then(|value| value.get_ref().as_table());
        let mut ranges: Vec<_> = table
            .into_iter()
            .flatten()
            .map(|(name, value)| (self.named(name), self.scalars(value)))
            .collect();
        ranges.sort_by_key(|(name, _)| name.span.start);
        ranges
    }

    /// The table under a key, read like a text of its own.
    pub fn table<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Settings) -> T,
    ) -> Option<T> {
        let value = self.entry(key)?;
        self.within(key, value, read)
    }

    /// A list of tables, each read like a text of its own; missing is empty.
    pub fn tables<T>(
        &mut self,
        key: &'static str,
        mut read: impl FnMut(&mut Settings, Range<usize>) -> T,
    ) -> Vec<T> {
        let Some(items) = self.entry(key).and_then(|value| value.get_ref().as_array()) else {
            return Vec::new();
        };
        let items = items.iter();
        items
            .filter_map(|item| {
                self.within(key, item, |table| {
                    let span = table.span();
                    read(table, span)
                })
            })
            .collect()
    }

    /// A table of tables by names that the writer chose, each read like a text of its own, in the
    /// order of the file.
    pub fn tables_by_name<T>(
        &mut self,
        key: &'static str,
        mut read: impl FnMut(&mut Settings, Placed<String>) -> T,
    ) -> Vec<T> {
        let table = self.entry(key).and_then(|value| value.get_ref().as_table());
        let mut items: Vec<_> = table.into_iter().flatten().collect();
        items.sort_by_key(|(name, _)| name.span().start);
        items
            .into_iter()
            .filter_map(|(name, item)| {
                let name = self.named(name);
                self.within(key, item, |table| read(table, name))
            })
            .collect()
    }

    fn within<T>(
        &mut self,
        key: &str,
        value: &Spanned<DeValue>,
        read: impl FnOnce(&mut Settings) -> T,
    ) -> Option<T> {
        let takes = field(self.fields, key).map(|field| field.takes);
        let Some(
            SettingType::Table(fields)
            | SettingType::Tables(fields)
            | SettingType::TablesByName(fields),
        ) = takes
        else {
            return None;
        };
        let table = value.get_ref().as_table()?;
        Some(read(&mut Settings {
            file: self.file,
            body: self.body,
            table,
            fields,
            span: self.body.locate(value.span()),
            findings: self.findings,
        }))
    }
}

/// Text, or a number as it was written.
fn scalar(value: &DeValue) -> Option<String> {
    match value {
        DeValue::String(text) => Some(text.to_string()),
        DeValue::Integer(number) => Some(number.to_string()),
        DeValue::Float(number) => Some(number.to_string()),
        _ => None,
    }
}
