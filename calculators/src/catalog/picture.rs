//! Figures, tube maps and plots of a catalog's calculators.

use super::{Catalog, Job};
use crate::calculator::{Answer, Calculator, Plot};
use crate::plot::{self, PlotLine};
use gaugeleaf_finding::Placed;

impl Catalog {
    /// The figure of an answer's calculator, drawn for its values.
    pub fn draw(&self, answer: &Answer) -> Option<String> {
        self.drawn(answer, |calculator| &calculator.figure)
    }

    /// The tube map of an answer's calculator, drawn for its values.
    pub fn draw_map(&self, answer: &Answer) -> Option<String> {
        self.drawn(answer, |calculator| &calculator.map)
    }

    fn drawn(
        &self,
        answer: &Answer,
        of: fn(&Calculator) -> &Option<Placed<String>>,
    ) -> Option<String> {
        let calculator = self.calculators.get(&answer.calculator)?;
        let path = calculator.beside(of(calculator).as_ref()?);
        let figure = self.figures.get(&path)?;
        // half a drawing looks like a whole one of something else
        if !answer.problems.is_empty() || !answer.unset.is_empty() {
            return None;
        }
        figure.draw(&answer.values, &answer.texts).ok()
    }

    /// The plot of an answer's calculator, with the answer marked in it.
    pub fn plot(&self, answer: &Answer) -> Option<String> {
        let calculator = self.calculators.get(&answer.calculator)?;
        let plot = calculator.plot.as_ref()?;
        if !answer.problems.is_empty() {
            return None;
        }
        let line = PlotLine { name: "", answer };
        self.plot_of(calculator, plot, &[line], true)
    }

    /// Any plot of a calculator: one line for each answer, the first one marked if wanted.
    pub fn plot_of(
        &self,
        calculator: &Calculator,
        plot: &Plot,
        lines: &[PlotLine],
        mark: bool,
    ) -> Option<String> {
        let job = Job::new();
        let resolver = self.resolver(&job);
        plot::svg(calculator, plot, lines, mark, &resolver, &self.language)
    }
}
