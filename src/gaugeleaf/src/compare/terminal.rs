//! A comparison on a terminal of 80 columns.

use std::cmp::Reverse;
use std::collections::HashMap;

use crate::compare::cause::Cause;
use crate::compare::change::{CardChange, CardState, Comparison};
use crate::compare::told::{EDITED, Wording, cards};
use crate::report::width::{columns, unsafe_to_print};

const COLUMNS: usize = 80;

/// All of it. The names are how the editions were called on the command line.
pub fn words(comparison: &Comparison, old: &str, new: &str) -> String {
    let mut page = Laid(String::new());
    let wording = Wording {
        of: comparison,
        arrow: "->",
    };
    for (word, name, head) in [("old", old, &comparison.old), ("new", new, &comparison.new)] {
        let told = format!(
            "{word}  revision {}, {}, {name}",
            head.revision,
            cards(head.cards)
        );
        page.put(0, 5, &told);
    }
    page.gap();
    page.put(0, 0, &wording.count());
    for warning in wording.warnings() {
        page.put(0, 0, &warning);
    }
    page.why(&wording);
    let titles = [
        (CardState::Changed, "Changed: print anew"),
        (CardState::New, "New: print"),
        (CardState::Gone, "Gone: take out of use"),
    ];
    for (state, title) in titles {
        let numbered = comparison.cards.iter().zip(1..);
        let mut of = numbered.filter(|(card, _)| card.state == state).peekable();
        if of.peek().is_some() {
            page.gap();
            page.put(0, 0, title);
        }
        for (card, number) in of {
            page.card(card, number, &wording);
        }
    }
    page.0
}

/// Which numbers cards have, as `1, 3 to 7, 9`.
pub fn numbers(all: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for number in all {
        match runs.last_mut() {
            Some((_, end)) if *end + 1 == *number => *end = *number,
            _ => runs.push((*number, *number)),
        }
    }
    let told = runs.into_iter().map(|(begin, end)| match end - begin {
        0 => begin.to_string(),
        1 => format!("{begin}, {end}"),
        _ => format!("{begin} to {end}"),
    });
    told.collect::<Vec<_>>().join(", ")
}

/// The causes from which something changed on cards, those with the most first, each with their numbers.
pub fn upstream(comparison: &Comparison) -> Vec<(&Cause, Vec<usize>)> {
    let numbered = comparison
        .cards
        .iter()
        .map(|card| card.page.as_str())
        .zip(1..);
    let numbers: HashMap<&str, usize> = numbered.collect();
    let causes = comparison.causes.iter().filter(|cause| cause.is_upstream());
    let mut told: Vec<_> = causes
        .map(|cause| {
            let of = cause
                .cards
                .iter()
                .filter_map(|page| numbers.get(page.as_str()));
            (cause, of.copied().collect::<Vec<usize>>())
        })
        .filter(|(_, of)| !of.is_empty())
        .collect();
    told.sort_by_key(|(_, of)| Reverse(of.len()));
    told
}

/// The numbers of the cards on which something changed by itself.
pub fn edited(comparison: &Comparison) -> Vec<usize> {
    let numbered = comparison.cards.iter().zip(1..);
    let edited = numbered.filter(|(card, _)| card.was_edited());
    edited.map(|(_, number)| number).collect()
}

struct Laid(String);

impl Laid {
    fn gap(&mut self) {
        self.0.push('\n');
    }

    fn why(&mut self, wording: &Wording) {
        let (causes, edited) = (upstream(wording.of), edited(wording.of));
        if causes.is_empty() && edited.is_empty() {
            return;
        }
        self.gap();
        self.put(0, 0, "Why");
        for (cause, of) in causes {
            self.put(2, 4, &format!("{} ({})", wording.cause(cause), cause.name));
            for (word, text) in wording.details(cause) {
                self.put(4, 12, &format!("{word:7} {text}"));
            }
            self.put(
                4,
                12,
                &format!("changes {}: {}", cards(of.len()), numbers(&of)),
            );
        }
        if !edited.is_empty() {
            let of = format!("{}: {}", cards(edited.len()), numbers(&edited));
            self.put(2, 4, &format!("{EDITED}, on {of}"));
        }
    }

    fn card(&mut self, card: &CardChange, number: usize, wording: &Wording) {
        self.gap();
        let title = if card.title.is_empty() {
            &card.page
        } else {
            &card.title
        };
        self.put(0, 4, &format!("{number:>2}. {title}"));
        let fingerprints = match card.state {
            _ if wording.of.by_values => String::new(),
            CardState::Changed => format!("{} -> {}", card.old_fingerprint, card.new_fingerprint),
            CardState::New => format!("-> {}", card.new_fingerprint),
            CardState::Gone => format!("{} ->", card.old_fingerprint),
        };
        self.put(4, 6, format!("{}  {fingerprints}", card.page).trim_end());
        for told in wording.card(card) {
            self.put(4, 6, &told.head);
            for (word, text) in &told.lines {
                match *word {
                    "" => self.put(6, 8, text),
                    word => self.put(6, 14, &format!("{word:7} {text}")),
                }
            }
        }
    }

    /// A text, broken between words: the first line indented so far, those behind it as far as `hang`.
    fn put(&mut self, indent: usize, hang: usize, text: &str) {
        let clean = |c: char| match c {
            // it has kept a value together, and is a space to whoever copies it
            '\u{a0}' => ' ',
            c if unsafe_to_print(c) => '\u{fffd}',
            c => c,
        };
        let wide = |word: &str| word.chars().map(columns).sum::<usize>();
        self.0.extend(std::iter::repeat_n(' ', indent));
        let (mut at, mut begun) = (indent, false);
        // spaces in the text are kept: a word and what it stands for are aligned
        for word in text.split(' ') {
            let word: String = word.chars().map(clean).collect();
            let width = wide(&word);
            if begun && at + 1 + width > COLUMNS {
                let end = self.0.trim_end_matches(' ').len();
                self.0.truncate(end);
                self.0.push('\n');
                self.0.extend(std::iter::repeat_n(' ', hang));
                at = hang;
            } else if begun {
                self.0.push(' ');
                at += 1;
            }
            self.0.push_str(&word);
            at += width;
            begun = true;
        }
        self.0.push('\n');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_a_row_are_told_by_their_ends() {
        assert_eq!(numbers(&[1, 3, 4, 5, 7, 8]), "1, 3 to 5, 7, 8");
        assert_eq!(numbers(&[]), "");
    }

    #[test]
    fn lines_break_at_80_columns_and_hang() {
        let mut page = Laid(String::new());
        page.put(2, 6, &"word ".repeat(40));
        let lines: Vec<&str> = page.0.lines().collect();
        assert!(lines.iter().all(|line| line.len() <= COLUMNS), "{lines:?}");
        assert!(lines[0].starts_with("  word") && lines[1].starts_with("      word"));
        let mut page = Laid(String::new());
        page.put(0, 0, "a\u{1b}[31mb\u{202e}");
        assert_eq!(page.0, "a\u{fffd}[31mb\u{fffd}\n");
    }
}
