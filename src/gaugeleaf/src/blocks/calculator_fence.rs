//! What a block about one calculator says on its fence.

use std::ops::Range;

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::finding::settings::Placed;
use gaugeleaf_calc::finding::{Code, Finding, nearest};

use crate::page::context::Context;
use crate::page::kind::Fence;

/// What a block about one calculator says on its fence.
pub struct CalculatorFence<'b> {
    pub calculator: &'b Calculator,
    /// Its address on the page.
    pub id: String,
    /// Where the calculator's name stands, for faults that have no place of their own.
    pub span: Range<usize>,
}

/// The block, once its calculator is known.
pub fn calculator_fence<'g>(
    kind: &str,
    fence: &Fence,
    context: &Context<'g>,
) -> Result<CalculatorFence<'g>, Finding> {
    let [name] = fence.names.as_slice() else {
        let message = format!("a {kind} block names one calculator");
        return Err(context
            .error(Code::UnnamedBlock, fence.kind.clone(), message)
            .help(format!("write ```{kind} NAME")));
    };
    let calculator = calculator(name, context)?;
    Ok(CalculatorFence {
        calculator,
        id: fence.address(&calculator.name, context),
        span: name.span.clone(),
    })
}

/// The calculator of a name.
pub fn calculator<'g>(
    name: &Placed<String>,
    context: &Context<'g>,
) -> Result<&'g Calculator, Finding> {
    let known = &context.graph.catalog.calculators;
    known.get(&name.value).ok_or_else(|| {
        if let Some((message, help)) = context.graph.left_out(&name.value) {
            let code = Code::UnknownCalculator;
            return context.error(code, name.span.clone(), message).help(help);
        }
        let near = nearest(&name.value, known.keys().map(String::as_str));
        let message = format!("there is no calculator `{}`", name.value);
        context
            .error(Code::UnknownCalculator, name.span.clone(), message)
            .follows([name.value.clone()])
            .help(near.map_or_else(
                || "name one of the catalog's calculators".to_string(),
                |near| format!("write {near}"),
            ))
    })
}
