//! Reads catalog files: TOML tables with the byte range of every key and value,
//! so that a finding can point at the word that is wrong.

use serde::{Deserialize, Serialize};
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use gaugeleaf_finding::{Code, Finding, nearest, widened};

/// One file of a catalog: its path inside the handbook, and its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceFile {
    pub path: String,
    pub text: String,
}

/// A text value and where it stands in its file.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Located {
    pub text: String,
    #[serde(skip)]
    pub span: Range<usize>,
}

/// A file being read: gathers findings as it goes.
pub struct Reader<'a> {
    pub file: &'a str,
    pub text: &'a str,
    /// Where `text` begins in the file: a block inside a page doesn't begin at 0.
    pub offset: usize,
    pub findings: Vec<Finding>,
}

impl<'a> Reader<'a> {
    pub fn new(file: &'a str, text: &'a str) -> Reader<'a> {
        Reader {
            file,
            text,
            offset: 0,
            findings: Vec::new(),
        }
    }

    /// A reader over a part of a file, such as a fenced block.
    pub fn within(file: &'a str, text: &'a str, offset: usize) -> Reader<'a> {
        Reader {
            file,
            text,
            offset,
            findings: Vec::new(),
        }
    }

    /// Parses the text; every syntax error becomes a finding.
    pub fn parse(&mut self) -> Option<DeTable<'a>> {
        let (table, errors) = DeTable::parse_recoverable(self.text);
        if errors.is_empty() {
            return Some(table.into_inner());
        }
        for error in errors {
            let span = error.span().unwrap_or(0..0);
            let message = error
                .message()
                .trim()
                .trim_end_matches('.')
                .replace('\n', ", ");
            self.error(
                Code::BadSettings,
                &span,
                format!("this is not TOML: {message}"),
            )
            .help =
                Some("keys are written name = \"text\", with quotation marks around text".into());
        }
        None
    }

    /// Notes an error at a byte range of the text.
    pub fn error(
        &mut self,
        code: Code,
        span: &Range<usize>,
        message: impl Into<String>,
    ) -> &mut Finding {
        let span = shift(&widened(self.text, span.clone()), self.offset);
        self.findings
            .push(Finding::error(code, self.file, span, message));
        let last = self.findings.len() - 1;
        &mut self.findings[last]
    }

    /// Takes a table apart key by key; what isn't taken is reported at the end.
    pub fn fields<'t>(&self, table: &'t DeTable<'a>, whole: &Range<usize>) -> Fields<'t, 'a> {
        Fields {
            table,
            whole: whole.clone(),
            asked: Vec::new(),
        }
    }

    /// Where a text inside a value stands in the file: spans of the inner text
    /// are offsets into it, unless escapes make the two differ.
    pub fn inner(&self, value: &Located, span: &Range<usize>) -> Range<usize> {
        let start = value.span.start.saturating_sub(self.offset);
        let end = value.span.end.saturating_sub(self.offset);
        inner_span(self.text.get(start..end).unwrap_or(""), value, span)
    }
}

/// The byte range, in the file, of `span` inside a located text, given how the
/// text is written there.
pub fn inner_span(written: &str, value: &Located, span: &Range<usize>) -> Range<usize> {
    match written.find(value.text.as_str()) {
        Some(at) if !value.text.is_empty() => {
            value.span.start + at + span.start..value.span.start + at + span.end
        }
        _ => value.span.clone(),
    }
}

/// One table, its keys taken one by one.
pub struct Fields<'t, 'a> {
    table: &'t DeTable<'a>,
    whole: Range<usize>,
    asked: Vec<&'static str>,
}

impl<'t, 'a> Fields<'t, 'a> {
    pub fn whole(&self) -> Range<usize> {
        self.whole.clone()
    }

    pub fn get(&mut self, key: &'static str) -> Option<&'t Spanned<DeValue<'a>>> {
        if !self.asked.contains(&key) {
            self.asked.push(key);
        }
        self.table
            .iter()
            .find(|(name, _)| name.get_ref() == key)
            .map(|(_, value)| value)
    }

    /// A text; also takes a bare number or truth where a person forgot the quotes.
    pub fn text(&mut self, key: &'static str, reader: &mut Reader<'_>) -> Option<Located> {
        let value = self.get(key)?;
        let found = text_of(value);
        if found.is_none() {
            reader
                .error(
                    Code::WrongKind,
                    &value.span(),
                    format!("`{key}` wants a text"),
                )
                .help = Some(format!("write {key} = \"…\""));
        }
        found.map(|text| Located {
            text,
            span: shift(&value.span(), reader.offset),
        })
    }

    /// A text that has to be there.
    pub fn wanted(&mut self, key: &'static str, reader: &mut Reader<'_>) -> Option<Located> {
        if self.get(key).is_none() {
            let whole = self.whole.clone();
            reader
                .error(Code::MissingSetting, &whole, format!("`{key}` is missing"))
                .help = Some(format!("add {key} = \"…\""));
            return None;
        }
        self.text(key, reader)
    }

    pub fn truth(&mut self, key: &'static str, reader: &mut Reader<'_>) -> bool {
        match self.get(key) {
            None => false,
            Some(value) => match value.get_ref() {
                DeValue::Boolean(truth) => *truth,
                _ => {
                    reader.error(
                        Code::WrongKind,
                        &value.span(),
                        format!("`{key}` wants true or false"),
                    );
                    false
                }
            },
        }
    }

