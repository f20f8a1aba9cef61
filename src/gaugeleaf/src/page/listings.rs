//! Listings, coloured by class; and fenced blocks that nothing knows.
//!
//! The grammars are loaded when a page first asks for one.

use std::sync::LazyLock;

use gaugeleaf_calc::finding::{Code, nearest};
use syntect::html::{ClassStyle, ClassedHTMLGenerator};
use syntect::parsing::SyntaxSet;
use syntect::util::LinesWithEndings;

use crate::markdown::escape::escape;
use crate::markdown::place::fence_kind;
use crate::markdown::tree;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::names;
use crate::page::node::Node;

static GRAMMARS: LazyLock<SyntaxSet> = LazyLock::new(SyntaxSet::load_defaults_newlines);

/// Classes of coloured words start with this, so that a theme can find them.
const STYLE: ClassStyle = ClassStyle::SpacedPrefixed { prefix: "lst-" };

/// Listings that are shown as they are: no grammar for them is at hand.
const PLAIN: [&str; 4] = ["", "text", "console", "toml"];

/// Longer listings are shown as they are: a grammar may take its time.
const LONGEST: usize = 100_000;

/// A code block of no kind that we know.
pub fn listing(node: &tree::MarkdownNode, context: &Context) -> Composed<Vec<Node>> {
    let body = node.body();
    let text = body.text();
    let info = node.fence().unwrap_or("");
    let language = info.split_whitespace().next().unwrap_or("");
    let shown = |html: String| {
        vec![Node::Listing {
            text: text.to_string(),
            html,
        }]
    };
    if PLAIN.contains(&language) || text.len() > LONGEST {
        return Composed::of(shown(escape(text)));
    }
    if let Some(html) = coloured(language, text) {
        return Composed::of(shown(html));
    }
    let span = fence_kind(context.text, node.range.clone());
    let message = format!("there is no block or listing named `{language}`");
    let finding = context.error(Code::UnknownBlock, span, message);
    let names = names(context.kinds);
    Composed::<()>::fault(match near_block(info, &names) {
        Some(near) => finding.help(format!("write {near}")),
        None => finding.help(format!(
            "the blocks are {}; write text for a plain listing",
            names.join(", ")
        )),
    })
    .with(shown(escape(text)))
}

/// The block that a fence's words are nearest to: `calculater x`, `setup sheet`.
fn near_block<'n>(info: &str, names: &[&'n str]) -> Option<&'n str> {
    let mut words = info.split_whitespace().map(str::to_lowercase);
    let first = words.next()?;
    let both = words.next().map(|second| format!("{first}-{second}"));
    let near = |said: &str| nearest(said, names.iter().copied());
    near(&first).or_else(|| both.as_deref().and_then(near))
}

fn coloured(language: &str, body: &str) -> Option<String> {
    let grammar = GRAMMARS.find_syntax_by_token(language)?;
    let mut generator = ClassedHTMLGenerator::new_with_class_style(grammar, &GRAMMARS, STYLE);
    for line in LinesWithEndings::from(body) {
        if generator
            .parse_html_for_line_which_includes_newline(line)
            .is_err()
        {
            return Some(escape(body));
        }
    }
    Some(generator.finalize())
}

#[cfg(test)]
mod tests {
    use crate::page::listings::near_block;
    use crate::page::testing::printed;

    #[test]
    fn a_listing_is_coloured_by_class_and_never_by_style() {
        let (html, findings) = printed("```json\n{\"a\": 1}\n```\n");
        assert_eq!(findings, []);
        assert!(
            html.contains("class=\"lst-") && !html.contains("style="),
            "{html}"
        );
    }

    #[test]
    fn a_misspelt_block_offers_the_nearest_at_its_word() {
        let (_, findings) = printed("text\n\n```calculater x\n```\n");
        assert_eq!(findings[0].span, 9..19);
        assert_eq!(findings[0].help.as_deref(), Some("write calculator"));
    }

    #[test]
    fn near_names_are_offered_in_one_word_or_two_and_far_ones_are_not() {
        let names = ["figure", "checks", "setup-sheet", "job-form"];
        let near = |info| near_block(info, &names);
        assert_eq!(near("figur pitch-span"), Some("figure"));
        assert_eq!(near("Check"), Some("checks"));
        assert_eq!(near("setup sheet"), Some("setup-sheet"));
        assert_eq!(near("job form"), Some("job-form"));
        assert_eq!(near("pseudocode"), None);
    }
}
