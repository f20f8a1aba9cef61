//! A line that looks like a heading or a hazard statement and is read as plain text: the rules
//! and the reader miss it alike.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::markdown::signal::WORDS;
use crate::prose::page_text::{PageText, ReadPart};
use crate::prose::parts::PartKind;

/// Finds such lines.
pub fn not_read(page_text: &PageText, findings: &mut Vec<Finding>) {
    for part in &page_text.parts {
        let quote = part.kind == PartKind::Quote;
        let plain = matches!(
            part.kind,
            PartKind::Paragraph | PartKind::Step | PartKind::Item { .. } | PartKind::Heading(_)
        );
        if !quote && (!plain || part.in_note) {
            continue;
        }
        for (nth, line) in lines(page_text.text, part).into_iter().enumerate() {
            let text = &page_text.text[line.clone()];
            if part.kind == PartKind::Paragraph && looks_like_a_heading(text) {
                findings.push(heading(page_text, line, text));
            } else if let Some(word) = hazard_word(text, nth == 0, quote) {
                findings.push(hazard(page_text, line, word));
            }
        }
    }
}

/// Where the lines of a part stand, without what makes them a quote, a list or a heading.
fn lines(text: &str, part: &ReadPart) -> Vec<Range<usize>> {
    let mut from = part.range.start;
    let written = text.get(part.range.clone()).unwrap_or_default();
    let lines = written.split_inclusive('\n').map(|line| {
        let start = from;
        from += line.len();
        let mark =
            |c: char| c.is_whitespace() || matches!(c, '>' | '-' | '+') || c.is_ascii_digit();
        let mut bare = line.trim_start_matches([' ', '\t', '>']);
        match part.kind {
            PartKind::Step | PartKind::Item { .. } if start == part.range.start => {
                let number = bare.trim_start_matches(mark);
                bare = number.trim_start_matches(['.', ')', ' ']);
                bare = bare.strip_prefix("* ").unwrap_or(bare);
            }
            PartKind::Heading(_) => bare = bare.trim_start_matches(['#', ' ']),
            _ => {}
        }
        let at = start + (line.len() - bare.len());
        at..at + bare.trim_end().len()
    });
    lines.collect()
}

/// `##Fill`, and `#Fill` alone on its line.
fn looks_like_a_heading(line: &str) -> bool {
    let words = line.trim_start_matches('#');
    let marks = line.len() - words.len();
    match words.chars().next() {
        Some(first) if marks > 1 => first.is_alphanumeric(),
        Some(first) => marks == 1 && first.is_uppercase(),
        None => false,
    }
}

/// The signal word that a line seems to warn with; `first` where it opens its part.
fn hazard_word(line: &str, first: bool, quote: bool) -> Option<&'static str> {
    let start = line.find(char::is_alphanumeric)?;
    let (marks, said) = line.split_at(start);
    let end = said.find(|c: char| !c.is_alphanumeric());
    let (said, after) = said.split_at(end.unwrap_or(said.len()));
    let word = WORDS
        .into_iter()
        .find(|word| word.eq_ignore_ascii_case(said))?;
    let bold = marks.contains(['*', '_']);
    // a quote that a bold word opens is told of where hazards are read
    if quote && bold {
        return None;
    }
    let marked = marks.contains(['!', ':', '⚠', '{']);
    let after = after.trim_start_matches(['*', '_', ']', '}', ')']);
    let rest = after.trim_start();
    let parted = after.is_empty() || rest.starts_with([':', '–', '—', '-', '!']);
    let capitals = said == word;
    let opens = first && capitals && (quote || rest.starts_with(char::is_uppercase));
    // in small letters it is a word like others, but before a colon: "Warning: hot"
    let warns = if capitals || bold {
        parted
    } else {
        rest.starts_with(':')
    };
    (marked || warns || opens).then_some(word)
}

fn heading(page_text: &PageText, line: Range<usize>, text: &str) -> Finding {
    let words = text.trim_start_matches('#');
    let marks = &text[..text.len() - words.len()];
    let message = format!(
        "`{marks}{}` is no heading: no space stands after `{marks}`",
        first_words(words)
    );
    Finding::error(Code::HeadingNotRead, page_text.file, line, message)
        .help(format!("write `{marks} {}`", first_words(words)))
}

fn first_words(words: &str) -> String {
    words
        .split_whitespace()
        .take(6)
        .collect::<Vec<_>>()
        .join(" ")
}

fn hazard(page_text: &PageText, line: Range<usize>, word: &str) -> Finding {
    let message = format!("this seems to be a {word}, and is printed as plain text");
    Finding::error(Code::HazardNotRead, page_text.file, line, message)
        .help(format!("write a block quote that opens with the word in bold: > **{word}** what can happen, what it does, how to stay clear"))
}

#[cfg(test)]
mod tests {
    use crate::prose::not_read::not_read;
    use crate::prose::testing::{findings, found};

    #[test]
    fn a_heading_without_its_space_is_found() {
        assert_eq!(
            found(
                not_read,
                "##Fill the line\n\nText.\n\n#Fill\n\n# 1\n\n#3 hose, and #fill.\n"
            ),
            [
                ("heading-not-read", "##Fill the line"),
                ("heading-not-read", "#Fill")
            ]
        );
        let told = &findings(not_read, "###Fill it\n")[0];
        assert_eq!(
            told.message,
            "`###Fill it` is no heading: no space stands after `###`"
        );
        assert_eq!(told.help.as_deref(), Some("write `### Fill it`"));
    }

    #[test]
    fn a_hazard_in_another_notation_is_found() {
        for (text, at) in [
            ("> [!WARNING]\n> Hot water.\n", "[!WARNING]"),
            ("> WARNING: Hot water.\n", "WARNING: Hot water."),
            ("> DANGER Hot water.\n", "DANGER Hot water."),
            ("> Caution: hot water.\n", "Caution: hot water."),
            ("**WARNING** Hot water.\n", "**WARNING** Hot water."),
            ("**Warning:** hot water.\n", "**Warning:** hot water."),
            ("WARNING: hot water.\n", "WARNING: hot water."),
            ("!!! danger\n", "!!! danger"),
            ("::: warning\n", "::: warning"),
            ("Go on.\nWARNING – hot water.\n", "WARNING – hot water."),
            ("- **CAUTION** Hot water.\n", "**CAUTION** Hot water."),
            ("1. WARNING! Hot water.\n", "WARNING! Hot water."),
            ("## WARNING\n", "WARNING"),
        ] {
            assert_eq!(found(not_read, text), [("hazard-not-read", at)], "{text}");
        }
    }

    #[test]
    fn a_hazard_and_what_only_speaks_of_one_are_left_alone() {
        for text in [
            "> **WARNING** Hot water. Keep back.\n",
            "> **WARNING: Hot water.**\n",
            "> **WARNING** Hot.\n>\n> CAUTION: steam.\n",
            "DANGER is kept for what will kill.\n",
            "**DANGER** is kept for what will kill.\n",
            "## Danger zone\n",
            "Notice the mark.\n",
            "- Caution signs on both ways.\n",
            "> Notice the mark, says the plate.\n",
            "```text\nWARNING: hot\n##Fill\n```\n",
            "| WARNING: hot |\n|---|\n",
        ] {
            assert_eq!(found(not_read, text), [], "{text}");
        }
    }
}
