//! `register`: whom this device has a record of, and who is signed off for what.

use serde::Serialize;

use crate::handbook::kind::BlockShape;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::Block;

/// What `blocks/register.html` is given as `r`: its address alone.
#[derive(Serialize)]
struct RegisterView {}

/// `register`: everybody's sign-offs.
pub struct RegisterBlock;

impl BlockShape for RegisterBlock {
    fn name(&self) -> &'static str {
        "register"
    }

    fn help(&self) -> &'static str {
        "Everybody whose record this device keeps, and what they are signed off for; to print, or as CSV."
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl BlockKind for RegisterBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &[
            "names", "record", "people", "person", "stands", "evidence", "register", "carry",
        ]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let block = Block::new("blocks/register.html", "r", &RegisterView {});
        fence.standing(self.name(), context, Composed::of(Some(block)))
    }
}
