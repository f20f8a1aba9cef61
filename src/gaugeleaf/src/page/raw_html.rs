//! Raw HTML is refused: nothing needs it, and a page must not be able to run a script.

use gaugeleaf_calc::finding::Code;

use crate::markdown::parse::trimmed;
use crate::markdown::tree;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::Node;

/// Nothing, and a finding.
pub fn refused(node: &tree::MarkdownNode, context: &Context) -> Composed<Vec<Node>> {
    let span = trimmed(context.text, node.range.clone());
    let shown = context.text.get(span.clone()).unwrap_or("");
    let first = shown.lines().next().unwrap_or("");
    let message = format!("raw HTML is refused: {first}");
    Composed::fault(
        context
            .error(Code::RawHtml, span, message)
            .help("write it in Markdown, or put the text between ` marks to show it as it is"),
    )
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    #[test]
    fn html_in_a_line_and_in_a_block_are_each_one_finding_in_their_place() {
        let (html, findings) = printed("a <b>c\n\n<script>\nx\n</script>\n");
        assert_eq!(html, "<p>a c</p>\n");
        let spans: Vec<_> = findings
            .iter()
            .map(|finding| finding.span.clone())
            .collect();
        assert_eq!(spans, [2..5, 8..28]);
    }
}
