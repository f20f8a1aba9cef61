//! Settings in TOML, read key by key, with a finding for every wrong one.
//!
//! `handbook.toml`, `phase.toml` and the blocks of a page all go through here, so
//! that a misspelt key or a wrong type reads the same everywhere.

mod lists;
mod shape;

use std::borrow::Cow;
use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding, nearest, widened};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::markdown::excerpt::Excerpt;
use crate::settings::shape::Shape;

type Entry<'t, 'i> = (&'t Spanned<Cow<'i, str>>, &'t Spanned<DeValue<'i>>);

/// A value with the range it has in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placed<T> {
    pub value: T,
    pub span: Range<usize>,
}

/// Parses the text and hands its table to `read`; text that isn't TOML is a finding.
pub fn read<T: Default>(
    file: &str,
    body: &Excerpt,
    findings: &mut Vec<Finding>,
    read: impl FnOnce(&mut Settings) -> T,
) -> T {
    match DeTable::parse(body.text()) {
        Ok(table) => {
            let mut settings = Settings {
                file,
                body,
                table: table.get_ref(),
                known: Vec::new(),
                findings,
            };
            let value = read(&mut settings);
            settings.finish();
            value
        }
        Err(error) => {
            let span = body.locate(widened(body.text(), error.span().unwrap_or(0..0)));
            let message = format!("these settings can't be read: {}", plain(error.message()));
            findings.push(
                Finding::error(Code::BadSettings, file, span, message)
                    .breaks([file])
                    .help("write one setting a line, as name = \"value\""),
            );
            T::default()
        }
    }
}

/// The parser's message on one line, in our case.
fn plain(message: &str) -> String {
    let line = message.trim().replace('\n', ", ");
    let mut letters = line.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().chain(letters).collect()
    })
}

/// One table of settings being read.
pub struct Settings<'s> {
    file: &'s str,
    body: &'s Excerpt,
    table: &'s DeTable<'s>,
    known: Vec<&'static str>,
    findings: &'s mut Vec<Finding>,
}

impl<'s> Settings<'s> {
    fn entry(&mut self, key: &'static str) -> Option<Entry<'s, 's>> {
        self.known.push(key);
        self.table.get_key_value(key)
    }

    fn span(&self, range: Range<usize>) -> Range<usize> {
        self.body.locate(range)
    }

    fn wrong(&mut self, key: &str, value: &Spanned<DeValue>, wanted: Shape) {
        let found = match value.get_ref().type_str() {
            "string" => "text",
            "integer" | "float" => "a number",
            "boolean" => "true or false",
            "datetime" => "a date",
            "array" => "a list",
            _ => "a table",
        };
        let span = self.span(value.span());
        self.findings.push(
            Finding::error(
                Code::WrongKind,
                self.file,
                span,
                format!("`{key}` is {found}, where {} is wanted", wanted.words()),
            )
            .help(match wanted.example() {
                Some(example) => format!("write {key} = {example}"),
                None => format!("write {}", wanted.words()),
            }),
        );
    }

    /// A text, or nothing.
    pub fn text(&mut self, key: &'static str) -> Option<Placed<String>> {
        let (_, value) = self.entry(key)?;
        let Some(text) = value.get_ref().as_str() else {
            self.wrong(key, value, Shape::Text);
            return None;
        };
        Some(Placed {
            value: text.to_string(),
            span: self.span(value.span()),
        })
    }

    /// A text or a plain number, as written, or nothing.
    pub fn quantity(&mut self, key: &'static str) -> Option<Placed<String>> {
        let (_, value) = self.entry(key)?;
        let Some(text) = scalar(value.get_ref()) else {
            self.wrong(key, value, Shape::Text);
            return None;
        };
        Some(Placed {
            value: text,
            span: self.span(value.span()),
        })
    }

    /// A text that must be there; `why` completes "`title` is missing: …".
    pub fn needed_text(&mut self, key: &'static str, why: &str) -> String {
        if !self.table.contains_key(key) {
            self.known.push(key);
            let span = self.span(0..0);
            let message = format!("`{key}` is missing: {why}");
            self.findings.push(
                Finding::error(Code::MissingSetting, self.file, span, message)
                    .help(format!("add {key} = \"…\"")),
            );
            return String::new();
        }
        self.text(key).map(|text| text.value).unwrap_or_default()
    }

    /// A whole number, or nothing.
    pub fn whole(&mut self, key: &'static str) -> Option<Placed<i64>> {
        let (_, value) = self.entry(key)?;
        let number = value
            .get_ref()
            .as_integer()
            .and_then(|number| i64::from_str_radix(number.as_str(), number.radix()).ok());
        let Some(number) = number else {
            self.wrong(key, value, Shape::Whole);
            return None;
        };
        Some(Placed {
            value: number,
            span: self.span(value.span()),
        })
    }

    /// A calendar date as text, or nothing.
    pub fn date(&mut self, key: &'static str) -> Option<String> {
        let (_, value) = self.entry(key)?;
        let date = value.get_ref().as_datetime().filter(|at| at.time.is_none());
        let Some(date) = date.and_then(|at| at.date) else {
            self.wrong(key, value, Shape::Date);
            return None;
        };
        Some(date.to_string())
    }

