//! Fenced blocks: those of a kind, and listings.

use gaugeleaf_calc::finding::settings::Placed;
use gaugeleaf_calc::finding::{Code, Finding};

use crate::markdown::place::fence_words;
use crate::markdown::tree;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::listings::listing;
use crate::page::node::Node;

/// What a code block puts on its page.
pub fn block(node: &tree::MarkdownNode, context: &Context) -> Composed<Vec<Node>> {
    let first = node.fence_kind();
    let Some(kind) = context.kinds.iter().find(|kind| first == Some(kind.name())) else {
        return listing(node, context);
    };
    let fence = fence(*kind, node, context.text);
    let mut block = kind.compose(&fence, context);
    if block.value.is_some() {
        block.needs.kinds.insert(kind.name());
    }
    if kind.fields().is_empty() {
        // nobody reads what stands in it, so that it would be lost without a word
        block.take(fence.settings(context, |_| ()));
    }
    block.map(Node::block)
}

/// A block as its kind takes it.
pub fn fence(kind: &dyn BlockKind, node: &tree::MarkdownNode, text: &str) -> Fence {
    let range = node.range.clone();
    let mut words = fence_words(text, range.clone()).into_iter();
    Fence {
        kind: words.next().map_or(range.clone(), |(_, at)| at),
        names: words.map(|(value, span)| Placed { value, span }).collect(),
        body: node.body(),
        fields: kind.fields(),
        range,
    }
}

/// That no other of its kind stands on the page before it.
///
/// # Errors
/// One does: `why` a page has one alone.
pub fn alone(fence: &Fence, kind: &str, why: &str, context: &Context) -> Result<(), Finding> {
    let first = of_kind(&context.page.tree.nodes, kind).into_iter().next();
    if first.is_none_or(|first| first.range.start >= fence.range.start) {
        return Ok(());
    }
    let message = format!("this page has a {kind} already");
    let finding = context.error(Code::TestPlace, fence.place(), message);
    Err(finding.help(format!("write one {kind} a page: {why}")))
}

/// Every block of a kind on a page, in order.
pub fn of_kind<'n>(nodes: &'n [tree::MarkdownNode], kind: &str) -> Vec<&'n tree::MarkdownNode> {
    let mut found = Vec::new();
    tree::each(nodes, &mut |node| {
        let first = node.fence_kind();
        if first == Some(kind) {
            found.push(node);
        }
    });
    found
}

#[cfg(test)]
mod tests {
    use crate::page::testing::findings;

    #[test]
    fn a_block_of_an_unknown_calculator_offers_the_nearest_at_its_name() {
        let findings = findings("```calculator guide-tube-lenght\n```\n");
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("unknown-calculator", 14..31)
        );
        assert_eq!(findings[0].help.as_deref(), Some("write guide-tube-length"));
    }

    #[test]
    fn what_stands_in_a_block_that_takes_nothing_is_a_finding() {
        let text = "```glossary\ncaption = \"Words\"\n```\n";
        let findings = findings(text);
        assert_eq!(findings[0].code.name(), "unknown-setting");
        assert_eq!(&text[findings[0].span.clone()], "caption");
    }

    #[test]
    fn a_block_without_a_name_and_a_late_page_block_are_findings() {
        let findings = findings("# T\n\n```chart\n```\n\n```page\n```\n");
        let codes: Vec<_> = findings.iter().map(|finding| finding.code.name()).collect();
        assert_eq!(codes, ["unnamed-block", "late-page-block"]);
    }
}
