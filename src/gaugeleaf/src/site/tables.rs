//! `tables/NAME.html`: every table of the catalog, each row with an address.

use gaugeleaf_calc::table::{Cell, Column, ColumnKind, Table};
use serde::Serialize;

use crate::handbook::addresses::{row_id, table_url};
use crate::handbook::whole::Handbook;
use crate::language::tell;
use crate::render::context::{IssueOf, NavLink, PageContext};
use crate::render::renderer::{MoreView, Renderer};
use crate::site::navigation::home;
use crate::values::act::{self, Act, ActKind};
use crate::values::graph::Graph;

/// What `table.html` is given as `table`.
#[derive(Serialize)]
struct TableView<'t> {
    name: &'t str,
    title: &'t str,
    source: &'t str,
    notes: &'t str,
    columns: Vec<ColumnView<'t>>,
    rows: Vec<RowView>,
}

#[derive(Serialize)]
struct ColumnView<'t> {
    label: &'t str,
    unit: String,
}

#[derive(Serialize)]
struct RowView {
    id: String,
    cells: Vec<CellView>,
}

#[derive(Serialize)]
struct CellView {
    text: String,
    also: String,
    /// Part of the row's key.
    head: bool,
}

/// One table in the list of them.
#[derive(Serialize)]
struct TableEntry<'t> {
    name: &'t str,
    title: &'t str,
    source: &'t str,
    url: String,
    rows: usize,
}

/// What tells a table's page from that of another edition.
pub fn fingerprint(table: &Table) -> String {
    act::fingerprint(&table_url(&table.name), &[], &acts(table))
}

/// What a reader of it acts on: each row, as printed.
pub fn acts(table: &Table) -> Vec<Act> {
    let rows = view(table).rows.into_iter().map(|row| {
        let cells = row.cells.iter().map(|cell| cell.text.as_str());
        Act::new(ActKind::Row, cells.collect::<Vec<_>>().join(" | "))
    });
    rows.collect()
}

/// Prints every table and the list of them.
pub fn pages(renderer: &mut Renderer, handbook: &Handbook, graph: &Graph) {
    let list = NavLink {
        title: tell::tables(),
        url: "tables/index.html".to_string(),
    };
    for table in graph.catalog.tables.values() {
        let view = view(table);
        let page = PageContext {
            description: table.purpose.clone(),
            issue: IssueOf::page(
                &handbook.history,
                &table_url(&table.name),
                &fingerprint(table),
            ),
            fingerprint: fingerprint(table),
            ..PageContext::made(
                "table",
                &table.title,
                &table_url(&table.name),
                vec![home(handbook), list.clone()],
            )
        };
        renderer.page("table.html", &page, Some(MoreView::new("table", &view)));
    }
    let entries: Vec<TableEntry> = graph
        .catalog
        .tables
        .values()
        .map(|table| TableEntry {
            name: &table.name,
            title: &table.title,
            source: &table.source,
            url: table_url(&table.name),
            rows: table.rows.len(),
        })
        .collect();
    let page = PageContext {
        description: tell::about_tables(),
        ..PageContext::made("tables", &list.title, &list.url, vec![home(handbook)])
    };
    renderer.page(
        "tables.html",
        &page,
        Some(MoreView::new("tables", &entries)),
    );
}

fn view(table: &Table) -> TableView<'_> {
    let unit = |column: &Column| match &column.kind {
        ColumnKind::Number { format, .. } => format.main.unit.shown.clone(),
        ColumnKind::Text => String::new(),
    };
    let cell = |(cell, column): (&Cell, &Column)| CellView {
        text: cell.text().to_string(),
        also: match cell {
            Cell::Number { printed, .. } => printed.also.clone().unwrap_or_default(),
            Cell::Text(_) => String::new(),
        },
        head: table.key.contains(&column.name),
    };
    TableView {
        name: &table.name,
        title: &table.title,
        source: &table.source,
        notes: &table.purpose,
        columns: table
            .columns
            .iter()
            .map(|column| ColumnView {
                label: &column.label,
                unit: unit(column),
            })
            .collect(),
        rows: table
            .rows
            .iter()
            .enumerate()
            .map(|(index, row)| RowView {
                id: row_id(index),
                cells: row.iter().zip(&table.columns).map(cell).collect(),
            })
            .collect(),
    }
}
