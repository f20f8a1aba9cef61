//! What a kind of block is to a page: the page finds the fences, and hands each to its kind.

use std::collections::BTreeSet;
use std::ops::Range;

use gaugeleaf_calc::finding::settings::{self, Placed, SettingField, Settings};
use gaugeleaf_calc::finding::{Code, Excerpt};

use crate::handbook::kind::BlockShape;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::Block;

/// A kind of block.
pub trait BlockKind: BlockShape {
    /// The scripts that bring it to life, in the order in which they must load.
    fn scripts(&self) -> &'static [&'static str] {
        &[]
    }

    /// It is ticked off as steps are: a page with steps needs its scripts too.
    fn ticks_steps(&self) -> bool {
        false
    }

    /// What a block of this kind puts on its page.
    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>>;
}

/// The kinds that a page may hold; whoever composes pages is handed them.
pub type BlockKinds = [&'static dyn BlockKind];

/// The names of these kinds, in their order.
pub fn names(kinds: &BlockKinds) -> Vec<&'static str> {
    kinds.iter().map(|kind| kind.name()).collect()
}

/// The scripts that a page needs for the blocks that it shows and for its steps, each once, in the
/// order in which they must load.
pub fn scripts(kinds: &BlockKinds, shown: &BTreeSet<&str>, steps: bool) -> Vec<&'static str> {
    let needed = kinds
        .iter()
        .filter(|kind| shown.contains(kind.name()) || steps && kind.ticks_steps());
    let mut scripts = Vec::new();
    for script in needed.flat_map(|kind| kind.scripts()) {
        if !scripts.contains(script) {
            scripts.push(*script);
        }
    }
    scripts
}

/// A block found on a page.
pub struct Fence {
    /// Where the kind stands.
    pub kind: Range<usize>,
    /// What its opening line says after the kind.
    pub names: Vec<Placed<String>>,
    pub body: Excerpt,
    /// What may stand in the body.
    pub fields: &'static [SettingField],
    pub range: Range<usize>,
}

impl Fence {
    /// Where a fault of the whole block is told.
    pub fn place(&self) -> Range<usize> {
        let span = self.names.first().map_or(&self.kind, |name| &name.span);
        span.clone()
    }

    /// The block's address on the page, as the outline gave it out.
    pub fn address(&self, otherwise: &str, context: &Context) -> String {
        let given = context.page.outline.block_at(self.range.start);
        given.unwrap_or(otherwise).to_string()
    }

    /// The address of a block that stands for itself; it has no name.
    pub fn alone(&self, kind: &str, context: &Context) -> Composed<String> {
        let mut address = Composed::of(self.address(kind, context));
        if let Some(name) = self.names.first() {
            let message = format!("a {kind} block has no name");
            address.findings.push(
                context
                    .error(Code::NamedBlock, name.span.clone(), message)
                    .help(format!("write ```{kind}")),
            );
        }
        address
    }

    /// That nothing stands behind the kind: the block has no name, and needs no address.
    pub fn unnamed(&self, kind: &str, context: &Context) -> Composed<()> {
        self.alone(kind, context).map(drop)
    }

    /// A block that stands for itself, at its address.
    pub fn standing(
        &self,
        kind: &str,
        context: &Context,
        block: Composed<Option<Block>>,
    ) -> Composed<Option<Block>> {
        let mut all = Composed::of(());
        let id = all.take(self.alone(kind, context));
        let block = all.take(block);
        all.with(block.map(|block| block.id(&id)))
    }

    /// What the block's body says, by its settings.
    pub fn settings<T: Default>(
        &self,
        context: &Context,
        read: impl FnOnce(&mut Settings) -> T,
    ) -> Composed<T> {
        let mut findings = Vec::new();
        let value = settings::read(context.file, &self.body, self.fields, &mut findings, read);
        Composed {
            findings,
            ..Composed::of(value)
        }
    }
}
