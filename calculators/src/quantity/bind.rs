//! Binds numbers to their fractions and units, so that no line ends between them:
//! `12 3/4 in` that breaks after the 12 reads as three quarters.

use crate::unit::SYMBOLS;

/// The text with no-break spaces inside its quantities.
pub fn bind(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut rest = text;
    while let Some(space) = space_after_digit(rest) {
        let (before, after) = (&rest[..space], &rest[space + 1..]);
        out.push_str(before);
        let bound = begins_with_unit(after)
            || begins_with_fraction(after)
            || (ends_with_group(before) && begins_with_group(after));
        out.push(if bound { '\u{A0}' } else { ' ' });
        rest = after;
    }
    out.push_str(rest);
    out
}

/// Where the next space stands that a digit stands before.
fn space_after_digit(text: &str) -> Option<usize> {
    let pairs = text.as_bytes().windows(2);
    let mut pairs = pairs.map(|pair| pair[0].is_ascii_digit() && pair[1] == b' ');
    pairs.position(|found| found).map(|digit| digit + 1)
}

fn begins_with_unit(text: &str) -> bool {
    let end = text
        .find(|c: char| !(c.is_ascii_alphabetic() || "°%²³µ".contains(c)))
        .unwrap_or(text.len());
    // `ft³/min` begins with a power of a unit.
    let unit = text[..end].trim_end_matches(['²', '³']);
    !unit.is_empty() && SYMBOLS.iter().any(|symbol| symbol.shown == unit)
}

fn begins_with_fraction(text: &str) -> bool {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let top = digits(text);
    top > 0 && text[top..].starts_with('/') && digits(&text[top + 1..]) > 0
}

/// One to three digits, to which another three may belong.
fn ends_with_group(text: &str) -> bool {
    let digits = text.bytes().rev().take_while(u8::is_ascii_digit).count();
    (1..=3).contains(&digits)
}

/// Three digits that go on with a number: `43 000`.
fn begins_with_group(text: &str) -> bool {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    digits == 3 && !text[digits..].starts_with(['.', ',', '-'])
}

#[cfg(test)]
mod tests {
    use super::bind;

    #[test]
    fn numbers_keep_their_fractions_and_units() {
        assert_eq!(
            bind("Cut 12 3/4 in or 5 mm."),
            "Cut 12\u{A0}3/4\u{A0}in or 5\u{A0}mm."
        );
        assert_eq!(
            bind("14 psi, 3 ft³/min, 2 spacings, rev 2 of"),
            "14\u{A0}psi, 3\u{A0}ft³/min, 2 spacings, rev 2 of"
        );
        assert_eq!(
            bind("Up to 43 000 psi, in 2026 100 of 1 5000 and 2 30."),
            "Up to 43\u{A0}000\u{A0}psi, in 2026 100 of 1 5000 and 2 30."
        );
        for text in ["", " ", "5 ", "5  mm", "a 5"] {
            assert_eq!(bind(text).replace('\u{A0}', " "), text);
        }
    }
}
