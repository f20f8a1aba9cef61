//! A block quote that opens with a bold signal word is a hazard statement.

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use pulldown_cmark::{Event, Tag};

use crate::markdown::signal::{self, WORDS};
use crate::markdown::tree::{self, MarkdownNode};
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::{HazardStatement, Node, words};

/// A quote of what was composed, or the hazard statement that it is.
pub fn quote(
    tag: &Tag<'static>,
    node: &MarkdownNode,
    mut composed: Composed<Vec<Node>>,
    context: &Context,
) -> Composed<Vec<Node>> {
    let mut inside = std::mem::take(&mut composed.value);
    let Some(word) = signal::of_quote(node) else {
        composed.findings.extend(nearly(node, context));
        return composed.with(vec![Node::Tag(tag.clone(), inside)]);
    };
    let lead = cut(&mut inside);
    if words(&inside).trim().is_empty() {
        let message = format!("this {word} says nothing");
        composed.findings.push(
            context
                .error(Code::EmptyHazard, node.range.clone(), message)
                .help("say what can happen, to whom, and how to avoid it"),
        );
    }
    composed.with(vec![Node::Hazard(HazardStatement {
        id: String::new(),
        word,
        lead,
        inside,
    })])
}

/// A quote that is nearly a hazard statement: its word is misspelt, or doesn't open it.
fn nearly(quote: &MarkdownNode, context: &Context) -> Option<Finding> {
    if let Some((word, range)) = signal::hidden(quote) {
        let message = format!("this quote doesn't open with `{word}`, and so is no hazard");
        let finding = context.error(Code::UnknownSignalWord, range, message);
        return Some(finding.help(format!("begin the quote with **{word}**")));
    }
    let strong = signal::opening(quote)?;
    let said = tree::words(strong.inside());
    let bare = said.trim_matches(|c: char| !c.is_alphanumeric());
    let first = bare.split(|c: char| !c.is_alphanumeric()).next();
    if let Some(word) = first.and_then(signal::word) {
        let message = format!("`{word}` doesn't stand alone in bold, and so this is no hazard");
        let finding = context.error(Code::UnknownSignalWord, strong.range.clone(), message);
        return Some(finding.help(format!("write **{word}** and then the statement")));
    }
    let shouted = bare.len() > 2 && bare.chars().all(char::is_uppercase);
    let near = nearest(&bare.to_uppercase(), WORDS);
    if bare.contains(char::is_whitespace) || !(shouted || near.is_some()) {
        return None;
    }
    let message = format!("`{bare}` is no signal word");
    let finding = context.error(Code::UnknownSignalWord, strong.range.clone(), message);
    Some(match near {
        Some(near) => finding.help(format!("write **{near}**")),
        None => finding.help(format!("the signal words are {}", WORDS.join(", "))),
    })
}

/// What may part the word from the statement: "**DANGER**: …", "**DANGER** – …".
const PARTS: [char; 7] = [' ', ':', '.', '-', '–', '—', '\u{A0}'];

/// Takes the signal word and what parts it from the statement out of a hazard; gives the latter.
fn cut(inside: &mut Vec<Node>) -> String {
    let mut lead = String::new();
    while let Some(Node::Tag(Tag::Paragraph, words)) = inside.first_mut() {
        if lead.is_empty() && matches!(words.first(), Some(Node::Tag(Tag::Strong, _))) {
            words.remove(0);
        }
        while let Some(first) = words.first_mut() {
            match first {
                Node::Text(text) => {
                    let rest = text.trim_start_matches(PARTS).to_string();
                    lead.push_str(&text[..text.len() - rest.len()]);
                    *text = rest;
                    if !text.is_empty() {
                        return lead;
                    }
                }
                Node::Leaf(Event::SoftBreak | Event::HardBreak) => lead.push(' '),
                _ => return lead,
            }
            words.remove(0);
        }
        // the word may stand in a paragraph of its own
        lead.push(' ');
        inside.remove(0);
    }
    lead
}

/// Each hazard statement of a page, in order: its address, and what it says.
pub fn told(nodes: &[Node]) -> Vec<(String, String)> {
    let mut told = Vec::new();
    add(nodes, &mut told);
    told
}

fn add(nodes: &[Node], told: &mut Vec<(String, String)>) {
    for node in nodes {
        if let Node::Hazard(hazard) = node {
            let said = format!("{} {}", hazard.word, words(&hazard.inside).trim());
            told.push((hazard.id.clone(), said));
        }
        node.parts().for_each(|part| add(part, told));
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    #[test]
    fn a_bold_signal_word_makes_a_hazard_statement_without_the_word_in_its_text() {
        let (html, findings) = printed("> **WARNING**: Water cuts. Stand back.\n");
        assert_eq!(findings, []);
        assert!(
            html.contains("id=\"warning\"") && html.contains("<p>Water cuts. Stand back.</p>"),
            "{html}"
        );
    }

    #[test]
    fn a_misspelt_signal_word_is_a_finding_and_a_plain_quote_is_none() {
        let (_, findings) = printed("> **WARNIGN**: x\n\n> **Warning** x\n\n> **Bold** words\n");
        let seen: Vec<_> = findings
            .iter()
            .map(|f| (f.code.name(), f.span.clone(), f.help.as_deref()))
            .collect();
        assert_eq!(
            seen,
            [
                ("unknown-signal-word", 2..13, Some("write **WARNING**")),
                ("unknown-signal-word", 20..31, Some("write **WARNING**"))
            ]
        );
    }

    #[test]
    fn a_signal_word_that_is_hidden_or_not_alone_is_a_finding() {
        for text in [
            "> [**DANGER**](../index.md): Hot.\n",
            "> **DANGER: Hot water.** Wait.\n",
            "> **DANGER hot water** Wait.\n",
        ] {
            let (html, findings) = printed(text);
            assert_eq!(findings.len(), 1, "{text}");
            assert_eq!(findings[0].code.name(), "unknown-signal-word", "{text}");
            assert!(!html.contains("class=\"hazard"), "{html}");
        }
    }

    #[test]
    fn a_hazard_that_says_nothing_is_a_finding() {
        let (_, findings) = printed("> **DANGER**\n");
        assert_eq!(findings[0].code.name(), "empty-hazard");
    }
}
