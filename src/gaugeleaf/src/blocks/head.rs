//! `page`: a page's settings, which its outline has read before.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::forms;
use crate::handbook::kind::Shape;
use crate::markdown::event::Piece;
use crate::page::desk::Desk;
use crate::page::kind::{Fence, Kind};
use crate::settings::Field;

/// `page`: prints nothing; anywhere but at the top it does nothing either.
pub struct PageBlock;

impl Shape for PageBlock {
    fn name(&self) -> &'static str {
        "page"
    }

    fn fields(&self) -> &'static [Field] {
        forms::PAGE
    }
}

impl Kind for PageBlock {
    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        if desk.page.outline.settings.block.as_ref() != Some(&fence.range) {
            desk.findings.push(
                Finding::error(
                    Code::LatePageBlock,
                    desk.file,
                    fence.kind.clone(),
                    "a page block stands at the very top of its page, once",
                )
                .help("move these settings to the top"),
            );
        }
        Vec::new()
    }
}
