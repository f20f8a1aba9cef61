//! Tables of values with a source, searchable and read by `lookup`.

use gaugeleaf_finding::Code;
use serde::{Deserialize, Serialize};
use std::ops::Range;

use crate::field::{Face, Printed};
use crate::formula::{Type, Value};
use crate::quantity::{Want, read};
use crate::source::{Fields, Located, Reader, text_of};
use toml::de::DeValue;

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Table {
    pub name: String,
    #[serde(skip)]
    pub title: String,
    #[serde(skip)]
    pub purpose: String,
    #[serde(skip)]
    pub source: String,
    pub columns: Vec<Column>,
    /// The columns whose values together name a row.
    pub key: Vec<String>,
    pub rows: Vec<Vec<Cell>>,
    #[serde(skip)]
    pub file: String,
    #[serde(skip)]
    pub span: Range<usize>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Column {
    pub name: String,
    #[serde(skip)]
    pub label: String,
    pub kind: ColumnKind,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[expect(
    clippy::large_enum_variant,
    reason = "a handbook holds a few hundred of these, for good"
)]
pub enum ColumnKind {
    Number { face: Face, want: Want },
    Text,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Cell {
    Number { printed: Printed, at: Located },
    Text(Located),
}

impl Cell {
    pub fn text(&self) -> &str {
        match self {
            Cell::Number { printed, .. } => &printed.text,
            Cell::Text(located) => &located.text,
        }
    }

    pub fn value(&self) -> Value {
        match self {
            Cell::Number { printed, .. } => Value::Number(printed.si),
            Cell::Text(located) => Value::Choice(located.text.clone()),
        }
    }

    fn equals(&self, value: &Value) -> bool {
        match (self, value) {
            // Conversion noise: 14.2875 mm is 9/16 in.
            (Cell::Number { printed, .. }, Value::Number(si)) => {
                (printed.si - si).abs() <= 1e-9 * printed.si.abs().max(si.abs())
            }
            (Cell::Text(located), Value::Choice(word)) => located.text == *word,
            _ => false,
        }
    }
}

impl Table {
    pub fn column(&self, name: &str) -> Option<(usize, &Column)> {
        self.columns
            .iter()
            .enumerate()
            .find(|(_, column)| column.name == name)
    }

    pub fn column_type(&self, name: &str) -> Option<Type> {
        let (at, column) = self.column(name)?;
        Some(match &column.kind {
            ColumnKind::Number { face, .. } => {
                Type::Number(face.main.unit.dimension, face.main.kind)
            }
            ColumnKind::Text => {
                let mut words: Vec<String> = self
                    .rows
                    .iter()
                    .map(|row| row[at].text().to_string())
                    .collect();
                words.sort();
                words.dedup();
                Type::Choice(words)
            }
        })
    }

    /// The rows whose cells equal all the given values.
    pub fn matching<'t>(&'t self, keys: &[(&str, Value)]) -> Vec<(usize, &'t [Cell])> {
        self.rows
            .iter()
            .enumerate()
            .filter(|(_, row)| {
                keys.iter().all(|(name, value)| {
                    self.column(name)
                        .is_some_and(|(at, _)| row[at].equals(value))
                })
            })
            .map(|(at, row)| (at, row.as_slice()))
            .collect()
    }

    /// A column's entry in the one row that the keys name.
    ///
    /// # Errors
    /// Says that no row, or more than one, fits.
    pub fn entry(&self, column: &str, keys: &[(&str, Value)]) -> Result<&Cell, String> {
        let Some((at, _)) = self.column(column) else {
            return Err(format!("the table {} has no column `{column}`", self.name));
        };
        match self.matching(keys).as_slice() {
            [(_, row)] => Ok(&row[at]),
            [] => Err(format!("the table {} has no such row", self.name)),
            [(_, first), rest @ ..]
                if rest
                    .iter()
                    .all(|(_, row)| row[at].value() == first[at].value()) =>
            {
                Ok(&first[at])
            }
            _ => Err(format!("the table {} has several such rows", self.name)),
        }
    }
}

/// Reads a `[table]` file.
pub(crate) fn load(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Option<Table> {
    let mut head = fields.table("table", reader)?;
    let name = head.wanted("name", reader)?;
    let title = head.wanted("title", reader)?.text;
    let source = head.wanted("source", reader)?.text;
    let purpose = head
        .text("purpose", reader)
        .map_or(String::new(), |found| found.text);
    let columns = columns(&mut head, reader);
    let key: Vec<Located> = head.texts("key", reader);
    for wrong in key
        .iter()
        .filter(|key| columns.iter().all(|column| column.name != key.text))
    {
        reader.error(
            Code::Key,
            &wrong.span,
            format!("`{}` is not a column", wrong.text),
        );
    }
    let mut rows = Vec::new();
    for item in head.list("rows", reader) {
        let DeValue::Array(cells) = item.get_ref() else {
            reader.error(Code::WrongKind, &item.span(), "a row is a list of texts");
            continue;
        };
        if cells.len() != columns.len() {
            let message = format!(
                "the row has {} entries, and the table {} columns",
                cells.len(),
                columns.len()
            );
            reader.error(Code::Row, &item.span(), message);
            continue;
        }
        let row: Option<Vec<Cell>> = std::iter::zip(&columns, cells.iter())
            .map(|(column, cell)| {
                let text = Located {
                    text: text_of(cell)?,
                    span: cell.span(),
                };
                read_cell(column, text, reader)
            })
            .collect();
        if let Some(row) = row {
            rows.push((row, item.span()));
        }
    }
    head.finish(reader);
    let table = Table {
        name: name.text,
        title,
        purpose,
        source,
        columns,
        key: key.into_iter().map(|key| key.text).collect(),
        rows: rows.iter().map(|(row, _)| row.clone()).collect(),
        file: reader.file.to_string(),
        span: name.span,
    };
    for (row, span) in &rows {
        let keys: Vec<(&str, Value)> = table
            .key
            .iter()
            .filter_map(|key| {
                table
                    .column(key)
                    .map(|(at, _)| (key.as_str(), row[at].value()))
            })
            .collect();
        if !keys.is_empty() && table.matching(&keys).len() > 1 {
            reader
                .error(Code::Row, span, "another row has the same key")
                .help = Some("remove one of them, or add a column to `key`".into());
        }
    }
    Some(table)
}

fn columns(head: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Vec<Column> {
    let mut columns = Vec::new();
    for mut fields in head.tables("columns", reader) {
        let Some(name) = fields.wanted("name", reader) else {
            continue;
        };
        let label = fields
            .text("label", reader)
            .map_or(name.text.clone(), |found| found.text);
        let kind = if fields.truth("text", reader) {
            ColumnKind::Text
        } else {
            let Some(face) = Face::read(&mut fields, reader) else {
                continue;
            };
            let want = Want {
                kind: face.main.kind,
                ..Want::of(face.main.unit.clone())
            };
            ColumnKind::Number { face, want }
        };
        fields.finish(reader);
        columns.push(Column {
            name: name.text,
            label,
            kind,
        });
    }
    columns
}

fn read_cell(column: &Column, at: Located, reader: &mut Reader<'_>) -> Option<Cell> {
    let ColumnKind::Number { face, want } = &column.kind else {
        return Some(Cell::Text(at));
    };
    match read(&at.text, want) {
        Ok(typed) => Some(Cell::Number {
            printed: face.print(typed.si),
            at,
        }),
        Err(fault) => {
            reader.error(Code::Value, &at.span, fault.message()).help = fault.help();
            None
        }
    }
}
