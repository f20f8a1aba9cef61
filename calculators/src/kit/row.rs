//! The row of a table that an entry of a kit means.

use crate::message::in_english;
use gaugeleaf_finding::settings::{Binding, Settings};
use gaugeleaf_finding::{Code, Placed, nearest};

use crate::catalog::Catalog;
use crate::formula::Value;
use crate::quantity::read;
use crate::table::{Cell, ColumnKind, Table};

/// The table of a name, unless its rows are nobody's equipment.
pub(super) fn table<'c>(
    catalog: &'c Catalog,
    entry: &mut Settings,
    said: &Placed<String>,
) -> Option<&'c Table> {
    let Some(table) = catalog.tables.get(&said.value) else {
        let near = nearest(&said.value, catalog.tables.keys().map(String::as_str));
        let message = format!("there is no table `{}`", said.value);
        let fault = entry.error(Code::UnknownValue, &said.span, message);
        fault.help = near.map(|near| format!("write {near}"));
        fault.ties.follows.push(said.value.clone());
        return None;
    };
    if table.equipment && !table.own {
        let message = format!(
            "the rows of `{}` are an example, and nobody's equipment",
            said.value
        );
        let fault = entry.error(Code::ExampleRows, &said.span, message);
        fault.ties.follows.push(said.value.clone());
        fault.help = Some(format!(
            "write the yard's own in content/equipment/{}.toml",
            said.value
        ));
        return None;
    }
    Some(table)
}

/// The one row that an entry means, and that row in words; anything else is told.
pub(super) fn meant<'t>(
    entry: &mut Settings,
    name: &Placed<String>,
    table: &'t Table,
) -> Option<(&'t [Cell], String)> {
    let mut keys: Vec<(String, Value)> = Vec::new();
    let mut words = Vec::new();
    let mut whole = true;
    for Binding { name, text } in entry.other_quantities() {
        match key(entry, table, &name, &text) {
            Some((label, value)) => {
                words.push(format!("{label} {}", text.value));
                keys.push((name.value, value));
            }
            None => whole = false,
        }
    }
    if !whole {
        return None;
    }
    let pairs: Vec<(&str, Value)> = keys
        .iter()
        .map(|(name, value)| (name.as_str(), value.clone()))
        .collect();
    let (fault, help) = match table.matching(&pairs).as_slice() {
        [(_, row)] if !pairs.is_empty() => return Some((row, words.join(", "))),
        [] => ("names no row of", format!("look it up in {}", table.file)),
        _ => {
            let missing = table.key.iter();
            let missing = missing.filter(|key| pairs.iter().all(|(name, _)| name != key));
            let missing: Vec<String> = missing.map(|key| format!("{key} = \"…\"")).collect();
            (
                "names several rows of",
                format!("add {}", missing.join(", ")),
            )
        }
    };
    let message = format!("`{}` {fault} the table {}", name.value, table.name);
    entry.error(Code::NoSuchRow, &name.span, message).help = Some(help);
    None
}

/// A column's label, and the value that its entry must have.
fn key(
    entry: &mut Settings,
    table: &Table,
    name: &Placed<String>,
    text: &Placed<String>,
) -> Option<(String, Value)> {
    let Some((_, column)) = table.column(&name.value) else {
        let names = table.columns.iter().map(|column| column.name.as_str());
        let help = match nearest(&name.value, names.clone()) {
            Some(near) => format!("write {near}"),
            None => format!("its columns are {}", names.collect::<Vec<_>>().join(", ")),
        };
        let message = format!("the table {} has no column `{}`", table.name, name.value);
        entry.error(Code::UnknownColumn, &name.span, message).help = Some(help);
        return None;
    };
    let value = match &column.kind {
        ColumnKind::Text => Value::Choice(text.value.clone()),
        ColumnKind::Number { want, .. } => match read(&text.value, want) {
            Ok(typed) => Value::Number(typed.si),
            Err(fault) => {
                entry
                    .error(Code::BadInput, &text.span, in_english(&fault.message()))
                    .help = Some(in_english(&fault.help()));
                return None;
            }
        },
    };
    Some((column.label.clone(), value))
}
