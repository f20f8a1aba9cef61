//! Reads the ratings of a kit: each by itself, or many from a row of a table.

use crate::message::{Message, in_english};
use std::ops::Range;

use gaugeleaf_finding::settings::{self, Binding, Settings};
use gaugeleaf_finding::{Code, Level, Placed, nearest};

use super::KitRating;
use super::fields::RATING;
use super::row;
use crate::catalog::Catalog;
use crate::field::Refusal;
use crate::named::{NamedQuantity, Role};
use crate::names::Names;
use crate::table::{Cell, Column, ColumnKind};

pub(super) struct KitReader<'c> {
    catalog: &'c Catalog,
    pub ratings: Names<KitRating>,
    /// What gave a rating: the rating itself or the row, by the rating's name.
    givers: Names<String>,
}

impl KitReader<'_> {
    pub fn new(catalog: &Catalog) -> KitReader<'_> {
        KitReader {
            catalog,
            ratings: Names::new(),
            givers: Names::new(),
        }
    }

    pub fn entry(&mut self, entry: &mut Settings, name: &Placed<String>) {
        match entry.text("table") {
            Some(table) => self.row(entry, name, &table),
            None => {
                strangers(entry);
                self.single(entry, name);
            }
        }
    }

    /// A rating by itself.
    fn single(&mut self, entry: &mut Settings, name: &Placed<String>) {
        let Some(named) = self.rating(entry, name) else {
            return;
        };
        let Some(text) = entry.quantity("value") else {
            return;
        };
        if let Err(refusal) = named
            .field
            .take(&text.value, None, entry.truth("confirmed"))
            && !refused(entry, &named.field.name, &text.span, refusal)
        {
            return;
        }
        let source = entry.plain("source");
        self.insert(entry, name, name, text, source);
    }

    /// The rating of a name; none where it is no rating, which is told.
    fn rating(&self, entry: &mut Settings, name: &Placed<String>) -> Option<&NamedQuantity> {
        let ratings = self.catalog.named.values();
        let ratings = ratings.filter(|named| named.role == Role::Rating);
        match self.catalog.named.get(&name.value) {
            Some(named) if named.role == Role::Rating => Some(named),
            Some(_) => {
                let message = format!(
                    "`{}` is a measurement, which belongs to a job and not to a kit",
                    name.value
                );
                let fault = entry.error(Code::MisplacedValue, &name.span, message);
                fault.help = Some("write it under given, on the page of its job".into());
                None
            }
            None => {
                let near = nearest(&name.value, ratings.map(|named| named.field.name.as_str()));
                let help = near.map_or(
                    "name a rating of the catalog, or define it in calculators".to_string(),
                    |near| format!("write {near}"),
                );
                let message = format!("there is no rating `{}`", name.value);
                let fault = entry.error(Code::UnknownValue, &name.span, message);
                fault.help = Some(help);
                fault.ties.follows.push(name.value.clone());
                None
            }
        }
    }

    /// Every rating that a table's row gives.
    fn row(&mut self, entry: &mut Settings, name: &Placed<String>, said: &Placed<String>) {
        if let Some(value) = entry.quantity("value") {
            let message = format!("a row gives its values itself, and not `{}`", value.value);
            let fault = entry.error(Code::UnknownSetting, &value.span, message);
            fault.help = Some("leave out value, or table".into());
        }
        let catalog = self.catalog;
        let Some(table) = row::table(catalog, entry, said) else {
            return;
        };
        let giving: Vec<(usize, &Column, &Placed<String>)> = table
            .columns
            .iter()
            .enumerate()
            .filter_map(|(at, column)| Some((at, column, column.rating.as_ref()?)))
            .collect();
        if giving.is_empty() {
            let message = format!("no column of `{}` names a rating", said.value);
            let fault = entry.error(Code::RowWithoutRatings, &said.span, message);
            fault.help = Some(match table.own {
                true => format!("add rating = \"…\" to its columns, in {}", table.file),
                false => "name a table whose columns say rating = \"…\"".to_string(),
            });
            return;
        }
        let Some((cells, words)) = row::meant(entry, name, table) else {
            return;
        };
        let own = entry.plain("source");
        let source = match own.trim() {
            "" => format!("{}, {words}: {}", table.title, table.source),
            _ => own,
        };
        for (at, column, rating) in giving {
            let named = catalog.named.get(&rating.value);
            // told at the table, where it is no rating
            let Some(named) = named.filter(|named| named.role == Role::Rating) else {
                continue;
            };
            let Some(text) = self.cell(entry, named, column, &cells[at]) else {
                continue;
            };
            let at = Placed {
                value: rating.value.clone(),
                span: name.span.clone(),
            };
            self.insert(entry, name, &at, text, source.clone());
        }
    }

    /// An entry of the row as the rating takes it; its place is that of the row in the kit.
    fn cell(
        &self,
        entry: &mut Settings,
        named: &NamedQuantity,
        column: &Column,
        cell: &Cell,
    ) -> Option<Placed<String>> {
        let (written, bare) = match (cell, &column.kind) {
            (Cell::Number { at, .. }, ColumnKind::Number { want, .. }) => {
                (&at.value, Some(want.unit.symbol.as_str()))
            }
            (Cell::Number { at, .. } | Cell::Text(at), _) => (&at.value, None),
        };
        let span = entry.span();
        if let Err(refusal) = named.field.take(written, bare, entry.truth("confirmed")) {
            let name = &named.field.name;
            // what the message quotes stands in the table
            let message = in_english(&refusal.message).replace('`', "");
            let message = Message::data(&format!("{name} of this row: {message}"));
            let refusal = Refusal { message, ..refusal };
            if !refused(entry, name, &span, refusal) {
                return None;
            }
        }
        // a bare number there means the column's unit, and here the rating's
        let same = named.field.take(written, None, true) == named.field.take(written, bare, true);
        let value = match bare.filter(|_| !same) {
            Some(unit) => format!("{written} {unit}"),
            None => written.clone(),
        };
        Some(Placed { value, span })
    }

    /// Takes a rating; one that has its value already is told.
    fn insert(
        &mut self,
        entry: &mut Settings,
        giver: &Placed<String>,
        rating: &Placed<String>,
        text: Placed<String>,
        source: String,
    ) {
        if let Some(other) = self.givers.get(&rating.value) {
            let by = match *other == rating.value {
                true => "by itself".to_string(),
                false => format!("by the row {other}"),
            };
            let message = match giver.value == rating.value {
                true => format!("`{}` is given already, {by}", rating.value),
                false => format!(
                    "the row `{}` gives {}, which is given already, {by}",
                    giver.value, rating.value
                ),
            };
            let fault = entry.error(Code::SameRating, &giver.span, message);
            fault.help = Some("keep one of the two: a value has one place".into());
            return;
        }
        self.givers
            .insert(rating.value.clone(), giver.value.clone());
        let taken = KitRating {
            text,
            source,
            read: entry.date("read").unwrap_or_default(),
            by: entry.plain("by"),
        };
        self.ratings.insert(rating.value.clone(), taken);
    }
}

