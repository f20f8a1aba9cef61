//! `tables/NAME.html`: every table of the catalog, each row with an address.

use gaugeleaf_calc::table::{Cell, Column, ColumnKind, Table};
use serde::Serialize;

use crate::handbook::addresses::{row_id, table_url};
use crate::language::tell;
use crate::render::context::{IssueOf, NavLink, PageContext};
use crate::render::renderer::{MoreView, Renderer};
use crate::site::input::SiteInput;
use crate::site::made::made_pages;
use crate::site::navigation::home;

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

/// Prints every table and the list of them.
pub fn pages(renderer: &mut Renderer, input: &SiteInput) {
    let SiteInput {
        handbook, graph, ..
    } = *input;
    let list = NavLink {
        title: tell::tables(),
        url: "tables/index.html".to_string(),
    };
    let catalog = &graph.catalog;
    let made = made_pages(input).iter().skip(catalog.calculators.len());
    for (table, made) in catalog.tables.values().zip(made) {
        let view = view(table);
        let page = PageContext {
            description: table.purpose.clone(),
            issue: IssueOf::page(&handbook.history, &made.url, &made.fingerprint),
            fingerprint: made.fingerprint.clone(),
            ..PageContext::made(
                "table",
                &table.title,
                &made.url,
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
