//! Findings for a person at a terminal.
//!
//! Place first, so that it can be clicked; then what is wrong; then the line with
//! a mark under the offending text; then what to write.

use std::fmt::Write;

use gaugeleaf_finding::{Finding, Level, line_column};

use crate::report::emitter::Emitter;
use crate::report::width::{columns, unsafe_to_print};
use crate::report::{Sources, count, level_word};

/// Findings past this many are counted, not shown.
const SHOWN: usize = 50;
/// Places of what follows from a finding past this many are left out.
const PLACES: usize = 6;
/// Widest excerpt of a source line.
const EXCERPT: usize = 96;
const TAB: usize = 4;

/// Whether to colour: only on a terminal, and never where `NO_COLOR` is set.
pub fn colour_wanted(is_terminal: bool) -> bool {
    is_terminal && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
}

/// Words every finding, then the counts.
pub struct Terminal {
    pub colour: bool,
}

impl Emitter for Terminal {
    fn emit(&self, findings: &[Finding], sources: &Sources) -> String {
        let mut out = String::new();
        for finding in findings.iter().take(SHOWN) {
            one(&mut out, finding, sources, self.colour);
            out.push('\n');
        }
        if findings.len() > SHOWN {
            let _ = writeln!(out, "… and {} more", findings.len() - SHOWN);
        }
        out.push_str(&count(findings));
        out.push('\n');
        out
    }
}

fn one(out: &mut String, finding: &Finding, sources: &Sources, colour: bool) {
    let source = sources.get(&finding.file).map_or("", String::as_str);
    let (line, column) = line_column(source, finding.span.start);
    let paint = if colour {
        Paint::of(finding.level)
    } else {
        Paint::NONE
    };
    let Paint { level, faint, off } = paint;
    let file = clean(&finding.file);
    let word = level_word(finding.level);
    let _ = writeln!(
        out,
        "{file}:{line}:{column}  {level}{word}{off}  {faint}{}{off}",
        finding.code
    );
    let _ = writeln!(out, "  {}", clean(&finding.message));
    let text = source
        .split('\n')
        .nth(line - 1)
        .unwrap_or("")
        .trim_end_matches('\r');
    if !text.trim().is_empty() {
        let start = finding.span.start.min(source.len());
        let end = finding.span.end.clamp(start, source.len());
        let marked = source
            .get(start..end)
            .map_or(1, |span| first_line(span).chars().count());
        let (shown, mark) = excerpt(text, column - 1, marked.max(1));
        let number = line.to_string();
        let _ = writeln!(out, "  {faint}{number} >{off} {shown}");
        let _ = writeln!(
            out,
            "  {:width$}   {level}{mark}{off}",
            "",
            width = number.len()
        );
    }
    if let Some(help) = &finding.help {
        let _ = writeln!(out, "  -> {}", clean(help));
    }
    if !finding.ties.followed_by.is_empty() {
        let _ = writeln!(out, "  {}", followers(finding, sources));
    }
}

/// How much more goes wrong because of a finding, and where else.
fn followers(finding: &Finding, sources: &Sources) -> String {
    let place = |one: &Finding| {
        let text = sources.get(&one.file).map_or("", String::as_str);
        let (line, column) = line_column(text, one.span.start);
        clean(&format!("{}:{line}:{column}", one.file))
    };
    let own = place(finding);
    let elsewhere = finding.ties.followed_by.iter().map(place);
    let mut places: Vec<String> = elsewhere.filter(|place| *place != own).collect();
    if places.len() > PLACES {
        places.truncate(PLACES);
        places.push("…".to_string());
    }
    let mends = format!("mending this mends {} more", finding.ties.followed_by.len());
    if places.is_empty() {
        mends
    } else {
        format!("{mends}: {}", places.join(", "))
    }
}

struct Paint {
    level: &'static str,
    faint: &'static str,
    off: &'static str,
}

impl Paint {
    const NONE: Paint = Paint {
        level: "",
        faint: "",
        off: "",
    };

    fn of(level: Level) -> Paint {
        let level = match level {
            Level::Error => "\u{1b}[1;31m",
            Level::Warning => "\u{1b}[1;33m",
        };
        Paint {
            level,
            faint: "\u{1b}[2m",
            off: "\u{1b}[0m",
        }
    }
}

fn first_line(text: &str) -> &str {
    text.split(['\n', '\r']).next().unwrap_or("")
}

/// Text with nothing in it that could steer the terminal.
fn clean(text: &str) -> String {
    text.chars()
        .map(|c| if unsafe_to_print(c) { ' ' } else { c })
        .collect()
}