    /// A list of texts; missing is empty.
    pub fn texts(&mut self, key: &'static str) -> Vec<Placed<String>> {
        let Some((_, value)) = self.entry(key) else {
            return Vec::new();
        };
        let Some(items) = value.get_ref().as_array() else {
            self.wrong(key, value, Shape::Texts);
            return Vec::new();
        };
        let mut texts = Vec::new();
        for item in items.iter() {
            match scalar(item.get_ref()) {
                Some(text) => texts.push(Placed {
                    value: text,
                    span: self.span(item.span()),
                }),
                None => self.wrong(key, item, Shape::Texts),
            }
        }
        texts
    }

    /// A table of quantities or choices by name, such as `[given]`.
    pub fn quantities(&mut self, key: &'static str) -> Vec<Assigned> {
        let Some((_, value)) = self.entry(key) else {
            return Vec::new();
        };
        let Some(table) = value.get_ref().as_table() else {
            self.wrong(key, value, Shape::Quantities);
            return Vec::new();
        };
        self.quantities_of(table)
    }

    /// Every key of this table that wasn't asked for yet, as a quantity or choice.
    pub fn other_quantities(&mut self) -> Vec<Assigned> {
        let known = std::mem::take(&mut self.known);
        let table: Vec<Entry> = self
            .table
            .iter()
            .filter(|(key, _)| !known.contains(&key.get_ref().as_ref()))
            .collect();
        let mut given: Vec<Assigned> = table
            .into_iter()
            .filter_map(|entry| self.assigned(entry))
            .collect();
        given.sort_by_key(|one| one.name.span.start);
        self.known = known;
        self.known.push("*");
        given
    }

    fn quantities_of(&mut self, table: &'s DeTable<'s>) -> Vec<Assigned> {
        let mut given: Vec<Assigned> = table
            .iter()
            .filter_map(|entry| self.assigned(entry))
            .collect();
        given.sort_by_key(|one| one.name.span.start);
        given
    }

    fn assigned(&mut self, (key, value): Entry) -> Option<Assigned> {
        let Some(text) = scalar(value.get_ref()) else {
            self.wrong(key.get_ref(), value, Shape::Text);
            return None;
        };
        let name = Placed {
            value: key.get_ref().to_string(),
            span: self.span(key.span()),
        };
        Some(Assigned {
            name,
            text: Placed {
                value: text,
                span: self.span(value.span()),
            },
        })
    }

    /// Keys that nobody asked for are findings.
    fn finish(self) {
        if self.known.contains(&"*") {
            return;
        }
        for (key, _) in self.table.iter() {
            let name = key.get_ref().as_ref();
            if self.known.contains(&name) {
                continue;
            }
            let span = self.body.locate(key.span());
            let message = format!("there is no setting named `{name}` here");
            let finding = Finding::error(Code::UnknownSetting, self.file, span, message);
            self.findings
                .push(match nearest(name, self.known.iter().copied()) {
                    Some(near) => finding.help(format!("write {near}")),
                    None => finding.help(format!("the settings are {}", self.known.join(", "))),
                });
        }
    }
}

/// A value typed for a name, with both places.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assigned {
    pub name: Placed<String>,
    pub text: Placed<String>,
}

/// Text, or a number as it was written.
fn scalar(value: &DeValue) -> Option<String> {
    match value {
        DeValue::String(text) => Some(text.to_string()),
        DeValue::Integer(number) => Some(number.as_str().to_string()),
        DeValue::Float(number) => Some(number.as_str().to_string()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn findings_of(text: &str) -> Vec<(String, Range<usize>, Option<String>)> {
        let mut findings = Vec::new();
        read(
            "page.md",
            &Excerpt::whole(text),
            &mut findings,
            |settings| {
                settings.whole("order");
                settings.texts("people");
                settings.date("review");
            },
        );
        findings
            .into_iter()
            .map(|f| (f.message, f.span, f.help))
            .collect()
    }

    #[test]
    fn a_misspelt_setting_offers_the_nearest_one_at_its_place() {
        let found = findings_of("order = 1\nreveiw = 2027-01-02\n");
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].1, 10..16);
        assert_eq!(found[0].2.as_deref(), Some("write review"));
    }

    #[test]
    fn a_wrong_kind_says_what_it_is_and_what_is_wanted() {
        let found = findings_of("order = \"ten\"\n");
        assert_eq!(
            found[0].0,
            "`order` is text, where a whole number is wanted"
        );
        assert_eq!(found[0].1, 8..13);
    }

    #[test]
    fn text_that_is_not_toml_is_one_finding_in_its_place() {
        let found = findings_of("order = 1\npeople = [\n");
        assert_eq!(found.len(), 1);
        assert!(found[0].0.starts_with("these settings can't be read: "));
    }

    #[test]
    fn quantities_keep_the_text_as_it_was_written() {
        let mut findings = Vec::new();
        let given = read(
            "x",
            &Excerpt::whole("a = \"9 in\"\nb = 4\n"),
            &mut findings,
            |settings| settings.other_quantities(),
        );
        let texts: Vec<_> = given.iter().map(|one| one.text.value.as_str()).collect();
        assert_eq!(texts, ["9 in", "4"]);
        assert!(findings.is_empty());
    }
}
