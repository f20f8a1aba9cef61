//! Numbers with units as people type them into prose, and where they stand.

use std::ops::Range;

use gaugeleaf_calc::unit::{Dimension, Unit};

use crate::prose::passage::{CODE, VALUE};

/// A number, and the unit that follows it if one does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct QuantityMention {
    pub number: Range<usize>,
    pub unit: Option<Range<usize>>,
}

impl QuantityMention {
    /// From the number's first digit to the unit's last letter.
    pub fn whole(&self) -> Range<usize> {
        let end = self.unit.as_ref().map_or(self.number.end, |unit| unit.end);
        self.number.start..end
    }
}

const VULGAR: &str = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞";
const MARKS: &str = "\"″”'′’";

/// No unit has more letters.
const LONGEST_UNIT: usize = 40;

/// Units in words or habits that the unit table leaves out.
const MORE_UNITS: [&str; 15] = [
    "mins", "secs", "ins", "kgs", "mms", "cms", "gals", "psis", "ton", "tons", "tonne", "tonnes",
    "litres", "°", "mph",
];

/// Words before a number that make it a name: row 3, step 4.
const NAMERS: [&str; 18] = [
    "row",
    "step",
    "page",
    "item",
    "line",
    "tag",
    "figure",
    "table",
    "number",
    "section",
    "part",
    "tube",
    "exchanger",
    "hose",
    "bolt",
    "hole",
    "rail",
    "pass",
];

/// Words after `in` that make it the preposition: 4 in the box.
const AFTER_IN: [&str; 34] = [
    "the", "a", "an", "each", "every", "all", "both", "this", "that", "these", "those", "its",
    "their", "your", "our", "one", "two", "three", "order", "turn", "place", "front", "row",
    "rows", "line", "hand", "pairs", "any", "case", "step", "page", "total", "reach", "use",
];

/// Every number of a text that stands by itself, in order.
pub fn numbers(text: &str) -> Vec<QuantityMention> {
    let mut found = Vec::new();
    // most passages have none
    let other = |c: char| !c.is_ascii() && c != VALUE && VULGAR.contains(c);
    let vulgar = || !text.is_ascii() && text.contains(other);
    if !text.bytes().any(|byte| byte.is_ascii_digit()) && !vulgar() {
        return found;
    }
    let mut quotes = QuoteCount::default();
    let mut at = 0;
    while let Some(character) = text[at..].chars().next() {
        let before = text[..at].chars().next_back();
        let joined =
            before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == VALUE || c == CODE);
        if !joined && starts_number(&text[at..]) {
            let number = at..number_end(text, at);
            let unit = unit_after(text, &number, &mut quotes);
            at = unit.as_ref().map_or(number.end, |unit| unit.end);
            found.push(QuantityMention { number, unit });
        } else {
            at += character.len_utf8();
        }
    }
    found
}

fn starts_number(rest: &str) -> bool {
    let mut letters = rest.chars();
    match letters.next() {
        Some('.') => letters.next().is_some_and(|c| c.is_ascii_digit()),
        Some(c) => c.is_ascii_digit() || VULGAR.contains(c),
        None => false,
    }
}

/// The end of a number such as `14`, `.5`, `1 1/4`, `1-1/4`, `9/16`, `1¼`, `3,000`, `11 000`.
fn number_end(text: &str, start: usize) -> usize {
    let digits = |from: usize| from + text[from..].bytes().take_while(u8::is_ascii_digit).count();
    let vulgar = |from: usize| {
        text[from..]
            .chars()
            .next()
            .filter(|c| VULGAR.contains(*c))
            .map(|c| from + c.len_utf8())
    };
    // a slash and its denominator
    let below = |from: usize| {
        let rest = text[from..].strip_prefix(['/', '⁄'])?;
        let under = text.len() - rest.len();
        Some(digits(under)).filter(|end| *end > under)
    };
    let mut end = digits(start);
    if let Some(end) = below(end) {
        return end;
    }
    loop {
        let rest = &text[end..];
        let Some(mark) = rest.chars().next() else {
            break;
        };
        let next = end + mark.len_utf8();
        let after = digits(next);
        let three = after - next == 3 && below(after).is_none();
        let goes_on = match mark {
            '.' | ',' => after > next,
            ' ' | '\u{A0}' | '\u{202F}' => three && end - start <= 3 + 4 * 3,
            _ => false,
        };
        if !goes_on {
            break;
        }
        end = after;
    }
    let gap = text[end..]
        .chars()
        .next()
        .filter(|c| matches!(c, ' ' | '\u{A0}' | '-'))
        .map_or(end, |c| end + c.len_utf8());
    [end, gap]
        .into_iter()
        .find_map(|from| {
            vulgar(from).or_else(|| {
                Some(digits(from))
                    .filter(|to| *to > from && from == gap && gap > end)
                    .and_then(below)
            })
        })
        .unwrap_or(end)
}

