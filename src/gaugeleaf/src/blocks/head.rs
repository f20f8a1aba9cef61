//! `page`: a page's settings, which its outline has read before.

use gaugeleaf_calc::finding::Code;
use gaugeleaf_calc::finding::settings::SettingField;

use crate::handbook::file_kinds;
use crate::handbook::kind::BlockShape;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::Block;

/// `page`: prints nothing; anywhere but at the top it does nothing either.
pub struct PageBlock;

impl BlockShape for PageBlock {
    fn name(&self) -> &'static str {
        "page"
    }

    fn help(&self) -> &'static str {
        "What a page says of itself; it stands at the very top."
    }

    fn fields(&self) -> &'static [SettingField] {
        file_kinds::PAGE
    }
}

impl BlockKind for PageBlock {
    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        if context.page.outline.settings.block.as_ref() == Some(&fence.range) {
            return Composed::default();
        }
        let message = "a page block stands at the very top of its page, once";
        Composed::fault(
            context
                .error(Code::LatePageBlock, fence.kind.clone(), message)
                .help("move these settings to the top"),
        )
    }
}
