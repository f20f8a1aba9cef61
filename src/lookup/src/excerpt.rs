//! A piece of a text around what was matched, never cut between a number and its unit.

use crate::fold::shorten;

/// How long an excerpt should be, and how much of it may stand before the first match.
const LENGTH: usize = 180;
const BEFORE: usize = 48;

/// A matched range of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Mark {
    /// Which word of the query.
    pub(crate) word: usize,
    pub(crate) start: usize,
    pub(crate) end: usize,
}

/// Cuts the excerpt; `true` marks what was matched.
pub(crate) fn excerpt(text: &str, marks: &[Mark]) -> Vec<(String, bool)> {
    let (from, to) = if text.len() <= LENGTH + BEFORE {
        (0, text.len())
    } else {
        window(text, marks)
    };
    let mut parts = Vec::new();
    let mut add = |piece: &str, matched: bool| {
        if !piece.is_empty() {
            parts.push((piece.to_string(), matched));
        }
    };
    let trimmed = text.get(from..to).unwrap_or("");
    let from = from + trimmed.len() - trimmed.trim_start().len();
    let to = from + trimmed.trim().len();
    if from > 0 {
        add("… ", false);
    }
    let mut at = from;
    for mark in marks {
        if mark.start >= at && mark.end <= to {
            add(text.get(at..mark.start).unwrap_or(""), false);
            add(text.get(mark.start..mark.end).unwrap_or(""), true);
            at = mark.end;
        }
    }
    add(text.get(at..to).unwrap_or(""), false);
    if to < text.trim_end().len() {
        add(" …", false);
    }
    parts
}

/// The range that shows the most words of the query.
fn window(text: &str, marks: &[Mark]) -> (usize, usize) {
    let (first, last) = best_run(marks);
    // as far back as allowed, or to the nearest cut at or before the match
    let from = match cut_after(text, first.saturating_sub(BEFORE + 1)) {
        cut if cut <= first => cut,
        _ => cut_until(text, first),
    };
    let far = cut_until(text, from + LENGTH);
    let to = match far >= last {
        true => far,
        false => cut_after(text, last.saturating_sub(1)),
    };
    (from, to.max(from))
}

/// Where the marks that fit into one excerpt begin and end.
fn best_run(marks: &[Mark]) -> (usize, usize) {
    let mut best = (0, 0, 0);
    for (at, first) in marks.iter().enumerate() {
        let run = marks[at..]
            .iter()
            .take_while(|mark| mark.end <= first.start + LENGTH - BEFORE);
        let (mut words, mut value, mut end) = (Vec::new(), 0, first.end);
        for mark in run {
            value += 1;
            if !words.contains(&mark.word) {
                words.push(mark.word);
                value += 16;
            }
            end = mark.end;
        }
        if value > best.0 {
            best = (value, first.start, end);
        }
    }
    (best.1, best.2)
}

/// The first place behind `at` where the text may be cut, at the latest its end.
fn cut_after(text: &str, at: usize) -> usize {
    let from = shorten(text, at).len();
    let mut behind_space = false;
    for (place, letter) in text[from..].char_indices() {
        let start = from + place;
        if start > at && begins_word(behind_space, letter) && may_cut(text, start) {
            return start;
        }
        behind_space = is_space(letter);
    }
    text.len()
}

/// The last place not behind `at` where the text may be cut, at the earliest its start.
fn cut_until(text: &str, at: usize) -> usize {
    if at >= text.len() {
        return text.len();
    }
    let mut end = shorten(text, at).len();
    let mut letter = text[end..].chars().next();
    while let Some(this) = letter {
        letter = text[..end].chars().next_back();
        let behind_space = letter.is_some_and(is_space);
        if end > 0 && begins_word(behind_space, this) && may_cut(text, end) {
            return end;
        }
        end -= letter.map_or(0, char::len_utf8);
    }
    0
}

/// Scripts without spaces may be cut at any letter.
fn begins_word(behind_space: bool, letter: char) -> bool {
    is_wide(letter) || (behind_space && !is_space(letter))
}

/// Whether the text may be cut before the word that starts there.
fn may_cut(text: &str, start: usize) -> bool {
    let rest = &text[start..];
    if rest.starts_with(is_wide) {
        return true;
    }
    let end = rest.find(|letter| is_space(letter) || is_wide(letter));
    let (before, last) = last_word(&text[..start]);
    let (_, before_last) = last_word(before);
    may_part(before_last, last, &rest[..end.unwrap_or(rest.len())])
}