/// The unit that a number takes, right after it or after one space or hyphen.
fn unit_after(text: &str, number: &Range<usize>, quotes: &mut QuoteCount) -> Option<Range<usize>> {
    let rest = &text[number.end..];
    let first = rest.chars().next()?;
    if MARKS.contains(first) {
        let end = number.end + first.len_utf8();
        return is_mark(text, number, first, quotes).then_some(number.end..end);
    }
    let gap = matches!(first, ' ' | '\u{A0}' | '\u{202F}' | '-');
    let start = number.end + if gap { first.len_utf8() } else { 0 };
    let run = &text[start..];
    let goes_on = |(at, c): &(usize, char)| {
        let power = *at > 0 && matches!(c, '2' | '3');
        c.is_alphabetic() || power || "°%²³·/^℃℉".contains(*c)
    };
    let word = run.char_indices().take(LONGEST_UNIT).take_while(goes_on);
    let length = word.last().map_or(0, |(at, c)| at + c.len_utf8());
    if run[length..]
        .chars()
        .next()
        .is_some_and(|c| goes_on(&(length, c)))
    {
        return None;
    }
    let word = run[..length].trim_end_matches(['/', '·', '^']);
    let unit = start..start + word.len();
    let hyphened = text[unit.end..]
        .strip_prefix('-')
        .is_some_and(|after| after.starts_with(char::is_alphabetic));
    if word.is_empty() || !is_unit(word) || (hyphened && word.len() <= 2) {
        return None;
    }
    (word != "in" || is_inches(text, number, unit.end)).then_some(unit)
}

/// Whether a word is a unit; a plane angle is not, because it names layouts and turns.
pub fn is_unit(word: &str) -> bool {
    if MORE_UNITS.contains(&word.to_lowercase().as_str()) {
        return word != "°";
    }
    Unit::parse(word).is_ok_and(|unit| unit.dimension != Dimension::ANGLE)
}

/// How many quotations were opened or closed before a place, counted on from the last one asked.
#[derive(Default)]
struct QuoteCount {
    count: usize,
    at: usize,
}

impl QuoteCount {
    fn up_to(&mut self, text: &str, at: usize) -> usize {
        let more = text[self.at..at].matches(['"', '“', '‘', '\'']);
        self.count += more.count();
        self.at = at;
        self.count
    }
}

/// Whether a mark after a number means inches or feet, and closes no quotation.
fn is_mark(text: &str, number: &Range<usize>, mark: char, quotes: &mut QuoteCount) -> bool {
    if matches!(mark, '″' | '′') || text[number.clone()].contains(['/', '⁄']) {
        return true;
    }
    let after = text[number.end + mark.len_utf8()..].chars().next();
    quotes.up_to(text, number.start).is_multiple_of(2) && !after.is_some_and(char::is_alphabetic)
}

/// Whether `in` after a number means inches: `9 in wrench`, not `4 in the box`.
fn is_inches(text: &str, number: &Range<usize>, end: usize) -> bool {
    let said = &text[number.clone()];
    let touches = text[end..].starts_with(|c: char| !c.is_whitespace());
    if touches || !said.bytes().all(|byte| byte.is_ascii_digit()) {
        return true;
    }
    let plain = |word: &str| {
        word.trim_matches(|c: char| !c.is_alphanumeric())
            .to_lowercase()
    };
    let next = text[end..]
        .split_whitespace()
        .next()
        .map(plain)
        .unwrap_or_default();
    let last = text[..number.start]
        .split_whitespace()
        .next_back()
        .map(plain)
        .unwrap_or_default();
    !AFTER_IN.contains(&next.as_str()) && !NAMERS.contains(&last.trim_end_matches('s'))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quantities(text: &str) -> Vec<&str> {
        numbers(text)
            .into_iter()
            .filter(|found| found.unit.is_some())
            .map(|found| &text[found.whole()])
            .collect()
    }

    #[test]
    fn quantities_are_found_as_crews_write_them() {
        assert_eq!(
            quantities(
                "Cut 12 mm, 1 1/4 in, 3,000 psi, 11 000 psi, 9/16\" and 12mm at 10 °C for 5 minutes, ½ in, 1-1/4 in, .5 in."
            ),
            [
                "12 mm",
                "1 1/4 in",
                "3,000 psi",
                "11 000 psi",
                "9/16\"",
                "12mm",
                "10 °C",
                "5 minutes",
                "½ in",
                "1-1/4 in",
                ".5 in"
            ]
        );
        assert_eq!(
            quantities("a 9/16 in wrench, 18 ft/min, 8-hour shift, 80 %"),
            ["9/16 in", "18 ft/min", "8-hour", "80 %"]
        );
    }

    #[test]
    fn counts_names_and_angles_are_no_quantities() {
        for text in [
            "Take 2 wrenches to row 3 in the table.",
            "Thread NPS 1/2 on T1 in order.",
            "The 4 in each box, and 3 in-line valves.",
            "Say \"row 9\" and \"9\".",
            "Rotated square, 45°, M8 bolts, 1/4 turn.",
            "Count 28 holes, and step 4 in this list.",
            "At \u{E000} psi and 3 and/or 4.",
        ] {
            assert_eq!(quantities(text), Vec::<&str>::new(), "{text}");
        }
    }
}