    pub fn list(
        &mut self,
        key: &'static str,
        reader: &mut Reader<'_>,
    ) -> Vec<&'t Spanned<DeValue<'a>>> {
        match self.get(key) {
            None => Vec::new(),
            Some(value) => match value.get_ref() {
                DeValue::Array(items) => items.iter().collect(),
                _ => {
                    reader
                        .error(
                            Code::WrongKind,
                            &value.span(),
                            format!("`{key}` wants a list"),
                        )
                        .help = Some(format!("write {key} = [ … ]"));
                    Vec::new()
                }
            },
        }
    }

    pub fn texts(&mut self, key: &'static str, reader: &mut Reader<'_>) -> Vec<Located> {
        let mut texts = Vec::new();
        for item in self.list(key, reader) {
            match text_of(item) {
                Some(text) => texts.push(Located {
                    text,
                    span: shift(&item.span(), reader.offset),
                }),
                None => {
                    reader.error(
                        Code::WrongKind,
                        &item.span(),
                        format!("`{key}` is a list of texts"),
                    );
                }
            }
        }
        texts
    }

    pub fn table(&mut self, key: &'static str, reader: &mut Reader<'_>) -> Option<Fields<'t, 'a>> {
        let value = self.get(key)?;
        as_table(value, key, reader)
    }

    pub fn tables(&mut self, key: &'static str, reader: &mut Reader<'_>) -> Vec<Fields<'t, 'a>> {
        self.list(key, reader)
            .into_iter()
            .filter_map(|item| as_table(item, key, reader))
            .collect()
    }

    /// Every key with its text, for tables whose keys the writer chooses.
    pub fn pairs(&self, reader: &mut Reader<'_>) -> Vec<(Located, Located)> {
        let mut pairs = Vec::new();
        for (key, value) in self.table {
            let Some(text) = text_of(value) else {
                reader.error(
                    Code::WrongKind,
                    &value.span(),
                    format!("`{}` wants a text", key.get_ref()),
                );
                continue;
            };
            pairs.push((
                Located {
                    text: key.get_ref().to_string(),
                    span: shift(&key.span(), reader.offset),
                },
                Located {
                    text,
                    span: shift(&value.span(), reader.offset),
                },
            ));
        }
        // In the order in which they were written.
        pairs.sort_by_key(|(key, _)| key.span.start);
        pairs
    }

    /// Reports the keys that nothing asked for, each with its nearest neighbour.
    pub fn finish(self, reader: &mut Reader<'_>) {
        for (key, _) in self.table {
            if self.asked.iter().any(|asked| asked == key.get_ref()) {
                continue;
            }
            let near = nearest(key.get_ref(), self.asked.iter().copied());
            let help = match near {
                Some(near) => format!("did you mean {near}?"),
                None => format!("the keys here are {}", self.asked.join(", ")),
            };
            reader
                .error(
                    Code::UnknownSetting,
                    &key.span(),
                    format!("`{}` is not a key here", key.get_ref()),
                )
                .help = Some(help);
        }
    }
}

fn shift(span: &Range<usize>, offset: usize) -> Range<usize> {
    span.start + offset..span.end + offset
}

fn as_table<'t, 'a>(
    value: &'t Spanned<DeValue<'a>>,
    key: &str,
    reader: &mut Reader<'_>,
) -> Option<Fields<'t, 'a>> {
    match value.get_ref() {
        DeValue::Table(table) => Some(Fields {
            table,
            whole: value.span(),
            asked: Vec::new(),
        }),
        _ => {
            reader.error(
                Code::WrongKind,
                &value.span(),
                format!("`{key}` wants a table of keys"),
            );
            None
        }
    }
}

/// The text of a scalar; numbers are taken as they are written.
pub fn text_of(value: &Spanned<DeValue<'_>>) -> Option<String> {
    match value.get_ref() {
        DeValue::String(text) => Some(text.to_string()),
        DeValue::Integer(number) => Some(number.to_string()),
        DeValue::Float(number) => Some(number.to_string()),
        DeValue::Datetime(date) => Some(date.to_string()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unknown_keys_are_found_with_their_place_and_nearest_neighbour() {
        let text = "lable = \"Depth\"\nunit = \"in\"";
        let mut reader = Reader::new("a.toml", text);
        let table = reader.parse().unwrap();
        let mut fields = reader.fields(&table, &(0..text.len()));
        assert_eq!(fields.text("unit", &mut reader).unwrap().text, "in");
        assert!(fields.text("label", &mut reader).is_none());
        fields.finish(&mut reader);
        assert_eq!(reader.findings.len(), 1);
        assert_eq!(&text[reader.findings[0].span.clone()], "lable");
        assert_eq!(
            reader.findings[0].help.as_deref(),
            Some("did you mean label?")
        );
    }

    #[test]
    fn broken_toml_is_a_finding_with_its_place() {
        let mut reader = Reader::new("a.toml", "a = \nb = 2");
        assert!(reader.parse().is_none());
        assert_eq!(reader.findings[0].code.name(), "bad-settings");
        assert!(reader.findings[0].span.start <= 5);
    }

    #[test]
    fn a_span_inside_a_quoted_value_points_into_the_file() {
        let text = "formula = \"a + b\"";
        let mut reader = Reader::new("a.toml", text);
        let table = reader.parse().unwrap();
        let mut fields = reader.fields(&table, &(0..text.len()));
        let formula = fields.text("formula", &mut reader).unwrap();
        let span = reader.inner(&formula, &(4..5));
        assert_eq!(&text[span], "b");
    }
}
