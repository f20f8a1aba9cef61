//! A page that differs, before anybody asked why.

use crate::compare::card::TextChange;
use crate::compare::change::CardState;
use crate::compare::read::PageRead;
use crate::compare::values::ChangedValue;

/// What is known of it by itself.
pub struct Draft<'l> {
    pub state: CardState,
    pub page: &'l PageRead,
    pub was: Option<&'l PageRead>,
    pub is: Option<&'l PageRead>,
    pub values: Vec<ChangedValue<'l>>,
    pub texts: Vec<TextChange>,
}
