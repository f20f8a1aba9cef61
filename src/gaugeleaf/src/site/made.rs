//! What a reader acts on in the pages that the generator makes by itself: tables and calculators.

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::table::{Cell, Column, ColumnKind};
use rayon::prelude::*;

use crate::handbook::addresses::{calculator_url, table_url};
use crate::site::calculators;
use crate::site::input::SiteInput;
use crate::site::symbols::CalculatorSymbols;
use crate::values::act::{Act, ActKind, MadePage};
use crate::values::hash::short_hash;

/// All of them: calculators first, in the catalog's order.
pub fn made_pages<'i>(input: &'i SiteInput) -> &'i [MadePage] {
    input.made.get_or_init(|| made(input))
}

fn made(input: &SiteInput) -> Vec<MadePage> {
    let catalog = &input.graph.catalog;
    let calculators: Vec<&Calculator> = catalog.calculators.values().collect();
    let calculators = calculators
        .into_par_iter()
        .map(|one| of_calculator(one, input));
    let mut pages: Vec<MadePage> = calculators.collect();
    pages.extend(catalog.tables.values().map(|table| {
        let url = table_url(&table.name);
        let head = table.columns.iter().map(head).collect::<Vec<_>>();
        let rows = table.rows.iter().map(|row| {
            let cells: Vec<&str> = row.iter().map(Cell::text).collect();
            cells.join(" | ")
        });
        let rows = [head.join(" | ")].into_iter().chain(rows);
        let acts = rows.map(|row| Act::new(ActKind::Row, row)).collect();
        made_page(url, &table.title, acts, input)
    }));
    pages
}

/// What heads a column: a number means nothing without its unit.
fn head(column: &Column) -> String {
    match &column.kind {
        ColumnKind::Number { format, .. } => format!("{} {}", column.label, format.main.unit.shown),
        ColumnKind::Text => column.label.clone(),
    }
}

/// A page with what a reader acts on, and who approves it.
fn made_page(url: String, title: &str, mut acts: Vec<Act>, input: &SiteInput) -> MadePage {
    let handbook = input.handbook;
    let approver = handbook.approver.as_ref();
    acts.push(Act::new(ActKind::Head, title));
    acts.push(Act::new(ActKind::Text, handbook.caution.as_str()));
    acts.extend(approver.map(|by| Act::new(ActKind::Approver, by)));
    MadePage::new(url, title, acts)
}

/// A calculator: the values that its page starts from, what they come to, and how.
fn of_calculator(calculator: &Calculator, input: &SiteInput) -> MadePage {
    let mut acts = Vec::new();
    if let Ok(answer) = calculators::own_answer(calculator, input) {
        let inputs = answer.inputs.iter();
        let inputs = inputs.map(|one| format!("{}: {}", one.label, one.reading.text()));
        let outputs = answer.outputs.iter().map(|one| {
            let text = one.reading.as_ref().map_or("", |reading| reading.text());
            format!("{}: {text}", one.label)
        });
        let lines = inputs.chain(outputs);
        acts.extend(lines.map(|line| Act::new(ActKind::Row, line)));
    }
    let symbols = CalculatorSymbols(calculator);
    let formulas = calculator.outputs.iter().map(|output| {
        let formula = output.formula.plain(&symbols);
        Act::new(ActKind::Formula, format!("{} = {formula}", output.label))
    });
    let checks = calculators::checks(calculator).into_iter();
    let cases = checks.flat_map(|check| check.cases).map(|case| {
        let text = format!("{} {}: {}", case.is, case.when, case.because);
        Act::new(ActKind::Formula, text)
    });
    acts.extend(formulas.chain(cases));
    // its limits, its words, what it leaves out: whatever its file says, its page says
    let file = input
        .graph
        .files
        .iter()
        .find(|file| file.path == calculator.file);
    let mark = short_hash(
        file.map_or("", |file| &file.text)
            .replace('\r', "")
            .as_bytes(),
    );
    acts.push(Act {
        title: calculator.title.clone(),
        ..Act::new(ActKind::Block, format!("file {mark}"))
    });
    let url = calculator_url(&calculator.name);
    made_page(url, &calculator.title, acts, input)
}
