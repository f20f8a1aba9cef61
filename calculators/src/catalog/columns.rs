//! Checks the ratings that a table's columns name for kits.

use super::Catalog;
use super::check::fits;
use crate::named::Role;
use crate::table::{Column, Table};
use gaugeleaf_finding::{Code, Finding, Placed, nearest};

/// One finding for each column that names what is no rating, or one of another kind.
pub(super) fn check(catalog: &Catalog) -> Vec<Finding> {
    let mut findings = Vec::new();
    for table in catalog.tables.values() {
        for column in &table.columns {
            let rating = column.rating.as_ref();
            findings.extend(rating.and_then(|rating| fault(catalog, table, column, rating)));
        }
    }
    findings
}

fn fault(
    catalog: &Catalog,
    table: &Table,
    column: &Column,
    rating: &Placed<String>,
) -> Option<Finding> {
    let ratings = catalog.named.values();
    let ratings = ratings.filter(|named| named.role == Role::Rating);
    let error =
        |code, message: String| Finding::error(code, &table.file, rating.span.clone(), message);
    let named = catalog.named.get(&rating.value);
    let Some(of_rating) = named.filter(|named| named.role == Role::Rating) else {
        let near = nearest(
            &rating.value,
            ratings.map(|named| named.field.name.as_str()),
        );
        let message = format!("there is no rating `{}`", rating.value);
        return Some(Finding {
            help: match named {
                Some(_) => {
                    Some("it is a measurement: a row of equipment gives ratings".to_string())
                }
                None => near.map(|near| format!("write {near}")),
            },
            ..error(Code::UnknownValue, message).follows([rating.value.clone()])
        });
    };
    let wanted = of_rating.field.formula_type();
    let held = table.column_type(&column.name)?;
    (!fits(&held, &wanted)).then(|| {
        let message = format!(
            "`{}` is not the kind of quantity that this column holds",
            rating.value
        );
        let help = format!("{} takes {}", rating.value, wanted.described());
        error(Code::From, message).help(help)
    })
}
