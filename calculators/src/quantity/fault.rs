//! What can be wrong with a typed quantity, and how each fault is worded.

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
        why: &'static str,
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
        message: String,
        help: String,
    },
    /// A pressure where a length is wanted.
    Dimension {
        text: String,
        is: String,
        wanted: String,
        example: String,
    },
    /// `100 psia` where a gauge pressure is wanted, and the like.
    Kind {
        text: String,
        is: &'static str,
        wanted: &'static str,
        example: String,
    },
    /// Parts of `5 ft 6 in` that don't go together.
    Compound {
        text: String,
        why: &'static str,
    },
    /// `14 in ± −1/8 in`.
    Tolerance {
        text: String,
        why: &'static str,
    },
    /// A count that isn't whole, or carries a unit.
    NotWhole {
        text: String,
    },
}

impl QuantityFault {
    /// What is wrong: lower case, no full stop.
    pub fn message(&self) -> String {
        match self {
            QuantityFault::Empty => "nothing is written here".into(),
            QuantityFault::NotANumber { text } => format!("`{text}` is not a number with a unit"),
            QuantityFault::AmbiguousMark {
                text,
                plain,
                decimal,
            } => {
                format!("`{text}` may be read as {plain} or as {decimal}")
            }
            QuantityFault::MixedMarks { text } => format!("`{text}` mixes comma and point"),
            QuantityFault::BadFraction { text, why } => {
                format!("`{text}` is not a fraction: {why}")
            }
            QuantityFault::SpacedDash { text } => {
                format!("`{text}` may be read as a sum or as a mixed number")
            }
            QuantityFault::Exponent { text } => format!("`{text}` is written with an exponent"),
            QuantityFault::TrailingPoint { text, .. } => {
                format!("`{text}` has no digit after the point")
            }
            QuantityFault::DoubledMark { text, .. } => {
                format!("`{text}` has two points or commas in a row")
            }
            QuantityFault::TooLong { text } => format!("`{text}` is too long to be one quantity"),
            QuantityFault::TooLarge { text } => format!("`{text}` is larger than any job's number"),
            QuantityFault::Unit { text, message, .. } => format!("in `{text}`, {message}"),
            QuantityFault::Dimension {
                text, is, wanted, ..
            } => {
                format!("`{text}` is {is}, and {wanted} is wanted")
            }
            QuantityFault::Kind {
                text, is, wanted, ..
            } => {
                format!("`{text}` is {is}, and {wanted} is wanted")
            }
            QuantityFault::Compound { text, why } => format!("`{text}` doesn't add up: {why}"),
            QuantityFault::Tolerance { text, why } => {
                format!("`{text}` has no tolerance to use: {why}")
            }
            QuantityFault::NotWhole { text } => format!("`{text}` is not a whole number"),
        }
    }

    /// What to write instead.
    pub fn help(&self) -> Option<String> {
        Some(match self {
            QuantityFault::Empty => "write a number, such as 12 or 12 1/2".into(),
            QuantityFault::NotANumber { .. } => {
                "write a number and its unit, such as 12 1/2 in".into()
            }
            QuantityFault::AmbiguousMark { plain, decimal, .. } => {
                format!("write {plain} or {decimal}")
            }
            QuantityFault::MixedMarks { .. } => {
                "write the number with one decimal mark and no thousands mark".into()
            }
            QuantityFault::BadFraction { .. } => "write it as 1 1/4, or as 1.25".into(),
            QuantityFault::SpacedDash { .. } => {
                "write 1-1/4 or 1 1/4, without spaces about the dash".into()
            }
            QuantityFault::Exponent { .. } => "write the number out".into(),
            QuantityFault::TrailingPoint { plain, .. } => {
                format!("write {plain}, or the digits that are missing")
            }
            QuantityFault::DoubledMark { plain, .. } => format!("write {plain}"),
            QuantityFault::TooLong { .. } => {
                "write the number and its unit alone, such as 12 1/2 in".into()
            }
            QuantityFault::TooLarge { .. } => "check the digits and the unit".into(),
            QuantityFault::Unit { help, .. } => help.clone(),
            QuantityFault::Dimension { example, .. } | QuantityFault::Kind { example, .. } => {
                format!("write it in the unit wanted, such as {example}")
            }
            QuantityFault::Compound { .. } => {
                "write the larger unit first, such as 5 ft 6 1/2 in".into()
            }
            QuantityFault::Tolerance { .. } => "write 14 in ± 1/8 in".into(),
            QuantityFault::NotWhole { .. } => {
                "write a whole number without a unit, such as 2".into()
            }
        })
    }
}
