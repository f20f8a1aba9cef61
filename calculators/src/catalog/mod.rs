//! The catalog: calculators, tables, measurements and ratings joined into one
//! graph of named quantities.
//!
//! ```
//! use gaugeleaf_calc::{Catalog, Given, Job, builtin};
//! let (catalog, findings) = Catalog::load(&builtin());
//! assert!(findings.is_empty(), "{findings:?}");
//! let given = [Given::new("channel_depth", "9 in"), Given::new("stock_length", "12 in")];
//! let answer = catalog.calculate("guide-tube-length", &given, &Job::new()).unwrap();
//! assert_eq!(answer.output("length").unwrap().text(), "21 in");
//! ```

mod check;
mod link;
mod load;
mod outcomes;
mod pack;
mod picture;
mod sheet;
mod supply;

use serde::{Deserialize, Serialize};

use crate::calculator::{Answer, Calculator, Given, Limit, Problem, Supplied, Supply};
use crate::figure::Figure;
use crate::finding::nearest;
use crate::named::Named;
use crate::names::Names;
use crate::table::Table;

pub use sheet::{NamedReading, SetupSheet};

/// The values of one job: measurement or rating by name, as typed.
pub type Job = Names<String>;

/// Everything that a handbook can calculate.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
pub struct Catalog {
    pub calculators: Names<Calculator>,
    pub tables: Names<Table>,
    pub named: Names<Named>,
    /// Figures by path.
    pub figures: Names<Figure>,
}

impl Catalog {
    /// Evaluates a calculator; `None` where there is none of this name.
    pub fn calculate(&self, name: &str, given: &[Given], job: &Job) -> Option<Answer> {
        let supply = self.supply(job);
        Some(self.calculators.get(name)?.run(given, &supply))
    }

    /// How far an input may go before each check changes its verdict.
    ///
    /// # Errors
    /// Why the calculator gives no answer, or why the input has no limit.
    pub fn limits(
        &self,
        name: &str,
        input: &str,
        given: &[Given],
        job: &Job,
    ) -> Result<Vec<Limit>, Problem> {
        let supply = self.supply(job);
        let problem = |message: String, help: Option<String>| Problem {
            input: input.to_string(),
            message,
            help,
            doubtful: false,
        };
        let calculator = self
            .calculators
            .get(name)
            .ok_or_else(|| problem(format!("there is no calculator `{name}`"), None))?;
        if calculator.input(input).is_none() {
            let names = calculator.input_names();
            let help =
                nearest(input, names.iter().copied()).map(|near| format!("did you mean {near}?"));
            let help = help.unwrap_or_else(|| format!("the inputs are {}", names.join(", ")));
            return Err(problem(
                format!("`{input}` is not an input of {name}"),
                Some(help),
            ));
        }
        if calculator.checks.is_empty() {
            return Err(problem(
                format!("{name} checks nothing, so no input has a limit"),
                None,
            ));
        }
        let answer = calculator.run(given, &supply);
        if let Some(first) = answer.problems.first() {
            return Err(first.clone());
        }
        let limits = calculator.limits(input, &answer, &supply);
        if limits.is_empty() {
            return Err(problem(
                format!("`{input}` is a choice, so it has no limit"),
                None,
            ));
        }
        Ok(limits)
    }

    /// A measurement or rating, as this job has it.
    ///
    /// # Errors
    /// Why the job's value is refused.
    pub fn quantity(&self, name: &str, job: &Job) -> Option<Result<Supplied, Problem>> {
        self.named
            .contains_key(name)
            .then(|| self.supply(job).supply(name))
    }
}

#[cfg(test)]
mod soundness;
#[cfg(test)]
mod tests;
