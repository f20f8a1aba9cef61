//! Tables of values with a source, searchable and read by `lookup`.

use crate::message::{Message, in_english, tell};
use gaugeleaf_finding::settings::{self, SettingType, Settings};
use gaugeleaf_finding::{Code, Placed};
use serde::{Deserialize, Serialize};
use std::ops::Range;

use crate::field::fields::{ALSO, ALSO_PRINT, PRINT, ROUND, UNIT};
use crate::field::{NumberFormat, Printed};
use crate::formula::{Type, Value};
use crate::ground::Ground;
use crate::quantity::{Want, read};

mod sayings;

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
    /// What people say for it, and for each of its rows.
    #[serde(skip)]
    pub also: Vec<String>,
    #[serde(skip)]
    pub said: Vec<Vec<String>>,
    /// Its rows are somebody's equipment, and nothing public.
    pub equipment: bool,
    /// Its rows come from the handbook's folder of equipment. An equipment table without is an
    /// example.
    pub own: bool,
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
    /// The rating that a kit takes from this column, where it names a row.
    #[serde(skip)]
    pub rating: Option<Placed<String>>,
    pub kind: ColumnKind,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[expect(
    clippy::large_enum_variant,
    reason = "a handbook holds a few hundred of these, for good"
)]
pub enum ColumnKind {
    Number { format: NumberFormat, want: Want },
    Text,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Cell {
    /// The page's engine gets the value alone: it shows no table.
    Number {
        si: f64,
        #[serde(skip)]
        printed: Printed,
        #[serde(skip)]
        at: Placed<String>,
    },
    Text(Placed<String>),
}

impl Cell {
    pub fn text(&self) -> &str {
        match self {
            Cell::Number { printed, .. } => &printed.text,
            Cell::Text(at) => &at.value,
        }
    }

    pub fn value(&self) -> Value {
        match self {
            Cell::Number { si, .. } => Value::Number(*si),
            Cell::Text(at) => Value::Choice(at.value.clone()),
        }
    }

    fn equals(&self, value: &Value) -> bool {
        match (self, value) {
            // Conversion noise: 14.2875 mm is 9/16 in.
            (Cell::Number { si: own, .. }, Value::Number(si)) => {
                (own - si).abs() <= 1e-9 * own.abs().max(si.abs())
            }
            (Cell::Text(at), Value::Choice(word)) => at.value == *word,
            _ => false,
        }
    }
}

impl Table {
    /// What its entries stand on: a published table, the handbook's own equipment, or rows that
    /// only show how a calculator is used.
    pub fn ground(&self) -> Ground {
        match (self.equipment, self.own) {
            (_, true) => Ground::Rated,
            (true, false) => Ground::Example,
            (false, false) => Ground::Public,
        }
    }

    pub fn column(&self, name: &str) -> Option<(usize, &Column)> {
        self.columns
            .iter()
            .enumerate()
            .find(|(_, column)| column.name == name)
    }

