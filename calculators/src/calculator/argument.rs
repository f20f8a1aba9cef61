//! What a person gives a calculation.

use crate::ground::Ground;

/// An input as a person gave it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Argument {
    pub name: String,
    pub text: String,
    /// The unit of a bare number, where the person switched it.
    pub unit: Option<String>,
    /// A value outside the usual band was confirmed.
    pub confirmed: bool,
    /// What it is worth: the one who types it has measured it, and a page only shows something.
    pub ground: Ground,
}

impl Default for Argument {
    fn default() -> Argument {
        Argument {
            name: String::new(),
            text: String::new(),
            unit: None,
            confirmed: false,
            ground: Ground::Measured,
        }
    }
}

impl Argument {
    pub fn new(name: &str, text: &str) -> Argument {
        Argument {
            name: name.into(),
            text: text.into(),
            ..Argument::default()
        }
    }
    /// A value that only shows something: a page's, a chart's, a question's.
    pub fn example(name: &str, text: &str) -> Argument {
        Argument {
            ground: Ground::Example,
            ..Argument::new(name, text)
        }
    }
}
