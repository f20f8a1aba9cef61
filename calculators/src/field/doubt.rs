//! Which of two readings of a typed text a field takes: the one that lies in its limits.

use super::{Field, Refusal};
use crate::message::tell::field as tell;
use crate::quantity::{MarkDoubt, Typed, TypedReadings, Want, readings};

impl Field {
    /// The reading that is meant. `1,250 mm` is asked back where both readings lie in the field's
    /// hard limits; where just one does, nothing else can be meant.
    pub(super) fn only(&self, readings: TypedReadings) -> Result<Typed, Refusal> {
        let doubt = match readings {
            TypedReadings::One(typed) => return Ok(typed),
            TypedReadings::Two(doubt) => *doubt,
        };
        let MarkDoubt {
            plain,
            decimal,
            fault,
        } = doubt;
        let refuse = |message, help| Refusal {
            message,
            help,
            doubtful: false,
        };
        let fits = |typed: &Typed| self.within(typed, true).is_ok();
        match (fits(&plain), fits(&decimal)) {
            (true, false) => Ok(plain),
            (false, true) => Ok(decimal),
            (true, true) => Err(refuse(fault.message(), Some(fault.help()))),
            (false, false) => Err(refuse(
                tell::neither(&fault.message()),
                self.range_words().map(|range| tell::taken(&range)),
            )),
        }
    }

    /// A text that the program writes into the field, made so that it is read back: where
    /// `1.125 mm` would be asked back, `1.1250 mm` is not.
    pub(crate) fn sure(&self, text: String, want: &Want) -> String {
        let Some(point) = text.find('.') else {
            return text;
        };
        let places = &text[point + 1..];
        let count = places.bytes().take_while(u8::is_ascii_digit).count();
        let doubtful =
            count == 3 && readings(&text, want).is_ok_and(|readings| self.only(readings).is_err());
        if !doubtful {
            return text;
        }
        let (number, rest) = text.split_at(point + 1 + count);
        format!("{number}0{rest}")
    }
}
