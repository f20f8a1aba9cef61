//! The forms in which findings are handed over, by the names that a command takes.

use crate::report::emitter::Emitter;
use crate::report::lines::Lines;
use crate::report::sarif::Sarif;
use crate::report::terminal::Terminal;

/// A form that can be asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Format {
    /// For a person at a terminal.
    #[default]
    Terminal,
    /// One JSON object a line.
    Lines,
    /// One SARIF log, for whoever shows findings beside the source.
    Sarif,
}

/// Every format with its name.
pub const FORMATS: [(&str, Format); 3] = [
    ("terminal", Format::Terminal),
    ("lines", Format::Lines),
    ("sarif", Format::Sarif),
];

impl Format {
    pub fn named(name: &str) -> Option<Format> {
        let mut formats = FORMATS.iter();
        formats.find(|one| one.0 == name).map(|one| one.1)
    }

    /// Who emits it; `colour` counts at a terminal alone.
    pub fn emitter(self, colour: bool) -> Box<dyn Emitter> {
        match self {
            Format::Terminal => Box::new(Terminal { colour }),
            Format::Lines => Box::new(Lines),
            Format::Sarif => Box::new(Sarif),
        }
    }
}
