//! What a ledger tells of its handbook as a whole, so that a changed value can be followed to what
//! changed it.

use std::collections::BTreeMap;

use gaugeleaf_calc::calculator::{Calculator, PrintedValue};
use gaugeleaf_calc::catalog::Job;
use gaugeleaf_calc::named::Role;
use serde::Serialize;

use crate::values::graph::Graph;

/// What a ledger tells of its handbook as a whole.
#[derive(Debug, Clone, Default, Serialize)]
pub struct LedgerHead<'l> {
    pub revision: &'l str,
    pub title: &'l str,
    pub caution: &'l str,
    pub demonstration: bool,
    pub named: Vec<LedgerNamed>,
    pub calculators: Vec<LedgerCalculator<'l>>,
}

/// A rating or a measurement as it holds in all of the handbook, whether a page prints it or not.
#[derive(Debug, Clone, Serialize)]
pub struct LedgerNamed {
    name: String,
    is: &'static str,
    label: String,
    text: String,
    also: String,
    source: String,
    ground: &'static str,
}

impl LedgerNamed {
    /// All that have a value.
    pub fn all(graph: &Graph, job: &Job) -> Vec<LedgerNamed> {
        let named = graph.catalog.named.values();
        let told = named.filter_map(|named| {
            let name = &named.field.name;
            let reading = graph.quantity(name, job)?.ok()?;
            let leaf = graph.catalog.leaf(name, job);
            Some(LedgerNamed {
                name: name.clone(),
                is: match named.role {
                    Role::Measurement => "measurement",
                    Role::Rating => "rating",
                },
                label: named.field.label.clone(),
                text: reading.text().to_string(),
                also: match &reading {
                    PrintedValue::Number(printed) => printed.also.clone().unwrap_or_default(),
                    PrintedValue::Choice { .. } => String::new(),
                },
                source: graph.catalog.language.say(&leaf.from),
                ground: leaf.ground.word(),
            })
        });
        told.collect()
    }
}

/// What supplies a calculator's inputs: by it a changed value is followed to what changed it.
#[derive(Debug, Clone, Serialize)]
pub struct LedgerCalculator<'l> {
    name: &'l str,
    title: &'l str,
    inputs: BTreeMap<&'l str, LedgerInput<'l>>,
}

#[derive(Debug, Clone, Serialize)]
struct LedgerInput<'l> {
    label: &'l str,
    /// A measurement, a rating or `calculator.output`; empty where only a page or a reader gives it.
    from: &'l str,
}

impl<'l> LedgerCalculator<'l> {
    pub fn new(calculator: &'l Calculator) -> LedgerCalculator<'l> {
        let inputs = calculator.inputs.iter().map(|input| {
            let from = input.from.as_ref().map_or("", |from| from.value.as_str());
            let label = input.field.label.as_str();
            (input.field.name.as_str(), LedgerInput { label, from })
        });
        LedgerCalculator {
            name: &calculator.name,
            title: &calculator.title,
            inputs: inputs.collect(),
        }
    }
}