    pub fn column_type(&self, name: &str) -> Option<Type> {
        let (at, column) = self.column(name)?;
        Some(match &column.kind {
            ColumnKind::Number { format, .. } => {
                Type::Number(format.main.unit.dimension, format.main.kind)
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
    pub fn entry(&self, column: &str, keys: &[(&str, Value)]) -> Result<&Cell, Message> {
        use tell::formula as tell;
        let Some((at, _)) = self.column(column) else {
            return Err(tell::no_column(&column, &self.name));
        };
        match self.matching(keys).as_slice() {
            [(_, row)] => Ok(&row[at]),
            [] => Err(tell::no_row(&self.name)),
            [(_, first), rest @ ..]
                if rest
                    .iter()
                    .all(|(_, row)| row[at].value() == first[at].value()) =>
            {
                Ok(&first[at])
            }
            _ => Err(tell::several_rows(&self.name)),
        }
    }
}

pub const FIELDS: &[settings::SettingField] =
    &[
        settings::SettingField::new("table", SettingType::Table(HEAD), "The table itself.")
            .needed("it names the table"),
    ];

const HEAD: &[settings::SettingField] = &[
    settings::SettingField::new(
        "name",
        SettingType::Text,
        "What pages and formulas call it.",
    )
    .needed("pages and formulas call it by its name"),
    settings::SettingField::new("title", SettingType::Text, "What people call it.")
        .needed("it is listed by its title"),
    settings::SettingField::new(
        "source",
        SettingType::Text,
        "Where the values come from, and what is from memory.",
    )
    .needed("a value is worth what its source is"),
    settings::SettingField::new("purpose", SettingType::Text, "What it is for, in one line."),
    settings::SettingField::new(
        "equipment",
        SettingType::Truth,
        "Whether the rows are the equipment's, and so differ from yard to yard.",
    ),
    settings::SettingField::new(
        "columns",
        SettingType::Tables(COLUMN),
        "The columns, from left to right.",
    )
    .needed("a row's entries stand in columns"),
    settings::SettingField::new(
        "key",
        SettingType::Texts,
        "The columns whose values together name a row.",
    ),
    settings::SettingField::new(
        "rows",
        SettingType::Rows,
        "The rows, an entry for each column.",
    ),
    settings::SettingField::new("also", SettingType::Texts, "What people say for it."),
    settings::SettingField::new(
        "said",
        SettingType::Tables(sayings::FIELDS),
        "What people say for some of its rows.",
    ),
];

const COLUMN: &[settings::SettingField] = &[
    settings::SettingField::new(
        "name",
        SettingType::Text,
        "What pages and formulas call it.",
    )
    .needed("pages and formulas call it by its name"),
    settings::SettingField::new(
        "label",
        SettingType::Text,
        "What stands above it; the name otherwise.",
    ),
    settings::SettingField::new(
        "text",
        SettingType::Truth,
        "Whether it holds words instead of quantities.",
    ),
    settings::SettingField::new(
        "rating",
        SettingType::Text,
        "The rating that a kit takes from this column, where it names a row.",
    ),
    UNIT.needed_unless("text", "a number has a unit, if it is only 1"),
    PRINT,
    ROUND,
    ALSO,
    ALSO_PRINT,
];

/// Where a handbook's own equipment stands: its kits and its tables.
pub const EQUIPMENT: &str = "content/equipment/";

/// Reads a `[table]` file.
pub(crate) fn load(settings: &mut Settings) -> Option<Table> {
    settings.table("table", table)?
}

fn table(head: &mut Settings) -> Option<Table> {
    let columns = columns(head)?;
    let key = head.texts("key");
    for wrong in &key {
        if columns.iter().all(|column| column.name != wrong.value) {
            let message = format!("`{}` is not a column", wrong.value);
            head.error(Code::Key, &wrong.span, message);
        }
    }
    let mut rows = Vec::new();
    for row in head.rows("rows") {
        if row.value.len() != columns.len() {
            let message = format!(
                "the row has {} entries, and the table {} columns",
                row.value.len(),
                columns.len()
            );
            head.error(Code::Row, &row.span, message);
            continue;
        }
        let cells =
            std::iter::zip(&columns, row.value).map(|(column, at)| read_cell(column, at, head));
        let cells: Vec<Option<Cell>> = cells.collect();
        if let Some(cells) = cells.into_iter().collect::<Option<Vec<Cell>>>() {
            rows.push((cells, row.span));
        }
    }
    let name = head.text("name")?;
    let own = head.file().starts_with(EQUIPMENT);
    let said = sayings::read(head);
    let mut table = Table {
        equipment: own || head.truth("equipment"),
        own,
        name: name.value,
        title: head.plain("title"),
        purpose: head.plain("purpose"),
        source: head.plain("source"),
        columns,
        key: key.into_iter().map(|key| key.value).collect(),
        rows: rows.iter().map(|(row, _)| row.clone()).collect(),
        also: head.sayings("also"),
        said: Vec::new(),
        file: head.file().to_string(),
        span: name.span,
    };
    same_key_twice(&table, &rows, head);
    table.said = sayings::by_row(&table, said, head);
    Some(table)
}

fn same_key_twice(table: &Table, rows: &[(Vec<Cell>, Range<usize>)], head: &mut Settings) {
    for (row, span) in rows {
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
            head.error(Code::Row, span, "another row has the same key")
                .help = Some("remove one of them, or add a column to `key`".into());
        }
    }
}

/// The columns; none where one of them is lost, since no row would fit the others.
fn columns(head: &mut Settings) -> Option<Vec<Column>> {
    let columns = head.tables("columns", |column, _| {
        let kind = if column.truth("text") {
            ColumnKind::Text
        } else {
            let format = NumberFormat::read(column)?;
            let want = Want {
                kind: format.main.kind,
                ..Want::of(format.main.unit.clone())
            };
            ColumnKind::Number { format, want }
        };
        let name = column.text("name")?.value;
        let label = column.text("label");
        Some(Column {
            label: label.map_or_else(|| name.clone(), |label| label.value),
            rating: column.text("rating"),
            name,
            kind,
        })
    });
    columns.into_iter().collect()
}

fn read_cell(column: &Column, at: Placed<String>, head: &mut Settings) -> Option<Cell> {
    let ColumnKind::Number { format, want } = &column.kind else {
        return Some(Cell::Text(at));
    };
    match read(&at.value, want) {
        Ok(typed) => Some(Cell::Number {
            si: typed.si,
            printed: format.print(typed.si),
            at,
        }),
        Err(fault) => {
            head.error(Code::Value, &at.span, in_english(&fault.message()))
                .help = Some(in_english(&fault.help()));
            None
        }
    }
}
