//! Tables of fields: what keys a table of settings has, and what each takes.

use crate::code::Code;

/// One key that a table of settings may hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SettingField {
    /// The key, or [`OTHERS`].
    pub key: &'static str,
    pub takes: SettingType,
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
pub enum SettingType {
    Text,
    /// A text that formulas can call something by.
    Name,
    /// A text or a plain number.
    Quantity,
    Truth,
    Whole,
    /// A date, bare or between quotes.
    Date,
    Texts,
    /// A table of quantities by names that the writer chooses.
    Quantities,
    /// The same, with a list of quantities for each name.
    Lists,
    /// A list of lists.
    Rows,
    Table(&'static [SettingField]),
    Tables(&'static [SettingField]),
    /// A table of tables by names that the writer chooses.
    TablesByName(&'static [SettingField]),
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
    /// Has its place elsewhere: it is a fault here, and this is what to do.
    Moved(&'static str),
}

/// A few words, one of which a text has to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Only {
    pub code: Code,
    /// Completes "`x` is not …".
    pub what: &'static str,
    pub words: &'static [&'static str],
}

impl SettingField {
    pub const fn new(key: &'static str, takes: SettingType, help: &'static str) -> SettingField {
        SettingField {
            key,
            takes,
            need: Need::Free,
            only: None,
            help,
        }
    }

    /// Every other key, with a quantity each.
    pub const fn others(help: &'static str) -> SettingField {
        SettingField::new(OTHERS, SettingType::Quantity, help)
    }

    #[must_use]
    pub const fn needed(self, why: &'static str) -> SettingField {
        SettingField {
            need: Need::Always(why),
            ..self
        }
    }

    #[must_use]
    pub const fn needed_unless(self, other: &'static str, why: &'static str) -> SettingField {
        SettingField {
            need: Need::Unless(other, why),
            ..self
        }
    }

    #[must_use]
    pub const fn needed_and_told(self) -> SettingField {
        SettingField {
            need: Need::Told,
            ..self
        }
    }

    /// A key that people would look for here, and that stands elsewhere.
    pub const fn moved(key: &'static str, to: &'static str) -> SettingField {
        SettingField {
            need: Need::Moved(to),
            ..SettingField::new(key, SettingType::Text, "Not here.")
        }
    }

    /// Whether it may stand where it is listed.
    pub fn stands_here(&self) -> bool {
        !matches!(self.need, Need::Moved(_))
    }

    #[must_use]
    pub const fn only(
        self,
        code: Code,
        what: &'static str,
        words: &'static [&'static str],
    ) -> SettingField {
        SettingField {
            only: Some(Only { code, what, words }),
            ..self
        }
    }
}

impl SettingType {
    /// In words, after "takes".
    pub const fn words(self) -> &'static str {
        match self {
            SettingType::Text => "text",
            SettingType::Name => "a name",
            SettingType::Quantity => "a quantity",
            SettingType::Truth => "true or false",
            SettingType::Whole => "a whole number",
            SettingType::Date => "a date",
            SettingType::Texts => "a list of texts",
            SettingType::Quantities => "a table of quantities",
            SettingType::Lists => "a table of lists",
            SettingType::Rows => "a list of rows",
            SettingType::Table(_) => "a table",
            SettingType::Tables(_) => "a list of tables",
            SettingType::TablesByName(_) => "a table of tables",
        }
    }

    /// How a key with such a value is written.
    pub fn written(self, key: &str) -> String {
        let value = match self {
            SettingType::Text | SettingType::Name | SettingType::Quantity => "\"…\"",
            SettingType::Truth => "true",
            SettingType::Whole => "10",
            SettingType::Date => "2027-06-01",
            SettingType::Texts => "[\"…\", \"…\"]",
            SettingType::Quantities => "{ name = \"…\" }",
            SettingType::Lists => "{ name = [\"…\", \"…\"] }",
            SettingType::Rows => "[ [\"…\", \"…\"] ]",
            SettingType::Table(_) => "{ … }",
            SettingType::Tables(_) => "[ { … } ]",
            SettingType::TablesByName(_) => "{ name = { … } }",
        };
        format!("{key} = {value}")
    }
}

/// The field of a key: its own, or the one for every other.
pub fn field(fields: &'static [SettingField], key: &str) -> Option<&'static SettingField> {
    let by = |key: &str| fields.iter().find(|field| field.key == key);
    by(key).or_else(|| by(OTHERS))
}

/// Whether formulas can call something by this text.
pub fn is_name(text: &str) -> bool {
    let mut letters = text.chars();
    letters.next().is_some_and(|c| c.is_ascii_lowercase())
        && letters.all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
}
