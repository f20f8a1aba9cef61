//! The points and commas of a number: which of them is the decimal mark.

use super::QuantityFault;
use super::cursor::Cursor;

/// What `1,250` and `1.250` stand for: one mark, and just three digits after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum LoneMark {
    /// Asked back, be it a comma or a point.
    Asked,
    /// A point is a decimal point, as catalogs and pages write it; a comma is asked back.
    Point,
    Thousands,
    Decimal,
}

/// Reads on at a point or comma. Gives the number with one point and no other mark, and whether
/// it is whole.
pub(super) fn read(
    cursor: &mut Cursor<'_>,
    from: usize,
    first: &str,
    lone: LoneMark,
) -> Result<(String, bool), QuantityFault> {
    let runs = runs(cursor, from, first)?;
    let text = || cursor.text.trim().to_string();
    // groups of three follow one to three digits, and no number of thousands begins with a 0
    let led = (1..=3).contains(&first.len()) && !first.starts_with('0');
    let thousands = |runs: &[(char, &str)]| led && runs.iter().all(|(_, run)| run.len() == 3);
    let joined = |runs: &[(char, &str)]| {
        let digits = runs.iter().map(|(_, run)| *run);
        std::iter::once(first).chain(digits).collect::<String>()
    };
    let decimal = |whole: &str, places: &str| {
        let none = places.bytes().all(|digit| digit == b'0');
        Ok((format!("{whole}.{places}"), none))
    };
    match runs.as_slice() {
        [(mark, three)] if thousands(&runs) => match (lone, mark) {
            (LoneMark::Decimal, _) | (LoneMark::Point, '.') => decimal(first, three),
            (LoneMark::Thousands, _) => Ok((joined(&runs), true)),
            _ => Err(doubt(cursor, from, first, three)),
        },
        [(_, places)] => decimal(first, places),
        [(mark, _), ..] if runs.iter().all(|(other, _)| other == mark) => {
            if thousands(&runs) {
                Ok((joined(&runs), true))
            } else {
                Err(QuantityFault::NotANumber { text: text() })
            }
        }
        // `1,250.5`: the mark that stands once and last is the decimal one
        [groups @ .., (_, places)]
            if thousands(groups) && groups.iter().all(|(mark, _)| *mark == groups[0].0) =>
        {
            decimal(&joined(groups), places)
        }
        _ => Err(QuantityFault::MixedMarks { text: text() }),
    }
}

/// Each mark with the digits that follow it.
fn runs<'t>(
    cursor: &mut Cursor<'t>,
    from: usize,
    first: &str,
) -> Result<Vec<(char, &'t str)>, QuantityFault> {
    let mut runs = Vec::new();
    let mark = |c| matches!(c, '.' | ',');
    loop {
        let at = cursor.at;
        let Some(found) = cursor.next_if(mark) else {
            return Ok(runs);
        };
        let after = cursor.at;
        let digits = cursor.digits();
        if !digits.is_empty() {
            runs.push((found, digits));
            continue;
        }
        let text = cursor.text.trim().to_string();
        if first.is_empty() && runs.is_empty() {
            return Err(QuantityFault::NotANumber { text });
        }
        let written = &cursor.text[from..at];
        if cursor.next_if(mark).is_some() {
            while cursor.next_if(mark).is_some() {}
            let digits = cursor.digits();
            let plain = format!("{written}{found}{digits}");
            let plain = if digits.is_empty() { written } else { &plain };
            return Err(QuantityFault::DoubledMark {
                plain: replaced(cursor.text, from, cursor.at, plain),
                text,
            });
        }
        return Err(QuantityFault::TrailingPoint {
            plain: replaced(cursor.text, from, after, written),
            text,
        });
    }
}

/// `1,250`: both readings, each written so that nobody asks again.
fn doubt(cursor: &Cursor<'_>, from: usize, first: &str, places: &str) -> QuantityFault {
    let short = places.trim_end_matches('0');
    let decimal = match short.len() {
        0 => first.to_string(),
        3 => format!("{first}.{places}0"),
        _ => format!("{first}.{short}"),
    };
    let written = |number: &str| replaced(cursor.text, from, cursor.at, number);
    QuantityFault::AmbiguousMark {
        text: cursor.text.trim().to_string(),
        plain: written(&format!("{first}{places}")),
        decimal: written(&decimal),
    }
}

/// The text with a number written otherwise.
fn replaced(text: &str, from: usize, to: usize, number: &str) -> String {
    format!("{}{number}{}", &text[..from], &text[to..])
        .trim()
        .to_string()
}