/// The source line as shown, clipped around the mark, and the line of carets for it.
fn excerpt(line: &str, from: usize, length: usize) -> (String, String) {
    let mut cells: Vec<(String, usize)> = Vec::new();
    let mut at = 0;
    for character in line.chars() {
        let (text, width) = match character {
            '\t' => {
                let width = TAB - at % TAB;
                (" ".repeat(width), width)
            }
            c if unsafe_to_print(c) => ("\u{FFFD}".to_string(), 1),
            c => (c.to_string(), columns(c)),
        };
        at += width;
        cells.push((text, width));
    }
    let from = from.min(cells.len());
    let width = |range: &[(String, usize)]| range.iter().map(|cell| cell.1).sum::<usize>();
    let mut first = 0;
    if at > EXCERPT {
        let mut lead = width(&cells[..from]);
        while lead > EXCERPT / 3 && first < from {
            lead -= cells[first].1;
            first += 1;
        }
    }
    let mut last = first;
    let mut used = 0;
    while last < cells.len() && used + cells[last].1 <= EXCERPT {
        used += cells[last].1;
        last += 1;
    }
    let mut shown = String::new();
    let mut indent = width(&cells[first..from]);
    if first > 0 {
        shown.push('…');
        indent += 1;
    }
    shown.extend(cells[first..last].iter().map(|cell| cell.0.as_str()));
    if last < cells.len() {
        shown.push('…');
    }
    let to = (from + length).min(last).max(from);
    let carets = width(&cells[from..to]).max(1);
    (
        shown.trim_end().to_string(),
        format!("{}{}", " ".repeat(indent), "^".repeat(carets)),
    )
}

#[cfg(test)]
mod tests {
    use gaugeleaf_finding::Code;

    use super::*;

    fn shown(text: &str, span: std::ops::Range<usize>) -> String {
        let sources = Sources::from([("a.md".to_string(), text.to_string())]);
        Terminal { colour: false }.emit(
            &[Finding::error(Code::RawHtml, "a.md", span, "wrong").help("write it so")],
            &sources,
        )
    }

    #[test]
    fn a_finding_shows_place_words_line_mark_and_help() {
        assert_eq!(
            shown("one\ntwo three\n", 8..13),
            "a.md:2:5  error  raw-html\n  wrong\n  2 > two three\n          ^^^^^\n  -> write it so\n\n1 error\n"
        );
    }

    #[test]
    fn the_mark_stands_under_the_text_after_tabs_wide_characters_and_with_crlf() {
        let mark = |text: &str, span| shown(text, span).lines().nth(3).map(str::to_string);
        assert_eq!(mark("\tx\r\n", 1..2), Some("          ^".to_string()));
        assert_eq!(mark("🔧 x\r\n", 5..6), Some("         ^".to_string()));
    }

    #[test]
    fn what_follows_is_counted_and_its_first_places_named() {
        let follower = |at: usize| Finding::error(Code::RawHtml, "a.md", at..at + 1, "so");
        let told = |count: usize| {
            let mut finding = Finding::error(Code::RawHtml, "a.md", 0..1, "wrong");
            finding.ties.followed_by = (1..=count).map(follower).collect();
            let sources = Sources::from([("a.md".to_string(), "abcdefgh".to_string())]);
            let out = Terminal { colour: false }.emit(&[finding], &sources);
            assert!(out.ends_with("\n\n1 error\n"), "{out}");
            out.lines().nth(4).map(str::to_string)
        };
        assert_eq!(told(0), Some(String::new()));
        assert_eq!(
            told(1),
            Some("  mending this mends 1 more: a.md:1:2".to_string())
        );
        let many = told(7).unwrap_or_default();
        assert!(
            many.starts_with("  mending this mends 7 more: a.md:1:2, "),
            "{many}"
        );
        assert!(many.ends_with("a.md:1:7, …"), "{many}");
    }

    #[test]
    fn a_long_line_is_clipped_around_the_mark() {
        let text = format!("{}HERE{}", "a".repeat(500), "b".repeat(500));
        let out = shown(&text, 500..504);
        let lines: Vec<&str> = out.lines().collect();
        let at = |line: &str, what: &str| line.find(what).map(|byte| line[..byte].chars().count());
        assert!(lines[2].chars().count() < 120);
        assert_eq!(at(lines[2], "HERE"), at(lines[3], "^^^^"));
    }

    #[test]
    fn control_characters_of_a_source_never_reach_the_terminal() {
        assert!(!shown("a\u{1b}[31mb", 0..1).contains('\u{1b}'));
    }

    #[test]
    fn a_span_past_the_end_of_a_missing_file_is_still_shown() {
        let out = Terminal { colour: false }.emit(
            &[Finding::error(Code::Unreadable, "no.md", 9..12, "gone")],
            &Sources::new(),
        );
        assert!(out.starts_with("no.md:1:1  error  unreadable\n  gone\n"));
    }
}
