//! The words that open a hazard statement.

use std::ops::Range;

use pulldown_cmark::Tag;

use crate::markdown::tree::{self, MarkdownNode, What};

/// The signal words, gravest first.
pub const WORDS: [&str; 4] = ["DANGER", "WARNING", "CAUTION", "NOTICE"];

/// The signal word that some words are.
pub fn word(said: &str) -> Option<&'static str> {
    let bare = said.trim_matches(|c: char| !c.is_alphanumeric());
    WORDS.into_iter().find(|word| *word == bare)
}

/// The bold words that a quote opens with.
pub fn opening(quote: &MarkdownNode) -> Option<&MarkdownNode> {
    let paragraph = quote.inside().first()?;
    let first = paragraph.inside().first()?;
    let opens =
        matches!(paragraph.tag(), Some(Tag::Paragraph)) && matches!(first.tag(), Some(Tag::Strong));
    opens.then_some(first)
}

/// The signal word of a quote that is a hazard statement.
pub fn of_quote(quote: &MarkdownNode) -> Option<&'static str> {
    word(&tree::words(opening(quote)?.inside()))
}

/// A signal word that a quote seems to open with, and doesn't: nobody would see a hazard there.
pub fn hidden(quote: &MarkdownNode) -> Option<(&'static str, Range<usize>)> {
    let mut before = String::new();
    let mut found = None;
    tree::each(quote.inside(), &mut |node| match &node.what {
        What::Text(text) => before.push_str(text),
        What::Tag(tag, inside)
            if **tag == Tag::Strong && !before.contains(char::is_alphanumeric) =>
        {
            found = found
                .take()
                .or(word(&tree::words(inside)).map(|word| (word, node.range.clone())));
        }
        _ => {}
    });
    found.filter(|_| of_quote(quote).is_none())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::markdown::tree::of_page;

    #[test]
    fn a_quote_is_a_hazard_where_it_opens_with_a_bold_signal_word_and_nowhere_else() {
        let read = |text: &str| {
            let tree = of_page(text);
            (
                of_quote(&tree.nodes[0]),
                hidden(&tree.nodes[0]).map(|(word, _)| word),
            )
        };
        for text in [
            "> **DANGER** Hot.\n",
            "> **DANGER:** Hot.\n",
            "> **[DANGER](x)** Hot.\n",
        ] {
            assert_eq!(read(text), (Some("DANGER"), None), "{text}");
        }
        for text in [
            "> [**DANGER**](x): Hot.\n",
            "> ***DANGER*** Hot.\n",
            "> (**DANGER**) Hot.\n",
            "> `x` **DANGER** Hot.\n",
            "> ---\n>\n> **DANGER** Hot.\n",
        ] {
            assert_eq!(read(text), (None, Some("DANGER")), "{text}");
        }
        assert_eq!(read("> The word **DANGER** is kept.\n"), (None, None));
        assert_eq!(read("> **Bold** DANGER\n"), (None, None));
    }
}
