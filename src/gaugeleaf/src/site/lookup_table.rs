//! The lookup table on a calculator's page: its main result over one input's usual band, for
//! whoever has paper and no screen that answers.

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::calculator::{Answer, Verdict};
use gaugeleaf_calc::catalog::LookupRow;
use serde::Serialize;

use crate::language::tell;

/// What `calculator.html` is given as `calculator.lookup`.
#[derive(Serialize)]
pub struct LookupView {
    over: String,
    output: String,
    rows: Vec<LookupRowView>,
    /// What the other inputs are, each with its value.
    given: Vec<LookupGivenView>,
}

#[derive(Serialize)]
struct LookupRowView {
    over: String,
    over_also: String,
    result: String,
    result_also: String,
    would: &'static str,
}

#[derive(Serialize)]
struct LookupGivenView {
    label: String,
    text: String,
}

/// The table with the values that the page's widget starts from.
pub fn lookup_table(catalog: &Catalog, answer: &Answer) -> Option<LookupView> {
    let lookup = catalog.lookup(answer)?;
    let others = answer.inputs.iter();
    let others = others.filter(|input| input.name != lookup.over.name);
    Some(LookupView {
        over: lookup.over.label.clone(),
        output: lookup.output.label.clone(),
        rows: lookup.rows.into_iter().map(row).collect(),
        given: others
            .map(|input| LookupGivenView {
                label: input.label.clone(),
                text: input.reading.text().to_string(),
            })
            .collect(),
    })
}

fn row(row: LookupRow) -> LookupRowView {
    let (result, result_also) = match row.result {
        Some(result) => (result.text, result.also.unwrap_or_default()),
        None => (tell::no_result(), String::new()),
    };
    LookupRowView {
        over: row.over.text,
        over_also: row.over.also.unwrap_or_default(),
        result,
        result_also,
        would: row.would.map_or("", Verdict::word),
    }
}
