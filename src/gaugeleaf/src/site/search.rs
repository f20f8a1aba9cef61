//! What a search can find, and the index of it.

use gaugeleaf_calc::calculator::{Calculator, Input};
use gaugeleaf_calc::named::Role;
use gaugeleaf_calc::table::{Cell, Table};
use gaugeleaf_lookup::{Document, DocumentKind, IndexFiles, build};

use crate::handbook::addresses::{calculator_url, row_id, table_url};
use crate::handbook::page::Page;
use crate::handbook::targets::target;
use crate::handbook::words::{GlossaryTerm, synonyms};
use crate::language::tell;
use crate::page::sections::SectionKind;
use crate::render::context::Site;
use crate::site::input::SiteInput;

/// The index, and the texts of what it finds.
pub fn index(input: &SiteInput, site: &Site) -> IndexFiles {
    let synonyms: Vec<(String, Vec<String>)> = synonyms(&input.handbook.words);
    let small = input.graph.catalog.language.small_words();
    build(&documents(input, site), &synonyms, &small)
}

/// Every document, in the order of the handbook.
fn documents(input: &SiteInput, site: &Site) -> Vec<Document> {
    let mut documents = Vec::new();
    written(input, &mut documents);
    for phase in &site.phases {
        documents.push(Document {
            title: phase.title.clone(),
            place: site.title.clone(),
            url: phase.url.clone(),
            kind: DocumentKind::Page,
            text: phase.purpose.clone(),
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
            title: named.field.label.clone(),
            place: match named.role {
                Role::Measurement => tell::measurements(),
                Role::Rating => tell::ratings(),
            },
            url: input_url(calculator, &named.field.name),
            kind: DocumentKind::Value,
            text: joined(&[&named.field.help, &value, &from]),
        });
    }
    for table in catalog.tables.values() {
        of_table(table, &mut documents);
    }
    documents
}

fn written(input: &SiteInput, documents: &mut Vec<Document>) {
    let handbook = input.handbook;
    for (page, composed) in handbook.pages.iter().zip(input.composed) {
        let phase = page.phase.and_then(|index| handbook.phases.get(index));
        let above = phase.map_or_else(|| handbook.title.clone(), |phase| phase.title.clone());
        let below = format!("{above} › {}", page.outline.title);
        for section in &composed.value.sections {
            let (kind, place) = match section.kind {
                SectionKind::Opening => (DocumentKind::Page, above.clone()),
                SectionKind::Heading => (DocumentKind::Heading, below.clone()),
                SectionKind::Step => (DocumentKind::Step, below.clone()),
                SectionKind::Term => (DocumentKind::Term, below.clone()),
            };
            let hash = if section.id.is_empty() { "" } else { "#" };
            let said = match kind {
                DocumentKind::Page => also_said(&handbook.words, page),
                _ => String::new(),
            };
            documents.push(Document {
                title: section.title.clone(),
                place,
                url: format!("{}{hash}{}", page.url, section.id),
                kind,
                text: joined(&[&section.text, &said]),
            });
        }
    }
}

/// What people say for a page that is named as a term and is where the term leads: it stands
/// before the glossary, which only leads to it.
fn also_said(words: &[GlossaryTerm], page: &Page) -> String {
    let own = words.iter().find(|term| {
        let here = |path: &str| (path == page.path).then_some(page);
        let see = term.see.as_ref().and_then(|see| target(&see.value, here));
        see.is_some_and(|(_, place)| place.is_empty())
            && term.name.eq_ignore_ascii_case(&page.outline.title)
    });
    own.map_or_else(String::new, |term| term.also.join(", "))
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

fn of_calculator(calculator: &Calculator, documents: &mut Vec<Document>) {
    let url = calculator_url(&calculator.name);
    let outputs: Vec<&str> = calculator
        .results()
        .map(|output| output.label.as_str())
        .collect();
    documents.push(Document {
        title: calculator.title.clone(),
        place: tell::calculators(),
        url: url.clone(),
        kind: DocumentKind::Calculator,
        text: joined(&[
            &calculator.purpose,
            &tell::gives(&outputs.join(", ")),
            &calculator.method,
            &calculator.not_counted,
        ]),
    });
    for input in &calculator.inputs {
        let field = &input.field;
        documents.push(Document {
            title: field.label.clone(),
            place: format!("{} › {}", tell::calculators(), calculator.title),
            url: format!("{url}#{}-{}", calculator.name, field.name),
            kind: DocumentKind::Input,
            text: joined(&[&field.help, &field.why]),
        });
    }
}

fn of_table(table: &Table, documents: &mut Vec<Document>) {
    let url = table_url(&table.name);
    documents.push(Document {
        title: table.title.clone(),
        place: tell::tables(),
        url: url.clone(),
        kind: DocumentKind::Page,
        text: joined(&[&table.purpose, &table.source]),
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
            title: key.join(", "),
            place: format!("{} › {}", tell::tables(), table.title),
            url: format!("{url}#{}", row_id(index)),
            kind: DocumentKind::Row,
            text: said.join("; "),
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
