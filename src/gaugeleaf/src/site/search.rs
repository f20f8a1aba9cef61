//! What a search can find, and the index of it.

use std::collections::HashMap;

use gaugeleaf_calc::calculator::{Calculator, Input};
use gaugeleaf_calc::named::Role;
use gaugeleaf_calc::table::{Cell, Table};
use gaugeleaf_calc::unit::{SPELLED, SYMBOLS};
use gaugeleaf_lookup::{Document, DocumentKind, IndexFiles, SearchWords, build};

use crate::handbook::addresses::{calculator_url, row_id, table_url};
use crate::handbook::page::Page;
use crate::handbook::phases::is_trainers;
use crate::handbook::targets::target;
use crate::handbook::words::synonyms;
use crate::language::tell;
use crate::page::route::{Route, To};
use crate::page::sections::SectionKind;
use crate::render::context::Site;
use crate::site::input::SiteInput;

/// The index, and the texts of what it finds.
pub fn index(input: &SiteInput, site: &Site) -> IndexFiles {
    let synonyms: Vec<(String, Vec<String>)> = synonyms(&input.handbook.words);
    let language = &input.graph.catalog.language;
    let small = language.small_words();
    let units = SYMBOLS
        .iter()
        .flat_map(|one| one.others.iter().chain([&one.symbol]))
        .chain(SPELLED.iter().map(|(spelled, _)| spelled));
    let unit = |word: &&&str| {
        let says = word.len() > 1 && word.chars().all(char::is_alphabetic);
        says && small.split_whitespace().all(|small| small != **word)
    };
    let units: Vec<&str> = units.filter(unit).copied().collect();
    let asks = format!("{}, {}", language.asking_words(), units.join(", "));
    let words = SearchWords {
        synonyms: &synonyms,
        small: &small,
        asks: &asks,
        alike: &tell::said_alike(),
    };
    let below = places_below(input);
    build(&documents(input, site, &below), &words)
}

/// Where the sections of each page stand. What stands on one page borrows it.
fn places_below(input: &SiteInput) -> Vec<String> {
    let pages = input.handbook.pages.iter();
    let place = |page: &Page| [above(input, page), " › ", &page.outline.title].concat();
    pages.map(place).collect()
}

/// Where a page stands.
fn above<'d>(input: &'d SiteInput, page: &Page) -> &'d str {
    let handbook = input.handbook;
    let phase = page.phase.and_then(|index| handbook.phases.get(index));
    phase.map_or(handbook.title.as_str(), |phase| &phase.title)
}

/// Every document, in the order of the handbook.
fn documents<'d>(input: &'d SiteInput, site: &'d Site, below: &'d [String]) -> Vec<Document<'d>> {
    let sections = input.composed.iter().map(|one| one.value.sections.len());
    let mut documents = Vec::with_capacity(sections.sum());
    written(input, below, &mut documents);
    asked(input, &mut documents);
    for phase in &site.phases {
        documents.push(Document {
            title: phase.title.as_str().into(),
            place: site.title.as_str().into(),
            url: phase.url.as_str().into(),
            kind: DocumentKind::Page,
            text: phase.purpose.as_str().into(),
            ..Document::default()
        });
    }
    for (title, url) in [
        (tell::calculators(), "calculators/index.html"),
        (tell::tables(), "tables/index.html"),
    ] {
        documents.push(Document {
            title: title.into(),
            place: site.title.as_str().into(),
            url: url.into(),
            kind: DocumentKind::Page,
            ..Document::default()
        });
    }
    let catalog = &input.graph.catalog;
    for calculator in catalog.calculators.values() {
        of_calculator(calculator, &mut documents);
    }
    for named in catalog.named.values() {
        let Some(calculator) = input.graph.calculator_with(&named.field.name) else {
            continue;
        };
        let leaf = catalog.leaf(&named.field.name, input.own.job());
        let from = catalog.language.say(&leaf.from);
        let value = input.own.job().get(&named.field.name);
        let value = value.map_or_else(String::new, |held| held.text.clone());
        documents.push(Document {
            title: named.field.label.as_str().into(),
            place: match named.role {
                Role::Measurement => tell::measurements().into(),
                Role::Rating => tell::ratings().into(),
            },
            url: input_url(calculator, &named.field.name).into(),
            kind: DocumentKind::Value,
            text: joined(&[&named.field.help, &value, &from]).into(),
            ..Document::default()
        });
    }
    for table in catalog.tables.values() {
        of_table(table, &mut documents);
    }
    documents
}

fn written<'d>(input: &'d SiteInput, below: &'d [String], documents: &mut Vec<Document<'d>>) {
    let told = PlacesTold::of(input);
    let pages = input.handbook.pages.iter().zip(input.composed);
    for ((page, composed), below) in pages.zip(below) {
        let settings = &page.outline.settings;
        // what teaches and tests is for the crew to come
        let training = !composed.value.training.is_empty();
        let aside = settings.aside || training || is_trainers(&page.path);
        for section in &composed.value.sections {
            let kind = match section.kind {
                SectionKind::Opening => DocumentKind::Page,
                SectionKind::Heading => DocumentKind::Heading,
                SectionKind::Step => DocumentKind::Step,
                SectionKind::Row => DocumentKind::Row,
                SectionKind::Term => DocumentKind::Term,
            };
            let place = match kind {
                DocumentKind::Page => above(input, page).into(),
                _ => below.as_str().into(),
            };
            let url = at(&page.url, &section.id);
            let mut also = section.also.clone();
            let mut unseen = String::new();
            if kind == DocumentKind::Page {
                also.extend(settings.also.iter().cloned());
                unseen = settings
                    .people
                    .iter()
                    .chain(&settings.tools)
                    .fold(unseen, |all, one| joined(&[&all, one]));
            }
            also.extend(told.said.get(&url).into_iter().flatten().cloned());
            documents.push(Document {
                title: section.title.as_str().into(),
                place,
                kind,
                text: section.text.as_str().into(),
                unseen,
                also,
                leads: match kind {
                    DocumentKind::Term => told.leads.get(&section.id).cloned(),
                    _ => None,
                },
                aside,
                urgent: settings.urgent && kind == DocumentKind::Page,
                url: url.into(),
            });
        }
    }
}

