//! One page as the rules see it.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::page::Page;
use crate::prose::parts::{Part, PartKind};
use crate::prose::passage::Passage;
use crate::prose::vocabulary::Vocabulary;

/// One page before the rules.
pub struct PageText<'s> {
    pub file: &'s str,
    pub text: &'s str,
    pub page: &'s Page,
    pub parts: Vec<Part>,
    /// Whether the page lies in a phase of the work, where the stricter rules hold.
    pub procedure: bool,
    pub vocabulary: &'s Vocabulary,
}

impl PageText<'_> {
    /// The page's steps, by index among its parts.
    pub fn steps(&self) -> impl Iterator<Item = (usize, &Part)> {
        let parts = self.parts.iter().enumerate();
        parts.filter(|(_, part)| part.kind == PartKind::Step)
    }

    pub fn error(
        &self,
        code: Code,
        passage: &Passage,
        at: Range<usize>,
        message: impl Into<String>,
    ) -> Finding {
        Finding::error(code, self.file, passage.locate(at), message)
    }

    pub fn warning(
        &self,
        code: Code,
        passage: &Passage,
        at: Range<usize>,
        message: impl Into<String>,
    ) -> Finding {
        Finding::warning(code, self.file, passage.locate(at), message)
    }
}
