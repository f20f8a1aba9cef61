//! A value that verdicts hang on, as a person is told of it.

use crate::ground::Ground;
use crate::message::Message;
use crate::named::Role;

/// What a person is told of a value that verdicts hang on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Leaf {
    pub name: String,
    pub label: String,
    /// None for an input that only its own calculator knows.
    pub role: Option<Role>,
    pub ground: Ground,
    /// Where it comes from, in a few words.
    pub from: Message,
    /// The name of the job whose value it is, where it is another's.
    pub job: String,
}
