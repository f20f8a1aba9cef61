//! `walk`: asks somebody through the page's tables of faults, one question a screen. Each row of
//! them is a place of its own.

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::Tag;
use serde::Serialize;

use crate::handbook::kind::BlockShape;
use crate::markdown::tree::MarkdownNode;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::inline;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, Line, Node};

const FIELDS: &[SettingField] = &[
    SettingField::new(
        "proof",
        SettingType::Text,
        "What is proved again once a remedy has helped.",
    )
    .needed("a remedy that nobody proves is a guess"),
    SettingField::new(
        "lost",
        SettingType::Text,
        "What to do when nothing fits, or no remedy helps.",
    )
    .needed("nobody goes on guessing"),
];

/// `walk`: a fault, one question a screen.
pub struct WalkBlock;

impl BlockShape for WalkBlock {
    fn name(&self) -> &'static str {
        "walk"
    }

    fn help(&self) -> &'static str {
        "Asks through the page's tables of faults, one question a screen, the safe state first."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }

    fn holds_prose(&self) -> bool {
        true
    }

    fn finds_rows(&self) -> bool {
        true
    }
}

impl BlockKind for WalkBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["walk"]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let settings = fence.settings(context, |settings| {
            Some([settings.text("proof"), settings.text("lost")])
        });
        let mut block = settings.then(|said| walk(&said, context).map(Some));
        block.findings.extend(nothing_to_walk(fence, context));
        fence.standing(self.name(), context, block)
    }
}

/// What `blocks/walk.html` is given as `walk`.
#[derive(Serialize)]
struct Walk {
    proof: Option<Line>,
    lost: Option<Line>,
}

fn walk([proof, lost]: &[Option<Placed<String>>; 2], context: &Context) -> Composed<Block> {
    let mut all = Composed::of(());
    let mut lines = Vec::new();
    let mut line = |text: &Option<Placed<String>>| {
        let nodes: Vec<Node> = all.take(inline::line(text.as_ref()?, context));
        Some(Line::of(&mut lines, nodes))
    };
    let view = Walk {
        proof: line(proof),
        lost: line(lost),
    };
    all.with(Block {
        prose: true,
        ..Block::new("blocks/walk.html", "walk", &view).lines(lines)
    })
}

/// A walk goes through steps that make it safe, then through tables.
fn nothing_to_walk(fence: &Fence, context: &Context) -> Option<Finding> {
    let (lacks, help) = if context.page.outline.steps == 0 {
        (
            "steps that make it safe",
            "write them under the first heading: what is let go, shut and locked before anyone looks",
        )
    } else if !context.page.tree.nodes.iter().any(is_table) {
        (
            "a table of faults",
            "write one under a heading: what is seen, the likely cause, the remedy",
        )
    } else {
        return None;
    };
    let message = format!("this page has a walk, and not {lacks}");
    Some(
        context
            .error(Code::EmptyWalk, fence.kind.clone(), message)
            .help(help),
    )
}

fn is_table(node: &MarkdownNode) -> bool {
    matches!(node.tag(), Some(Tag::Table(_)))
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    const WALK: &str = "```walk\nproof = \"The *check* again.\"\nlost = \"Call the lead.\"\n```\n";
    const SAFE: &str = "## Safe\n\n1. Let go.\n";
    const TABLE: &str = "\n## Air\n\n| See | Do |\n|---|---|\n| It hisses | Change it |\n";

    #[test]
    fn a_walk_says_what_to_prove_and_what_to_do_when_lost() {
        let (html, findings) = printed(&format!("{WALK}\n{SAFE}{TABLE}"));
        assert_eq!(findings, []);
        for part in [
            "The <em>check</em> again.",
            "Call the lead.",
            "<tr id=\"it-hisses\">",
        ] {
            assert!(html.contains(part), "{part} in {html}");
        }
    }

    #[test]
    fn a_walk_without_its_steps_its_table_or_its_words_is_told() {
        let codes = |text: &str| {
            let (_, findings) = printed(text);
            findings
                .iter()
                .map(|one| one.code.name())
                .collect::<Vec<_>>()
        };
        assert_eq!(codes(&format!("{WALK}\n{TABLE}")), ["empty-walk"]);
        assert_eq!(codes(&format!("{WALK}\n{SAFE}")), ["empty-walk"]);
        let silent = "```walk\nproof = \"x\"\n```\n";
        assert_eq!(
            codes(&format!("{silent}\n{SAFE}{TABLE}")),
            ["missing-setting"]
        );
    }
}
