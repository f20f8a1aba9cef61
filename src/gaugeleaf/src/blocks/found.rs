//! `found`: what people say for the heading above it; a search for it leads there.

use gaugeleaf_calc::finding::settings::{SettingField, SettingType};

use crate::handbook::kind::BlockShape;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::Block;

const FIELDS: &[SettingField] = &[SettingField::new(
    "also",
    SettingType::Texts,
    "What people say for what stands under the heading above.",
)
.needed("a heading is found by words")];

/// `found`: prints nothing.
pub struct FoundBlock;

impl BlockShape for FoundBlock {
    fn name(&self) -> &'static str {
        "found"
    }

    fn help(&self) -> &'static str {
        "What people say for the heading above it, or for the page before the first heading: a search leads there."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }
}

impl BlockKind for FoundBlock {
    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let mut all = fence.unnamed(self.name(), context);
        let also = all.take(fence.settings(context, |settings| settings.sayings("also")));
        all.with(Some(Block {
            also,
            ..Block::default()
        }))
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::{Sample, findings};

    const PAGE: &str = "# T\n\n```found\nalso = [\"first aid\"]\n```\n\nText.\n\n## Set it\n\n1. Turn it.\n\n```found\nalso = [\"Whip  check\", \"hold back\"]\n```\n\n## Leave it\n\nGo.\n";

    #[test]
    fn its_words_belong_to_the_heading_above_and_nothing_is_printed() {
        let sample = Sample::new(PAGE);
        let (html, findings) = sample.printed();
        assert_eq!(findings, []);
        assert!(
            !html.contains("first aid") && !html.contains("found"),
            "{html}"
        );
        let sections = sample.composed().value.sections;
        let also = |title: &str| -> Vec<String> {
            let own = sections.iter().filter(|one| one.title == title);
            own.flat_map(|one| one.also.clone()).collect()
        };
        assert_eq!(also("T"), ["first aid"]);
        assert_eq!(also("Set it"), ["whip check", "hold back"]);
        assert!(also("Leave it").is_empty());
    }

    #[test]
    fn words_that_say_nothing_or_stand_there_twice_and_a_block_without_any_are_findings() {
        let codes = |body: &str| -> Vec<&str> {
            let found = findings(&format!("# T\n\n```found\n{body}```\n"));
            found.into_iter().map(|one| one.code.name()).collect()
        };
        assert_eq!(
            codes("also = [\"a b\", \"…\", \"A B\"]\n"),
            ["bad-phrase", "bad-phrase"]
        );
        assert_eq!(codes("also = []\n"), ["missing-setting"]);
        assert_eq!(codes(""), ["missing-setting"]);
        assert_eq!(
            findings("# T\n\n```found this\nalso = [\"a\"]\n```\n")[0]
                .code
                .name(),
            "named-block"
        );
    }
}
