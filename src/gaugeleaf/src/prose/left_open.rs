//! What was opened and never closed: a block that swallows the rest of its page, a link
//! or a bold text whose marks are printed as they stand.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;
use crate::prose::parts::{Part, PartKind};

/// Finds blocks, links and bold texts without their end.
pub fn left_open(page_text: &PageText, findings: &mut Vec<Finding>) {
    for part in &page_text.parts {
        match &part.kind {
            PartKind::Block(words) => findings.extend(block(page_text, part, words)),
            _ => findings.extend(marks(page_text, part)),
        }
    }
}

fn block(page_text: &PageText, part: &Part, words: &str) -> Option<Finding> {
    let text = page_text.text.get(part.range.clone())?;
    let mark = text.chars().next().filter(|mark| "`~".contains(*mark))?;
    let length = text.chars().take_while(|next| *next == mark).count();
    // a listing made by indenting has no words of its own, whatever its first line says
    if text[length..].lines().next().unwrap_or("").trim() != words {
        return None;
    }
    let last = text.lines().skip(1).last().unwrap_or("");
    let last = last.trim_matches(|c: char| c == '>' || c.is_whitespace());
    if last.chars().count() >= length && last.chars().all(|next| next == mark) {
        return None;
    }
    let fence = &text[..length];
    let at = part.range.start..part.range.start + length;
    let message = "this block is never closed, so it takes in all that follows";
    Some(
        Finding::error(Code::OpenBlock, page_text.file, at, message).help(format!(
            "write a line of {fence} alone where the block ends"
        )),
    )
}

fn marks(page_text: &PageText, part: &Part) -> Option<Finding> {
    let passage = &part.passage;
    let is_typed = |at: usize| {
        let start = passage.locate(at..at + 1).start;
        !page_text.text[..start].ends_with('\\')
    };
    let first = |mark: &str| {
        let found = passage.text.match_indices(mark).map(|(at, _)| at);
        found.into_iter().find(|at| is_typed(*at))
    };
    // most texts have neither
    let bytes = passage.text.as_bytes();
    if !bytes.contains(&b'*') && !bytes.contains(&b']') {
        return None;
    }
    if let Some(at) = first("](") {
        let message = "this link is never closed, so it is printed as it stands";
        let finding = page_text.error(Code::OpenMark, passage, at..at + 2, message);
        return Some(finding.help("write [text](target), with a target that holds no space"));
    }
    let at = first("**")?;
    let message = "these marks make no bold text, so they are printed as they stand";
    let finding = page_text.error(Code::OpenMark, passage, at..at + 2, message);
    Some(finding.help("write **text**, with no space inside the marks, or `**` to show them"))
}

#[cfg(test)]
mod tests {
    use crate::prose::left_open::left_open;
    use crate::prose::testing::found;

    #[test]
    fn a_link_or_bold_text_without_its_end_is_found_where_it_stops() {
        let text = "Set [the pitch](value:pitch and go.\n\n1. Shut **the valve.\n";
        assert_eq!(
            found(left_open, text),
            [("open-mark", "]("), ("open-mark", "**")]
        );
        let good = "Set [the pitch](set.md) and **go**: `**` \\*\\* a \\[b\\]\\(c).\n";
        assert_eq!(found(left_open, good), []);
    }

    #[test]
    fn a_block_without_its_end_is_found_and_one_with_a_longer_end_is_not() {
        assert_eq!(
            found(left_open, "````chart rail-level\n```\n\nAfter.\n"),
            [("open-block", "````")]
        );
        assert_eq!(found(left_open, "```\n"), [("open-block", "```")]);
        let good = "- item\n\n  ```page\n  ````\n\n> ~~~\n> a\n> ~~~\n\n    ``` indented\n";
        assert_eq!(found(left_open, good), []);
    }
}
