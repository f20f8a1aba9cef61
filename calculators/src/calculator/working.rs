//! The working: the formula, the formula with numbers put in, the result.

use super::answer::{OutputReading, PrintedValue, WorkingLine};
use super::definition::{Calculator, Output};
use crate::formula::{ExprKind, Notation, Values};
use crate::names::Names;

/// Characters of plain text that a formula may have and still be set as MathML,
/// which doesn't wrap.
pub const LONGEST_MATHML: usize = 64;

struct WorkingSymbols<'a>(&'a Calculator);

impl Notation for WorkingSymbols<'_> {
    fn name(&self, name: &str) -> String {
        match (self.0.input(name), self.0.output(name)) {
            (Some(input), _) => input.field.symbol.clone(),
            (None, Some(output)) => output.symbol.clone(),
            // The counter of a sum or a root.
            (None, None) => name.to_string(),
        }
    }

    fn is_number(&self) -> bool {
        false
    }
}

struct WorkingNumbers<'a>(&'a Names<String>);

impl Notation for WorkingNumbers<'_> {
    fn name(&self, name: &str) -> String {
        self.0
            .get(name)
            .cloned()
            .unwrap_or_else(|| name.to_string())
    }

    fn is_number(&self) -> bool {
        true
    }
}

pub(super) fn line(
    calculator: &Calculator,
    output: &Output,
    reading: &OutputReading,
    known: &dyn Values,
    texts: &Names<String>,
) -> WorkingLine {
    use crate::formula::mathml::{quantity, symbol};
    let symbols = WorkingSymbols(calculator);
    let formula = output.formula.plain(&symbols);
    let math = output.formula.mathml(&symbols);
    let taken = output.formula.taken(known);
    let numbers = taken.plain(&WorkingNumbers(texts));
    let result = reading.reading.as_ref().map_or("", PrintedValue::text);
    // A bare name or number put in would only repeat the result.
    let trivial = matches!(
        taken.expr.kind,
        ExprKind::Number(_) | ExprKind::Quantity { .. } | ExprKind::Word(_)
    ) || numbers == *result;
    let mut mathml = format!(
        "<math display=\"block\"><mrow>{}<mo>=</mo>{math}</mrow></math>",
        symbol(&output.symbol)
    );
    if !trivial {
        let put_in = taken.mathml(&WorkingNumbers(texts));
        mathml.push_str(&format!(
            "<math display=\"block\"><mrow><mo>=</mo>{put_in}</mrow></math>"
        ));
    }
    mathml.push_str(&format!(
        "<math display=\"block\"><mrow><mo>=</mo>{}</mrow></math>",
        quantity(result)
    ));
    // A formula too long for a phone's width is read better as text that wraps.
    if formula.chars().count().max(numbers.chars().count()) > LONGEST_MATHML {
        mathml.clear();
    }
    WorkingLine {
        name: output.name.clone(),
        label: output.label.clone(),
        formula: format!("{} = {formula}", output.symbol),
        numbers: if trivial {
            String::new()
        } else {
            format!("= {numbers}")
        },
        result: format!("= {result}"),
        mathml,
    }
}
