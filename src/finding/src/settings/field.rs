//! Tables of fields: what keys a table of settings has, and what each takes.

use crate::code::Code;

/// One key that a table of settings may hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Field {
    /// The key, or [`OTHERS`].
    pub key: &'static str,
    pub takes: Takes,
    pub need: Need,
    /// The words that it may be, where it may be a few alone.
    pub only: Option<Only>,
    /// What it is for, in one sentence for whoever writes it.
    pub help: &'static str,
}

/// The key of the field that stands for every key without a field of its own.
pub const OTHERS: &str = "*";

/// What a field takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Takes {
    Text,
    /// A text that formulas can call something by.
    Name,
    /// A text or a plain number.
    Quantity,
    Truth,
    Whole,
    Date,
    Texts,
    /// A table of quantities by names that the writer chooses.
    Quantities,
    /// The same, with a list of quantities for each name.
    Lists,
    /// A list of lists.
    Rows,
    Table(&'static [Field]),
    Tables(&'static [Field]),
}

/// Whether a field has to be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    Free,
    /// Completes "`title` is missing: …".
    Always(&'static str),
    /// Needed where the table has no such other key; the second completes the message.
    Unless(&'static str, &'static str),
    /// Needed, and told by whoever reads it, who knows better what to write.
    Told,
}

/// A few words, one of which a text has to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Only {
    pub code: Code,
    /// Completes "`x` is not …".
    pub what: &'static str,
    pub words: &'static [&'static str],
}

impl Field {
    pub const fn new(key: &'static str, takes: Takes, help: &'static str) -> Field {
        Field {
            key,
            takes,
            need: Need::Free,
            only: None,
            help,
        }
    }

    /// Every other key, with a quantity each.
    pub const fn others(help: &'static str) -> Field {
        Field::new(OTHERS, Takes::Quantity, help)
    }

    #[must_use]
    pub const fn needed(self, why: &'static str) -> Field {
        Field {
            need: Need::Always(why),
            ..self
        }
    }

    #[must_use]
    pub const fn needed_unless(self, other: &'static str, why: &'static str) -> Field {
        Field {
            need: Need::Unless(other, why),
            ..self
        }
    }

    #[must_use]
    pub const fn needed_and_told(self) -> Field {
        Field {
            need: Need::Told,
            ..self
        }
    }

    #[must_use]
    pub const fn only(
        self,
        code: Code,
        what: &'static str,
        words: &'static [&'static str],
    ) -> Field {
        Field {
            only: Some(Only { code, what, words }),
            ..self
        }
    }
}

impl Takes {
    /// In words, after "takes".
    pub const fn words(self) -> &'static str {
        match self {
            Takes::Text => "text",
            Takes::Name => "a name",
            Takes::Quantity => "a quantity",
            Takes::Truth => "true or false",
            Takes::Whole => "a whole number",
            Takes::Date => "a date",
            Takes::Texts => "a list of texts",
            Takes::Quantities => "a table of quantities",
            Takes::Lists => "a table of lists",
            Takes::Rows => "a list of rows",
            Takes::Table(_) => "a table",
            Takes::Tables(_) => "a list of tables",
        }
    }

    /// How a key with such a value is written.
    pub fn written(self, key: &str) -> String {
        let value = match self {
            Takes::Text | Takes::Name | Takes::Quantity => "\"…\"",
            Takes::Truth => "true",
            Takes::Whole => "10",
            Takes::Date => "2027-06-01",
            Takes::Texts => "[\"…\", \"…\"]",
            Takes::Quantities => "{ name = \"…\" }",
            Takes::Lists => "{ name = [\"…\", \"…\"] }",
            Takes::Rows => "[ [\"…\", \"…\"] ]",
            Takes::Table(_) => "{ … }",
            Takes::Tables(_) => "[ { … } ]",
        };
        format!("{key} = {value}")
    }
}

/// The field of a key: its own, or the one for every other.
pub fn field(fields: &'static [Field], key: &str) -> Option<&'static Field> {
    let by = |key: &str| fields.iter().find(|field| field.key == key);
    by(key).or_else(|| by(OTHERS))
}

/// Whether formulas can call something by this text.
pub fn is_name(text: &str) -> bool {
    let mut letters = text.chars();
    letters.next().is_some_and(|c| c.is_ascii_lowercase())
        && letters.all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
}