/// Tells a value that a rating doesn't take; whether it stands all the same.
fn refused(entry: &mut Settings, name: &str, span: &Range<usize>, refusal: Refusal) -> bool {
    let doubtful = refusal.doubtful;
    let code = match doubtful {
        true => Code::DoubtfulInput,
        false => Code::BadInput,
    };
    let fault = entry.error(code, span, in_english(&refusal.message));
    fault.help = refusal.help.as_ref().map(in_english);
    if doubtful {
        fault.level = Level::Warning;
        let help = fault.help.take().unwrap_or_default();
        fault.help = Some(format!("{help} Add confirmed = true once it is read twice"));
    } else {
        fault.ties.breaks.push(name.to_string());
    }
    doubtful
}

/// Keys that only a row has, on a rating by itself.
fn strangers(entry: &mut Settings) {
    for Binding { name, .. } in entry.other_quantities() {
        let known = RATING.iter().map(|field| field.key);
        let known = known.filter(|key| *key != settings::OTHERS);
        let help = match nearest(&name.value, known.clone()) {
            Some(near) => format!("write {near}"),
            None => format!("the settings are {}", known.collect::<Vec<_>>().join(", ")),
        };
        let message = format!("there is no setting named `{}` here", name.value);
        entry.error(Code::UnknownSetting, &name.span, message).help = Some(help);
    }
}
