//! What a kind of block is to a page: the page finds the fences, and hands each to its kind.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::markdown::event::{Piece, html};
use crate::markdown::excerpt::Excerpt;
use crate::markdown::place::info_span;
use crate::page::desk::Desk;

/// A kind of block.
pub trait Kind: Sync {
    /// As a fence says it.
    fn name(&self) -> &'static str;

    /// What a block of this kind puts on its page.
    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>>;
}

/// The kinds that a page may hold; whoever composes pages is handed them.
pub type Kinds = [&'static dyn Kind];

/// The names of these kinds, in their order.
pub fn names(kinds: &Kinds) -> Vec<&'static str> {
    kinds.iter().map(|kind| kind.name()).collect()
}

/// A block found on a page.
pub struct Fence {
    /// What its opening line says after the kind.
    pub names: Vec<String>,
    pub body: Excerpt,
    pub range: Range<usize>,
}

impl Fence {
    /// Where a word of the opening line stands.
    pub fn word(&self, word: &str, desk: &Desk) -> Range<usize> {
        info_span(desk.text, self.range.clone(), word)
    }

    /// The block's address on the page, as the outline gave it out.
    pub fn address(&self, otherwise: &str, desk: &Desk) -> String {
        let given = desk.page.outline.block_at(self.range.start);
        given.unwrap_or(otherwise).to_string()
    }

    /// The address of a block that stands for itself; it has no name.
    pub fn alone(&self, kind: &str, desk: &mut Desk) -> String {
        if let Some(name) = self.names.first() {
            let message = format!("a {kind} block has no name");
            desk.findings.push(
                Finding::error(Code::NamedBlock, desk.file, self.word(name, desk), message)
                    .help(format!("write ```{kind}")),
            );
        }
        self.address(kind, desk)
    }

    /// The block as one piece of HTML, or nothing.
    pub fn html(&self, text: Option<String>) -> Vec<Piece<'static>> {
        let piece = text.map(|text| html(text, self.range.clone()));
        piece.into_iter().collect()
    }
}
