//! The catalog: calculators, tables, measurements and ratings joined into one
//! graph of named quantities.
//!
//! ```
//! use gaugeleaf_calc::{Argument, Catalog, Job, builtin};
//! let (catalog, findings) = Catalog::load(&builtin());
//! assert!(findings.is_empty(), "{findings:?}");
//! let given = [Argument::new("channel_depth", "9 in"), Argument::new("stock_length", "12 in")];
//! let answer = catalog.calculate("guide-tube-length", &given, &Job::new()).unwrap();
//! let length = answer.output("length").unwrap().told();
//! assert_eq!(catalog.language.say(&length), "21 in");
//! ```

mod answers;
mod broken;
mod check;
mod columns;
mod cross_checks;
mod job;
mod leaf;
mod link;
mod load;
mod lookup;
mod outcomes;
mod own;
mod pack;
mod picture;
mod resolver;
mod sheet;
mod unpack;

use serde::{Deserialize, Serialize};

use crate::calculator::Calculator;
use crate::figure::Figure;
use crate::message::Language;
use crate::named::NamedQuantity;
use crate::names::Names;
use crate::table::Table;

pub use broken::defined;
pub use job::{Held, Job};
pub use lookup::{Lookup, LookupRow};
pub use own::{Own, Rated, Taken, Whose};
pub use sheet::{NamedReading, SetupSheet};

/// Everything that a handbook can calculate.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
pub struct Catalog {
    pub calculators: Names<Calculator>,
    pub tables: Names<Table>,
    /// Built-in rows of equipment that the handbook has rows of its own for: the worked examples
    /// of the built-in calculators still stand on these.
    #[serde(skip)]
    pub example_tables: Names<Table>,
    pub named: Names<NamedQuantity>,
    /// Figures by path.
    pub figures: Names<Figure>,
    /// Drawings of the setup sheet, by name: pages that show none don't carry them.
    #[serde(skip)]
    pub drawings: Names<Figure>,
    /// What the handbook adds: its kits and its job.
    pub own: Own,
    /// The words for what it tells.
    pub language: Language,
}

#[cfg(test)]
mod bands;
#[cfg(test)]
mod soundness;
#[cfg(test)]
mod stands;
#[cfg(test)]
mod tests;
