//! Quantities: reading what people type, printing what people read.
//!
//! ```
//! use gaugeleaf_calc::quantity::{Rounding, UnitFormat, Want, read};
//! use gaugeleaf_calc::unit::Unit;
//! let want = Want::of(Unit::parse("in").unwrap());
//! let typed = read("1-1/4\"", &want).unwrap();
//! assert_eq!(typed.si, 0.03175);
//! let format = UnitFormat::parse("in", "1/8", Rounding::Down).unwrap();
//! assert_eq!(format.print(typed.si).text, "1 1/4 in");
//! ```

mod bind;
mod clean;
mod cursor;
mod digits;
mod fault;
mod marks;
mod number;
mod parts;
mod read;
mod readings;
mod show;
mod unit_of;

pub use bind::bind;
pub use fault::QuantityFault;
pub(crate) use number::number_at;
pub use number::tidy;
pub(crate) use parts::unit_word;
pub use read::{Typed, Want, read};
pub(crate) use readings::{MarkDoubt, TypedReadings, readings};
pub use show::{RoundedQuantity, Rounding, RoundingStep, UnitFormat, in_unit, understood};
pub(crate) use show::{bare_in_unit, rounded_reading, whole_steps};

#[cfg(test)]
mod spelling_tests;
#[cfg(test)]
mod tests;
