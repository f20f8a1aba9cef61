//! A setting's text as Markdown of one line, that still knows where it stands.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::{Event, Tag, TagEnd, TextMergeWithOffset};

use crate::markdown::event::{Piece, to_html, words};
use crate::markdown::parse::parser;
use crate::page::desk::Desk;
use crate::page::{images, links, raw_html, value_links};
use crate::settings::Placed;

/// A line as the page shows it.
#[derive(Debug, Default, Clone)]
pub struct Line {
    pub html: String,
    /// The same without marks.
    pub words: String,
}

/// The line's pieces, for the stages that follow; more than a line is a finding.
pub fn pieces(text: &Placed<String>, desk: &mut Desk) -> Vec<Piece<'static>> {
    let parsed: Vec<Piece<'static>> =
        TextMergeWithOffset::new(parser(&text.value).into_offset_iter())
            .map(|(event, range)| (event.into_static(), place(text, range, desk.text)))
            .collect();
    let mut parsed = raw_html::refuse(parsed, desk);
    let ends = parsed
        .iter()
        .filter(|(event, _)| matches!(event, Event::End(TagEnd::Paragraph)));
    let one_line = matches!(
        parsed.as_slice(),
        [
            (Event::Start(Tag::Paragraph), _),
            ..,
            (Event::End(TagEnd::Paragraph), _)
        ]
    );
    if one_line && ends.count() == 1 {
        parsed.pop();
        parsed.remove(0);
        return parsed;
    }
    if !parsed.is_empty() {
        desk.findings.push(
            Finding::error(
                Code::MoreThanALine,
                desk.file,
                text.span.clone(),
                "this text is more than a line",
            )
            .help("write one sentence or two, without a list, a heading or an empty line"),
        );
    }
    Vec::new()
}

/// The line with its values and links filled in.
pub fn line(text: &Placed<String>, desk: &mut Desk) -> Line {
    let pieces = pieces(text, desk);
    let pieces = value_links::value_links(pieces, desk);
    let pieces = images::images(pieces, desk);
    let pieces = links::links(pieces, desk);
    Line {
        words: words(pieces.iter().map(|(event, _)| event)),
        html: to_html(pieces),
    }
}

/// Where a part of a setting's text stands in its file. A text with escapes is not in the file
/// letter by letter: then it is the whole of it.
fn place(text: &Placed<String>, range: Range<usize>, file: &str) -> Range<usize> {
    let written = file.get(text.span.clone()).unwrap_or("");
    let inner = written.get(1..written.len().saturating_sub(1));
    if inner != Some(text.value.as_str()) {
        return text.span.clone();
    }
    let start = text.span.start + 1;
    start + range.start..start + range.end
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::testing::on_desk;
    use crate::values::graph::Graph;

    /// The line, and each finding's code and offending text.
    fn lined(written: &str, value: &str) -> (Line, Vec<(&'static str, String)>) {
        let text = Placed {
            value: value.to_string(),
            span: 5..5 + written.len(),
        };
        let file = format!("do = {written}\n");
        on_desk(&file, &[], &Graph::built_in(), |_, desk| {
            let line = line(&text, desk);
            let at = |finding: &Finding| file.get(finding.span.clone()).unwrap_or("").to_string();
            let found = desk
                .findings
                .iter()
                .map(|one| (one.code.name(), at(one)))
                .collect();
            (line, found)
        })
    }

    #[test]
    fn values_and_links_are_filled_in_and_a_fault_is_found_where_it_stands() {
        let link = "value:guide-tube-length.length?channel_depth=9in&stock_length=12in";
        let text = format!("[]({link}) or *more*");
        let (line, findings) = lined(&format!("\"{text}\""), &text);
        assert_eq!(findings, []);
        assert_eq!(line.words.replace('\u{A0}', " "), "21 in or more");
        assert!(
            line.html.ends_with("</a> or <em>more</em>"),
            "{}",
            line.html
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
