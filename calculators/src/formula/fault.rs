//! Why a formula can't be read.

use std::ops::Range;

/// What is wrong with a formula's text, and where in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FormulaFault {
    pub span: Range<usize>,
    pub message: String,
    pub help: Option<String>,
}

impl FormulaFault {
    pub(crate) fn new(span: Range<usize>, message: impl Into<String>) -> FormulaFault {
        FormulaFault {
            span,
            message: message.into(),
            help: None,
        }
    }

    #[must_use]
    pub(crate) fn help(mut self, help: impl Into<String>) -> FormulaFault {
        self.help = Some(help.into());
        self
    }
}
