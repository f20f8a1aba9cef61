//! What can be wrong with a typed quantity, and how each fault is told.

use crate::message::{Message, tell};

/// One reason to refuse a typed quantity. What has one reading is read; nothing is guessed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum QuantityFault {
    Empty,
    /// Not a number at all, or a number followed by something that isn't a unit.
    NotANumber {
        text: String,
    },
    /// `1,250`, `1.250`: a thousand and more, or one and a quarter. Both are given as the whole
    /// text would be written.
    AmbiguousMark {
        text: String,
        plain: String,
        decimal: String,
    },
    /// `1.25,0.5`: no way to say which mark is the decimal one.
    MixedMarks {
        text: String,
    },
    /// `1 5/4`, `1 1/0`, `1.5 1/4`.
    BadFraction {
        text: String,
        why: Message,
    },
    /// `1 - 1/4`: a sum or a mixed number.
    SpacedDash {
        text: String,
    },
    /// `1e3`.
    Exponent {
        text: String,
    },
    /// `14.`
    TrailingPoint {
        text: String,
        plain: String,
    },
    /// `14..25`
    DoubledMark {
        text: String,
        plain: String,
    },
    /// The number is larger than any that a job has.
    TooLarge {
        text: String,
    },
    /// More letters than any entry has.
    TooLong {
        text: String,
    },
    /// A word that isn't a unit, or means several.
    Unit {
        text: String,
        message: Message,
        help: Message,
    },
    /// A pressure where a length is wanted.
    Dimension {
        text: String,
        is: Message,
        wanted: Message,
        example: String,
    },
    /// `100 psia` where a gauge pressure is wanted, and the like.
    Kind {
        text: String,
        is: Message,
        wanted: Message,
        example: String,
    },
    /// Parts of `5 ft 6 in` that don't go together.
    Compound {
        text: String,
        why: Message,
    },
    /// `14 in ± −1/8 in`.
    Tolerance {
        text: String,
        why: Message,
    },
    /// A count that isn't whole, or carries a unit.
    NotWhole {
        text: String,
    },
}

impl QuantityFault {
    /// What is wrong.
    pub fn message(&self) -> Message {
        use tell::quantity as tell;
        match self {
            QuantityFault::Empty => tell::empty(),
            QuantityFault::NotANumber { text } => tell::not_a_number(text),
            QuantityFault::AmbiguousMark {
                text,
                plain,
                decimal,
            } => tell::ambiguous_mark(decimal, plain, text),
            QuantityFault::MixedMarks { text } => tell::mixed_marks(text),
            QuantityFault::BadFraction { text, why } => tell::bad_fraction(text, why),
            QuantityFault::SpacedDash { text } => tell::spaced_dash(text),
            QuantityFault::Exponent { text } => tell::exponent(text),
            QuantityFault::TrailingPoint { text, .. } => tell::trailing_point(text),
            QuantityFault::DoubledMark { text, .. } => tell::doubled_mark(text),
            QuantityFault::TooLong { text } => tell::too_long(text),
            QuantityFault::TooLarge { text } => tell::too_large(text),
            QuantityFault::Unit { text, message, .. } => tell::bad_unit(message, text),
            QuantityFault::Dimension {
                text, is, wanted, ..
            }
            | QuantityFault::Kind {
                text, is, wanted, ..
            } => tell::other_kind(is, text, wanted),
            QuantityFault::Compound { text, why } => tell::compound(text, why),
            QuantityFault::Tolerance { text, why } => tell::tolerance(text, why),
            QuantityFault::NotWhole { text } => tell::not_whole(text),
        }
    }

    /// What to write instead.
    pub fn help(&self) -> Message {
        use tell::write as tell;
        match self {
            QuantityFault::Empty => tell::number(),
            QuantityFault::NotANumber { .. } => tell::number_and_unit(),
            QuantityFault::AmbiguousMark { plain, decimal, .. } => tell::either(decimal, plain),
            QuantityFault::MixedMarks { .. } => tell::one_mark(),
            QuantityFault::BadFraction { .. } => tell::fraction(),
            QuantityFault::SpacedDash { .. } => tell::dash(),
            QuantityFault::Exponent { .. } => tell::written_out(),
            QuantityFault::TrailingPoint { plain, .. } => tell::missing_digits(plain),
            QuantityFault::DoubledMark { plain, .. } => tell::plain(plain),
            QuantityFault::TooLong { .. } => tell::alone(),
            QuantityFault::TooLarge { .. } => tell::checked(),
            QuantityFault::Unit { help, .. } => help.clone(),
            QuantityFault::Dimension { example, .. } | QuantityFault::Kind { example, .. } => {
                tell::wanted_unit(example)
            }
            QuantityFault::Compound { .. } => tell::larger_first(),
            QuantityFault::Tolerance { .. } => tell::tolerance(),
            QuantityFault::NotWhole { .. } => tell::whole(),
        }
    }
}
