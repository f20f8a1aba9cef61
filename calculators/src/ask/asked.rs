//! What is asked, and what comes of it.

use crate::calculator::{Answer, Argument};
use crate::message::Message;
use crate::message::tell::result as tell;

/// A question, and what the search has made of its words.
#[derive(Debug, Clone, Default)]
pub struct Question {
    pub text: String,
    /// A word as typed, in small letters, and what it may mean.
    pub meanings: Vec<(String, Vec<String>)>,
    /// Calculators that the search found, best first.
    pub candidates: Vec<String>,
}

/// What a question comes to.
#[derive(Debug, Clone, Default)]
pub struct Asked {
    /// Likeliest first. More than one are a question back, and none of them is an answer.
    pub readings: Vec<Reading>,
    pub conversion: Option<Conversion>,
    /// Numbers that are not taken, and why.
    pub told: Vec<Told>,
    /// Each quantity with a unit: the number as typed, and the numbers that are the same quantity.
    pub spellings: Vec<(String, Vec<String>)>,
}

/// One way to understand a question, worked out.
#[derive(Debug, Clone)]
pub struct Reading {
    pub title: String,
    /// The inputs that the question gives.
    pub given: Vec<Argument>,
    /// With the outputs that were asked for first.
    pub answer: Answer,
    /// Every word speaks of this calculator, and a value came with its unit.
    pub sure: bool,
    /// Words that had no use.
    pub left: Vec<String>,
    /// A number was taken for an input, or for a quantity, that nobody named.
    pub guessed: bool,
    /// A number was called by a result's name: it is asked back whether this input is meant.
    pub unsure: bool,
}

/// A quantity in another unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conversion {
    pub from: String,
    pub to: String,
    /// Else `to` is rounded to six figures.
    pub exact: bool,
}

impl Reading {
    /// Whether a verdict may stand beside it: all that was said is in it, as it was said.
    pub fn is_plain(&self) -> bool {
        self.left.is_empty() && !self.guessed
    }
}

impl Conversion {
    /// What rounding made of `to`.
    pub fn rounded(&self) -> Message {
        match self.exact {
            true => tell::exact(),
            false => tell::six_figures(),
        }
    }
}

/// A number that is not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    pub text: String,
    pub message: Message,
    pub help: Option<Message>,
}

impl Told {
    pub(super) fn of(text: &str, message: Message, help: Option<Message>) -> Told {
        Told {
            text: text.trim_end().to_string(),
            message,
            help,
        }
    }
}