/// The last word of a text, and what stands before it.
fn last_word(text: &str) -> (&str, &str) {
    let text = text.trim_end_matches(is_space);
    let mut start = text.len();
    for (at, letter) in text.char_indices().rev() {
        if is_space(letter) {
            break;
        }
        start = at;
        if is_wide(letter) {
            break;
        }
    }
    text.split_at(start)
}

/// A space that parts words; a no-break space parts nothing.
fn is_space(letter: char) -> bool {
    matches!(letter, ' ' | '\n' | '\t' | '\r')
}

fn is_wide(letter: char) -> bool {
    ('\u{2e80}'..='\u{ffef}').contains(&letter) && letter.is_alphanumeric()
}

/// Whether a line may end after `last`: not after a number, a sign, a limit's words
/// or the first half of a range or rate.
fn may_part(before_last: &str, last: &str, next: &str) -> bool {
    let quantity = |word: &str| {
        let bare = word.trim_end_matches(|letter: char| !letter.is_alphanumeric());
        bare.ends_with(char::is_numeric) && !word.ends_with(['.', ';', '?', '!'])
    };
    let sign = !last.contains(char::is_alphanumeric);
    let ties = |word: &str| matches!(word, "to" | "by" | "x" | "per" | "or" | "and");
    let limit = |word: &str| matches!(word, "most" | "least" | "than" | "below" | "above" | "not");
    let starts_number = next.starts_with(char::is_numeric);
    let number_before = before_last.contains(char::is_numeric);
    !(quantity(last)
        || sign
        || limit(last)
        || next == "per"
        || (ties(last) && (starts_number || number_before))
        || (ties(next) && last.contains(char::is_numeric))
        || last == "per")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(text: &str, word: &str) -> Mark {
        let start = text.find(word).expect("the word is in the text");
        Mark {
            word: 0,
            start,
            end: start + word.len(),
        }
    }

    fn shown(parts: &[(String, bool)]) -> String {
        parts.iter().map(|(text, _)| text.as_str()).collect()
    }

    #[test]
    fn a_short_text_is_shown_whole() {
        let text = "Close the stop on the hose.";
        let parts = excerpt(text, &[mark(text, "stop")]);
        let expected = [
            ("Close the ", false),
            ("stop", true),
            (" on the hose.", false),
        ];
        let expected: Vec<(String, bool)> = expected
            .map(|(text, marked)| (text.to_string(), marked))
            .into();
        assert_eq!(parts, expected);
    }

    #[test]
    fn a_long_text_is_cut_around_the_match() {
        let text = format!(
            "{} hold the ferrule {}",
            "before ".repeat(90),
            "after ".repeat(90)
        );
        let shown = shown(&excerpt(&text, &[mark(&text, "ferrule")]));
        assert!(shown.contains("hold the ferrule after"), "{shown}");
        assert!(
            shown.starts_with("… before") && shown.ends_with("after …"),
            "{shown}"
        );
        assert!(shown.len() < LENGTH + 40, "{}", shown.len());
    }

    #[test]
    fn a_number_keeps_its_unit_wherever_the_cut_falls() {
        for pad in 0..40 {
            let text = format!(
                "{}{} stop {}",
                "x".repeat(pad),
                " at 12 in".repeat(40),
                "at 14 1/4 in and ".repeat(40)
            );
            let shown = shown(&excerpt(&text, &[mark(&text, "stop")]));
            let inner = shown.trim_matches(['…', ' ']);
            assert!(
                !inner.starts_with("in ") && !inner.starts_with("1/4"),
                "{shown}"
            );
            assert!(!inner.ends_with(char::is_numeric), "{shown}");
        }
    }

    #[test]
    fn a_text_without_spaces_is_cut_all_the_same() {
        let text = "管".repeat(900);
        assert!(shown(&excerpt(&text, &[])).len() < 300);
    }

    #[test]
    fn a_text_without_a_match_is_shown_from_its_start() {
        let text = "Begin here. ".repeat(60);
        let shown = shown(&excerpt(&text, &[]));
        assert!(
            shown.starts_with("Begin here.") && shown.ends_with(" …"),
            "{shown}"
        );
    }
}
