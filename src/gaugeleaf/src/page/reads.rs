//! What composing a page reads besides its own text and what holds for every page, so that it is
//! known afterwards which pages a change can touch.

use std::cell::RefCell;
use std::collections::BTreeSet;

/// One thing that was read. Whether it stays the same is for whoever remembers pages to tell.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Consulted {
    /// What a calculator comes to, or a measurement or rating, with a kit's values; without a kit,
    /// with the handbook's own.
    Value { kit: Option<String>, name: String },
    /// Every value at once, and all that they come to.
    EveryValue { kit: Option<String> },
    /// The addresses and titles on another page, or that there is none.
    Outline(String),
    /// Another file's text.
    Text(String),
    /// What another page asks its readers, and the values that hold there.
    Questions(String),
    /// Which pages there are, in their order: all, or those of a phase.
    Pages(Option<usize>),
    /// A file of the handbook that is no text, or that there is none.
    File(String),
    /// Which of these files there are.
    FileNames,
    /// The theme's drawings.
    Drawings,
}

/// Keeps what was read.
#[derive(Debug, Default)]
pub struct Reads(RefCell<BTreeSet<Consulted>>);

impl Reads {
    pub fn note(&self, read: Consulted) {
        self.0.borrow_mut().insert(read);
    }

    /// All that was read, once no more is.
    pub fn all(self) -> BTreeSet<Consulted> {
        self.0.into_inner()
    }
}
