//! What a setting's value can be.

/// The kind of value that a setting takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    Text,
    Truth,
    Whole,
    Date,
    Texts,
    Tables,
    Lists,
    Quantities,
}

impl Shape {
    pub(super) fn words(self) -> &'static str {
        match self {
            Shape::Text => "text",
            Shape::Truth => "true or false",
            Shape::Whole => "a whole number",
            Shape::Date => "a date",
            Shape::Texts => "a list of texts",
            Shape::Tables => "a list of tables",
            Shape::Lists => "a table of lists",
            Shape::Quantities => "a table of quantities",
        }
    }

    /// How it is written; none where that takes more than a line.
    pub(super) fn example(self) -> Option<&'static str> {
        match self {
            Shape::Text => Some("\"…\""),
            Shape::Truth => Some("true"),
            Shape::Whole => Some("10"),
            Shape::Date => Some("2027-06-01"),
            Shape::Texts => Some("[\"…\", \"…\"]"),
            Shape::Tables | Shape::Lists | Shape::Quantities => None,
        }
    }
}