/// Where terms are told.
#[derive(Default)]
struct PlacesTold {
    /// Of each term, by its place in the glossary, the address.
    leads: HashMap<String, String>,
    /// The terms that lead to an address, by all their names.
    said: HashMap<String, Vec<String>>,
}

impl PlacesTold {
    fn of(input: &SiteInput) -> PlacesTold {
        let pages = &input.handbook.pages;
        let page = |path: &str| pages.iter().find(|page| page.path == path);
        let mut told = PlacesTold::default();
        for term in &input.handbook.words {
            let see = term.see.as_ref();
            let Some((to, place)) = see.and_then(|see| target(&see.value, page)) else {
                continue;
            };
            let url = at(&to.url, place);
            let names = std::iter::once(&term.name).chain(&term.also).cloned();
            told.said.entry(url.clone()).or_default().extend(names);
            told.leads.insert(term.id.clone(), url);
        }
        told
    }
}

/// What pages ask their readers leads to where it is told; its answers lead nowhere.
fn asked(input: &SiteInput, documents: &mut [Document]) {
    if input.composed.iter().all(|one| one.value.asked.is_empty()) {
        return;
    }
    let places = (0..).zip(documents.iter());
    let places: HashMap<String, usize> = places
        .map(|(number, document)| (document.url.to_string(), number))
        .collect();
    for (Route { to, anchor, .. }, ask) in input.composed.iter().flat_map(|one| &one.value.asked) {
        let To::Page(path) = to else { continue };
        let page = input.handbook.pages.iter().find(|page| page.path == *path);
        let place = page.and_then(|page| places.get(&at(&page.url, anchor)));
        if let Some(document) = place.and_then(|place| documents.get_mut(*place)) {
            document.unseen = joined(&[&document.unseen, ask]);
        }
    }
}

/// An address, and a place there.
fn at(url: &str, place: &str) -> String {
    let hash = if place.is_empty() { "" } else { "#" };
    [url, hash, place].concat()
}

/// Where a calculator takes a measurement or rating.
fn input_url(calculator: &Calculator, named: &str) -> String {
    let url = calculator_url(&calculator.name);
    let takes = |input: &&Input| input.from.as_ref().is_some_and(|from| from.value == named);
    match calculator.inputs.iter().find(takes) {
        Some(input) => format!("{url}#{}-{}", calculator.name, input.field.name),
        None => url,
    }
}

fn of_calculator<'d>(calculator: &'d Calculator, documents: &mut Vec<Document<'d>>) {
    let url = calculator_url(&calculator.name);
    let outputs: Vec<&str> = calculator
        .results()
        .map(|output| output.label.as_str())
        .collect();
    documents.push(Document {
        title: calculator.title.as_str().into(),
        place: tell::calculators().into(),
        url: url.clone().into(),
        kind: DocumentKind::Calculator,
        text: joined(&[
            &calculator.purpose,
            &tell::gives(&outputs.join(", ")),
            &calculator.method,
            &calculator.not_counted,
        ])
        .into(),
        also: calculator.also.clone(),
        ..Document::default()
    });
    for input in &calculator.inputs {
        let field = &input.field;
        documents.push(Document {
            title: field.label.as_str().into(),
            place: format!("{} › {}", tell::calculators(), calculator.title).into(),
            url: format!("{url}#{}-{}", calculator.name, field.name).into(),
            kind: DocumentKind::Input,
            text: field.help.as_str().into(),
            ..Document::default()
        });
    }
}

fn of_table<'d>(table: &'d Table, documents: &mut Vec<Document<'d>>) {
    let url = table_url(&table.name);
    documents.push(Document {
        title: table.title.as_str().into(),
        place: tell::tables().into(),
        url: url.clone().into(),
        kind: DocumentKind::Page,
        text: joined(&[&table.purpose, &table.source]).into(),
        also: table.also.clone(),
        ..Document::default()
    });
    for (index, row) in table.rows.iter().enumerate() {
        let cells = || {
            table
                .columns
                .iter()
                .zip(row)
                .filter(|(_, cell)| !cell.text().is_empty())
        };
        let key: Vec<&str> = cells()
            .filter(|(column, _)| table.key.contains(&column.name))
            .map(|(_, cell)| cell.text())
            .collect();
        let said: Vec<String> = cells()
            .map(|(column, cell)| match cell {
                Cell::Number { printed, .. } if printed.also.is_some() => {
                    let also = printed.also.as_deref().unwrap_or_default();
                    format!("{} {} ({also})", column.label, printed.text)
                }
                cell => format!("{} {}", column.label, cell.text()),
            })
            .collect();
        documents.push(Document {
            title: key.join(", ").into(),
            place: format!("{} › {}", tell::tables(), table.title).into(),
            url: format!("{url}#{}", row_id(index)).into(),
            kind: DocumentKind::Row,
            text: said.join("; ").into(),
            also: table.said.get(index).cloned().unwrap_or_default(),
            ..Document::default()
        });
    }
}

/// The texts that say something, one after the other.
fn joined(texts: &[&str]) -> String {
    texts
        .iter()
        .filter(|text| !text.is_empty())
        .copied()
        .collect::<Vec<_>>()
        .join(" ")
}
