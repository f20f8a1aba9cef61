//! What is asked of a kind of block before any page is composed: by the outline and by the
//! writing rules.

use gaugeleaf_calc::finding::settings::SettingField;

/// A kind of block as a page's text shows it.
pub trait BlockShape: Sync {
    /// As a fence says it.
    fn name(&self) -> &'static str;

    /// What it is for, in one sentence for the trainer.
    fn help(&self) -> &'static str;

    /// What its body may hold.
    fn fields(&self) -> &'static [SettingField] {
        &[]
    }

    /// The address that a block asks for, from what its fence says after the kind.
    fn address(&self, _name: &str) -> Option<String> {
        None
    }

    /// The quoted texts in its body are prose, each a line of it.
    fn holds_prose(&self) -> bool {
        false
    }

    /// It prints the terms of the trade, which get their addresses on its page.
    fn prints_terms(&self) -> bool {
        false
    }

    /// Where it stands, each row of the page's tables is a place of its own.
    fn finds_rows(&self) -> bool {
        false
    }
}

/// The kinds that a handbook's pages may hold.
pub type BlockShapes<'s> = [&'s dyn BlockShape];

/// The kind of a fence, by the first word of its opening line, and the words that follow.
pub fn of<'s, 'i>(
    info: &'i str,
    shapes: &BlockShapes<'s>,
) -> Option<(&'s dyn BlockShape, &'i str)> {
    let info = info.trim();
    let (name, rest) = info.split_once(char::is_whitespace).unwrap_or((info, ""));
    let shape = shapes.iter().find(|shape| shape.name() == name)?;
    Some((*shape, rest.trim()))
}
