//! A finding, and how much it weighs.

use std::ops::Range;

use crate::code::Code;

/// How much a finding weighs: an error stops a publish, a warning doesn't.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    Error,
    Warning,
}

/// One fault in one place of one file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    pub level: Level,
    pub code: Code,
    /// Says by itself what is wrong: lower case, no full stop.
    pub message: String,
    /// The file's path inside the handbook, with forward slashes.
    pub file: String,
    /// Byte range of the offending text in that file.
    pub span: Range<usize>,
    /// What to write instead.
    pub help: Option<String>,
    /// How it hangs together with others; apart, for a finding goes through many hands.
    pub ties: Box<Ties>,
}

/// What a fault has to do with others, by the names of things: see `cause`.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Ties {
    /// What can't be used because of it.
    pub breaks: Vec<String>,
    /// What it follows from, if that is broken; the likeliest first.
    pub follows: Vec<String>,
    /// What follows from it, once they are folded.
    pub followed_by: Vec<Finding>,
}

impl Finding {
    pub fn error(code: Code, file: &str, span: Range<usize>, message: impl Into<String>) -> Self {
        Finding {
            level: Level::Error,
            code,
            message: message.into(),
            file: file.to_string(),
            span,
            help: None,
            ties: Box::default(),
        }
    }

    pub fn warning(code: Code, file: &str, span: Range<usize>, message: impl Into<String>) -> Self {
        Finding {
            level: Level::Warning,
            ..Finding::error(code, file, span, message)
        }
    }

    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Things that can't be used because of this.
    #[must_use]
    pub fn breaks(mut self, things: impl IntoIterator<Item = impl Into<String>>) -> Self {
        self.ties.breaks.extend(things.into_iter().map(Into::into));
        self
    }

    /// Things from which this follows, should one of them be broken; the likeliest first.
    #[must_use]
    pub fn follows(mut self, things: impl IntoIterator<Item = impl Into<String>>) -> Self {
        self.ties.follows.extend(things.into_iter().map(Into::into));
        self
    }
}
