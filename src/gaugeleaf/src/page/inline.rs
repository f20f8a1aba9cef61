//! A setting's text as Markdown of one line, that still knows where it stands.

use std::ops::Range;

use gaugeleaf_calc::finding::Code;
use gaugeleaf_calc::finding::settings::Placed;
use pulldown_cmark::Tag;

use crate::markdown::place::way_back;
use crate::markdown::tree::{self, What};
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::Node;
use crate::page::text::text;

/// The line as the page shows it; more than a line is a finding.
pub fn line(said: &Placed<String>, context: &Context) -> Composed<Vec<Node>> {
    let nodes = parsed(said, context.text);
    let raw = |node: &tree::MarkdownNode| matches!(node.tag(), Some(Tag::HtmlBlock));
    match nodes.as_slice() {
        [] => Composed::default(),
        [one] if matches!(one.tag(), Some(Tag::Paragraph)) => text(one.inside(), context),
        nodes if nodes.iter().all(raw) => text(nodes, context),
        _ => Composed::fault(
            context
                .error(
                    Code::MoreThanALine,
                    said.span.clone(),
                    "this text is more than a line",
                )
                .help("write one sentence or two, without a list, a heading or an empty line"),
        ),
    }
}

/// A text among a file's settings, parsed, with its ranges in the file.
pub fn parsed(said: &Placed<String>, file: &str) -> Vec<tree::MarkdownNode> {
    let mut nodes = tree::of_line(&said.value).nodes;
    placed(&mut nodes, &way_back(said, file));
    nodes
}

fn placed(nodes: &mut [tree::MarkdownNode], place: &impl Fn(Range<usize>) -> Range<usize>) {
    for node in nodes {
        node.range = place(node.range.clone());
        if let What::Tag(_, inside) = &mut node.what {
            placed(inside, place);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::node::{Node, words};
    use crate::page::testing::Sample;

    /// The line, and each finding's code and offending text.
    fn lined(written: &str, value: &str) -> (Vec<Node>, Vec<(&'static str, String)>) {
        let text = Placed {
            value: value.to_string(),
            span: 5..5 + written.len(),
        };
        let file = format!("do = {written}\n");
        let line = Sample::new(&file).context(|context| line(&text, context));
        let at = |span: Range<usize>| file.get(span).unwrap_or("").to_string();
        let found = line.findings.into_iter();
        let found = found.map(|one| (one.code.name(), at(one.span))).collect();
        (line.value, found)
    }

    #[test]
    fn values_and_links_are_filled_in_and_a_fault_is_found_where_it_stands() {
        let link = "value:guide-tube-length.length?channel_depth=9in&stock_length=12in";
        let text = format!("[]({link}) or *more*");
        let (line, findings) = lined(&format!("\"{text}\""), &text);
        assert_eq!(findings, []);
        assert_eq!(words(&line).replace('\u{A0}', " "), "21 in or more");
        assert!(
            matches!(line.last(), Some(Node::Tag(Tag::Emphasis, _))),
            "{line:?}"
        );
        let (_, findings) = lined("\"see [](value:none_such)\"", "see [](value:none_such)");
        assert_eq!(findings, [("unknown-value", "none_such".to_string())]);
        let (_, findings) = lined("\"\\u0041 <b>\"", "A <b>");
        assert_eq!(findings, [("raw-html", "\"\\u0041 <b>\"".to_string())]);
    }

    #[test]
    fn more_than_a_line_is_a_finding() {
        for text in ["# Head", "- a", "a\n\nb", "1. a"] {
            let (_, findings) = lined(&format!("\"{text}\""), text);
            assert_eq!(findings[0].0, "more-than-a-line", "{text}");
        }
    }
}
