//! A block quote that opens with a bold signal word is a hazard statement.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use pulldown_cmark::{Event, Tag};

use crate::markdown::signal::WORDS;
use crate::markdown::tree::{self, What};
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::{HazardStatement, Node, words};

/// A quote of what was composed, or the hazard statement that it is.
pub fn quote(
    tag: &Tag<'static>,
    node: &tree::MarkdownNode,
    mut composed: Composed<Vec<Node>>,
    context: &Context,
) -> Composed<Vec<Node>> {
    let mut inside = std::mem::take(&mut composed.value);
    let word = match (opens_bold(node), opening(&mut inside)) {
        (Some(range), Some(opening)) => {
            let said = signal(opening, range, context);
            said.unwrap_or_else(|finding| {
                composed.findings.extend(finding);
                None
            })
        }
        _ => None,
    };
    let Some(word) = word else {
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

/// Where the bold words stand that a quote opens with.
fn opens_bold(quote: &tree::MarkdownNode) -> Option<Range<usize>> {
    let paragraph = quote.inside().first()?;
    let first = paragraph.inside().first()?;
    let opens = matches!(paragraph.what, What::Tag(Tag::Paragraph, _))
        && matches!(first.what, What::Tag(Tag::Strong, _));
    opens.then(|| first.range.clone())
}

/// The words of the first paragraph, if they are still there, with the bold ones first.
fn opening(inside: &mut [Node]) -> Option<&mut Vec<Node>> {
    match inside.first_mut()? {
        Node::Tag(Tag::Paragraph, words) => Some(words),
        _ => None,
    }
}

/// The signal word that a text opens with; a word that is nearly one is a finding.
fn signal(
    opening: &[Node],
    range: Range<usize>,
    context: &Context,
) -> Result<Option<&'static str>, Option<Finding>> {
    let said = words(opening.get(..1).unwrap_or_default());
    let bare = said.trim_matches(|c: char| !c.is_alphanumeric());
    if let Some(word) = WORDS.iter().find(|word| **word == bare) {
        return Ok(Some(word));
    }
    let shouted = bare.len() > 2 && bare.chars().all(char::is_uppercase);
    let near = nearest(&bare.to_uppercase(), WORDS);
    if bare.contains(char::is_whitespace) || !(shouted || near.is_some()) {
        return Ok(None);
    }
    let message = format!("`{bare}` is no signal word");
    let finding = context.error(Code::UnknownSignalWord, range, message);
    Err(Some(match near {
        Some(near) => finding.help(format!("write **{near}**")),
        None => finding.help(format!("the signal words are {}", WORDS.join(", "))),
    }))
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
    fn a_hazard_that_says_nothing_is_a_finding() {
        let (_, findings) = printed("> **DANGER**\n");
        assert_eq!(findings[0].code.name(), "empty-hazard");
    }
}
