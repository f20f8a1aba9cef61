//! An input's limits on its calculator's page: what is taken, and how far a value may
//! go before a verdict changes.

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::field::{Field, FieldKind};
use serde::Serialize;

use crate::values::graph::{Graph, Job};

/// One input's limits.
#[derive(Serialize)]
pub struct LimitView<'c> {
    label: &'c str,
    text: String,
    why: &'c str,
    /// How far it may go from its given value before a verdict changes.
    far: Vec<String>,
}

/// With a job, also how far each input may go: too much work for what no page uses.
pub fn limits<'c>(
    calculator: &'c Calculator,
    graph: &Graph,
    job: Option<&Job>,
) -> Vec<LimitView<'c>> {
    let language = &graph.catalog.language;
    let limit = |field: &Field| match &field.kind {
        FieldKind::Number { .. } => field.range_words().map(|range| language.say(&range)),
        FieldKind::Choice(choices) => Some(
            choices
                .iter()
                .map(|choice| choice.label.as_str())
                .collect::<Vec<_>>()
                .join("; "),
        ),
    };
    let fields = calculator.inputs.iter().map(|input| &input.field);
    fields
        .filter_map(|field| {
            Some(LimitView {
                label: &field.label,
                text: limit(field)?,
                why: &field.why,
                far: job.map_or_else(Vec::new, |job| far(calculator, &field.name, graph, job)),
            })
        })
        .collect()
}

/// The limits that an input has, in words; none for one that changes no verdict.
fn far(calculator: &Calculator, input: &str, graph: &Graph, job: &Job) -> Vec<String> {
    let limits = graph.catalog.limits(&calculator.name, input, &[], job);
    let limits = limits.unwrap_or_default();
    let named = limits.len() > 1;
    limits
        .iter()
        .filter(|limit| {
            limit
                .low
                .iter()
                .chain(&limit.high)
                .any(|edge| !edge.at_least)
        })
        .map(|limit| graph.catalog.language.say(&limit.line(named)))
        .collect()
}
