//! Where something leads inside a handbook, before an edition gives it an address.

use serde::{Deserialize, Serialize};

/// What a route leads to.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum To {
    /// A written page, by its path in the handbook.
    Page(String),
    /// A calculator's own page.
    Calculator(String),
    /// A table's own page.
    Table(String),
    /// A picture or another file of the handbook, by its path.
    File(String),
}

/// A way to a place in a handbook.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Route {
    pub to: To,
    /// The place there; empty for the whole.
    pub anchor: String,
    /// What is put in there, as typed, by name.
    pub given: Vec<(String, String)>,
}

impl Route {
    pub fn to(to: To) -> Route {
        Route {
            to,
            anchor: String::new(),
            given: Vec::new(),
        }
    }

    pub fn page(path: &str) -> Route {
        Route::to(To::Page(path.to_string()))
    }

    pub fn calculator(name: &str) -> Route {
        Route::to(To::Calculator(name.to_string()))
    }

    pub fn file(path: &str) -> Route {
        Route::to(To::File(path.to_string()))
    }

    pub fn at(self, anchor: &str) -> Route {
        Route {
            anchor: anchor.to_string(),
            ..self
        }
    }
}
