//! How numbers are written by hand, where a page may: a space before the unit, a zero
//! before the point, no plural unit symbols, no comma between thousands.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;
use crate::prose::quantities::QuantityMention;
use crate::prose::typed_quantity;

/// Symbols that people put into the plural, and as they are.
const PLURALS: [(&str, &str); 10] = [
    ("lbs", "lb"),
    ("hrs", "h"),
    ("secs", "s"),
    ("mins", "min"),
    ("ins", "in"),
    ("kgs", "kg"),
    ("mms", "mm"),
    ("cms", "cm"),
    ("gals", "gal"),
    ("psis", "psi"),
];

/// Finds numbers in a form that can be misread.
pub fn number_style(page_text: &PageText, findings: &mut Vec<Finding>) {
    for part in &page_text.parts {
        let text = &part.passage.text;
        if part.numbers.is_empty() {
            continue;
        }
        // a typed quantity of a procedure has to go as a whole
        let typed: Vec<Range<usize>> = if page_text.procedure {
            typed_quantity::of_part(part)
        } else {
            Vec::new()
        };
        for found in &part.numbers {
            let start = found.number.start;
            let before = typed.partition_point(|typed| typed.start <= start);
            if typed[..before]
                .last()
                .is_some_and(|last| last.contains(&start))
            {
                continue;
            }
            if let Some((code, message, right)) = fault(text, found) {
                findings.push(
                    page_text
                        .warning(code, &part.passage, found.whole(), message)
                        .help(format!("write {right}")),
                );
            }
        }
    }
}

fn fault(text: &str, found: &QuantityMention) -> Option<(Code, String, String)> {
    let number = &text[found.number.clone()];
    let unit = found.unit.as_ref().map_or("", |unit| &text[unit.clone()]);
    let tail = match unit {
        "" => String::new(),
        unit => format!(" {unit}"),
    };
    if number.starts_with('.') {
        let message = format!("the point of `{number}` is easily missed");
        return Some((Code::NakedDecimal, message, format!("0{number}{tail}")));
    }
    if is_grouped_by_comma(number) {
        let bare = number.replace(',', "");
        let right = if bare.len() > 4 {
            number.replace(',', " ")
        } else {
            bare
        };
        let message = format!("the comma in `{number}` is a decimal mark to some readers");
        return Some((Code::ThousandsComma, message, format!("{right}{tail}")));
    }
    if let Some((_, symbol)) = PLURALS.iter().find(|(plural, _)| *plural == unit) {
        let message = format!("the unit symbol `{symbol}` takes no plural s");
        return Some((Code::PluralUnit, message, format!("{number} {symbol}")));
    }
    let touches = found
        .unit
        .as_ref()
        .is_some_and(|unit| unit.start == found.number.end);
    if touches && unit.starts_with(|c: char| c.is_alphabetic() || "%°℃℉".contains(c)) {
        let message = format!("`{number}{unit}` has no space before its unit");
        return Some((Code::UnitSpace, message, format!("{number} {unit}")));
    }
    None
}

fn is_grouped_by_comma(number: &str) -> bool {
    let mut groups = number.split(',');
    let first = groups.next().unwrap_or("");
    let mut rest = groups.peekable();
    rest.peek().is_some()
        && (1..=3).contains(&first.len())
        && !first.starts_with('0')
        && rest.all(|group| group.len() == 3)
}

#[cfg(test)]
mod tests {
    use crate::prose::number_style::number_style;
    use crate::prose::testing::findings;

    fn helps(text: &str) -> Vec<(&'static str, &str, String)> {
        let found = findings(number_style, text).into_iter();
        found
            .map(|one| {
                (
                    one.code.name(),
                    &text[one.span],
                    one.help.unwrap_or_default(),
                )
            })
            .collect()
    }

    #[test]
    fn numbers_that_can_be_misread_are_offered_the_right_form() {
        // a procedure's typed quantities are another rule's
        assert_eq!(helps("Cut 12mm.\n"), []);
        assert_eq!(
            helps("Of 1,500 tubes, .5 are shut; 12,500 more at x,5 and 1,2.\n"),
            [
                ("thousands-comma", "1,500", "write 1500".to_string()),
                ("naked-decimal", ".5", "write 0.5".to_string()),
                ("thousands-comma", "12,500", "write 12 500".to_string()),
            ]
        );
    }

    #[test]
    fn units_written_by_hand_are_kept_apart_and_singular() {
        let fault = |text: &str| {
            let found = crate::prose::quantities::numbers(text).remove(0);
            crate::prose::number_style::fault(text, &found)
                .map(|(code, _, right)| (code.name(), right))
        };
        assert_eq!(fault("12mm"), Some(("unit-space", "12 mm".to_string())));
        assert_eq!(fault("80%"), Some(("unit-space", "80 %".to_string())));
        assert_eq!(fault("84 lbs"), Some(("plural-unit", "84 lb".to_string())));
        for text in ["12 mm", "9/16\"", "45°", "4th", "3 inches"] {
            assert_eq!(fault(text), None, "{text}");
        }
    }
}
