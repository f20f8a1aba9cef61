//! What a paste or another keyboard adds to a typed text without changing what it says.

use std::borrow::Cow;

/// Marks that nobody sees: zero-width spaces and joiners, soft hyphens, and the marks about text
/// that runs from left to right. Those that turn it round stay, and the text is refused: what
/// was seen isn't what would be read.
fn unseen(c: char) -> bool {
    matches!(
        c,
        '\u{ad}' | '\u{200b}'
            ..='\u{200e}'
                | '\u{202a}'
                | '\u{202c}'
                | '\u{202d}'
                | '\u{2060}'
                | '\u{2066}'
                | '\u{2068}'
                | '\u{2069}'
                | '\u{feff}'
    )
}

/// The distance between a full-width letter, digit or mark and the plain one.
const FULL_WIDTH: u32 = 0xfee0;

fn full_width(c: char) -> bool {
    ('\u{ff01}'..='\u{ff5e}').contains(&c)
}

/// The text without unseen marks and without blanks about it, in plain digits.
pub(super) fn clean(text: &str) -> Cow<'_, str> {
    let text = text.trim();
    if !text.contains(|c| unseen(c) || full_width(c)) {
        return Cow::Borrowed(text);
    }
    let plain = |c: char| {
        if full_width(c) {
            char::from_u32(u32::from(c) - FULL_WIDTH).unwrap_or(c)
        } else {
            c
        }
    };
    let seen: String = text.chars().filter(|c| !unseen(*c)).map(plain).collect();
    Cow::Owned(seen.trim().to_string())
}
