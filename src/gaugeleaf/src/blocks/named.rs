//! What a block about one calculator says on its fence.

use std::ops::Range;

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::finding::{Code, Finding, nearest};

use crate::markdown::excerpt::Excerpt;
use crate::page::desk::Desk;
use crate::page::kind::Fence;

/// A block about one calculator, found on a page.
pub struct Block<'b> {
    pub calculator: &'b Calculator,
    /// Its address on the page.
    pub id: String,
    pub body: Excerpt,
    /// Where the calculator's name stands, for faults that have no place of their own.
    pub span: Range<usize>,
}

/// The block, once its calculator is known.
pub fn named<'g>(kind: &str, fence: &Fence, desk: &mut Desk<'g>) -> Option<Block<'g>> {
    let (calculator, span) = calculator(kind, fence, desk)?;
    Some(Block {
        calculator,
        id: fence.address(&calculator.name, desk),
        body: fence.body.clone(),
        span,
    })
}

/// The calculator that a block names.
fn calculator<'g>(
    kind: &str,
    fence: &Fence,
    desk: &mut Desk<'g>,
) -> Option<(&'g Calculator, Range<usize>)> {
    let [name] = fence.names.as_slice() else {
        desk.findings.push(
            Finding::error(
                Code::UnnamedBlock,
                desk.file,
                fence.kind.clone(),
                format!("a {kind} block names one calculator"),
            )
            .help(format!("write ```{kind} NAME")),
        );
        return None;
    };
    let known = &desk.graph.catalog.calculators;
    if let Some(calculator) = known.get(&name.value) {
        return Some((calculator, name.span.clone()));
    }
    let near = nearest(&name.value, known.keys().map(String::as_str));
    desk.findings.push(
        Finding::error(
            Code::UnknownCalculator,
            desk.file,
            name.span.clone(),
            format!("there is no calculator `{}`", name.value),
        )
        .follows([name.value.clone()])
        .help(near.map_or_else(
            || "name one of the catalog's calculators".to_string(),
            |near| format!("write {near}"),
        )),
    );
    None
}
