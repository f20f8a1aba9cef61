//! Footnotes stand together at the foot of the page, wherever they were written.

use std::collections::BTreeMap;
use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::{Event, Tag, TagEnd};

use crate::markdown::event::{Piece, html, take_until};
use crate::page::desk::Desk;

/// Numbers the references in the order they are met and gathers the notes.
pub fn footnotes<'a>(pieces: Vec<Piece<'a>>, desk: &mut Desk) -> Vec<Piece<'a>> {
    let mut numbers: Vec<String> = Vec::new();
    let mut number_of: BTreeMap<String, usize> = BTreeMap::new();
    let mut notes: BTreeMap<String, (Range<usize>, Vec<Piece<'a>>)> = BTreeMap::new();
    let mut out = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.into_iter();
    while let Some((event, range)) = pieces.next() {
        match event {
            Event::FootnoteReference(label) => {
                let known = number_of.get(&*label).copied();
                let number = known.unwrap_or(numbers.len() + 1);
                // the way back leads to the first place that names the note
                let id = if known.is_none() {
                    format!(" id=\"note-{number}-from\"")
                } else {
                    String::new()
                };
                if known.is_none() {
                    number_of.insert(label.to_string(), number);
                    numbers.push(label.to_string());
                }
                let link = format!("<sup{id}><a href=\"#note-{number}\">{number}</a></sup>");
                out.push((Event::InlineHtml(link.into()), range));
            }
            Event::Start(Tag::FootnoteDefinition(label)) => {
                let inner = take_until(&mut pieces, &TagEnd::FootnoteDefinition);
                if notes
                    .insert(label.to_string(), (range.clone(), inner))
                    .is_some()
                {
                    desk.findings.push(
                        Finding::error(
                            Code::SameFootnote,
                            desk.file,
                            range,
                            format!("there are two footnotes [^{label}]"),
                        )
                        .help("give each footnote a name of its own"),
                    );
                }
            }
            event => out.push((event, range)),
        }
    }
    let mut kept = Vec::new();
    for (number, label) in (1..).zip(&numbers) {
        let (range, note) = notes.remove(label).unwrap_or_default();
        kept.push(html(format!("<li id=\"note-{number}\">"), range.clone()));
        kept.extend(note);
        kept.push(html(
            format!("<a href=\"#note-{number}-from\">Back to the text</a></li>\n"),
            range,
        ));
    }
    for (label, (range, _)) in notes {
        let message = format!("nothing refers to the footnote [^{label}]");
        desk.findings.push(
            Finding::warning(Code::UnusedFootnote, desk.file, range, message)
                .help(format!("write [^{label}] where it belongs, or delete it")),
        );
    }
    if kept.is_empty() {
        return out;
    }
    let end = desk.text.len()..desk.text.len();
    out.push(html("<section class=\"footnotes\"><ol>\n", end.clone()));
    out.extend(kept);
    out.push(html("</ol></section>\n", end));
    out
}

#[cfg(test)]
mod tests {
    use crate::page::footnotes::footnotes;
    use crate::page::testing::with_desk;

    #[test]
    fn notes_are_numbered_as_met_and_stand_at_the_foot() {
        let (html, findings) = with_desk(
            "[^b]: Second.\n\na[^a] b[^b] a[^a]\n\n[^a]: First.\n",
            footnotes,
        );
        assert_eq!(findings, []);
        assert!(
            html.starts_with("<p>a<sup id=\"note-1-from\"><a href=\"#note-1\">1</a></sup>"),
            "{html}"
        );
        assert!(html.contains("<li id=\"note-1\">\n<p>First.</p>"), "{html}");
        assert_eq!(html.matches("note-1-from\">").count(), 2, "{html}");
    }
}
