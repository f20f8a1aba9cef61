//! A calculator's names as its formulas print them.

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::formula::{Formula, Notation};

/// Prints names as their symbols.
pub struct CalculatorSymbols<'c>(pub &'c Calculator);

impl Notation for CalculatorSymbols<'_> {
    fn name(&self, name: &str) -> String {
        let input = self.0.input(name).map(|input| input.field.symbol.clone());
        input
            .or_else(|| self.0.output(name).map(|output| output.symbol.clone()))
            .unwrap_or_else(|| name.to_string())
    }

    fn is_number(&self) -> bool {
        false
    }
}

impl CalculatorSymbols<'_> {
    pub fn mathml(&self, name: &str) -> String {
        Formula::parse(name).map_or_else(
            |_| format!("<mi>{name}</mi>"),
            |formula| formula.mathml(self),
        )
    }
}
