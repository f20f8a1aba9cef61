//! What a person gives a calculation.

/// An input as a person gave it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Argument {
    pub name: String,
    pub text: String,
    /// The unit of a bare number, where the person switched it.
    pub unit: Option<String>,
    /// A value outside the usual band was confirmed.
    pub confirmed: bool,
}

impl Argument {
    pub fn new(name: &str, text: &str) -> Argument {
        Argument {
            name: name.into(),
            text: text.into(),
            ..Argument::default()
        }
    }
}
