//! What a block about one calculator says on its fence.

use std::ops::Range;

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::finding::{Finding, nearest};

use crate::markdown::excerpt::Excerpt;
use crate::markdown::place::info_span;
use crate::page::desk::Desk;

/// A block about one calculator, found on a page.
pub struct Block<'b> {
    pub calculator: &'b Calculator,
    /// Its address on the page.
    pub id: String,
    pub body: Excerpt,
    /// Where the calculator's name stands, for faults that have no place of their own.
    pub span: Range<usize>,
}

/// A block's address on the page, as the outline gave it out.
pub fn address(otherwise: &str, range: &Range<usize>, desk: &Desk) -> String {
    let given = desk.page.outline.block_at(range.start);
    given.unwrap_or(otherwise).to_string()
}

/// The calculator that a block names.
pub fn named<'g>(
    kind: &str,
    names: &[String],
    range: Range<usize>,
    desk: &mut Desk<'g>,
) -> Option<&'g Calculator> {
    let [name] = names else {
        let span = info_span(desk.text, range, kind);
        desk.findings.push(
            Finding::error(
                "unnamed-block",
                desk.file,
                span,
                format!("a {kind} block names one calculator"),
            )
            .help(format!("write ```{kind} NAME")),
        );
        return None;
    };
    let known = &desk.graph.catalog.calculators;
    if let Some(calculator) = known.get(name) {
        return Some(calculator);
    }
    let near = nearest(name, known.keys().map(String::as_str));
    desk.findings.push(
        Finding::error(
            "unknown-calculator",
            desk.file,
            info_span(desk.text, range, name),
            format!("there is no calculator `{name}`"),
        )
        .help(near.map_or_else(
            || "name one of the catalog's calculators".to_string(),
            |near| format!("write {near}"),
        )),
    );
    None
}
