//! A question with its numbers in one piece.

use super::words::SmallWords;

/// The question with its fractions in one piece: `3 / 8` as `3/8`, `6 and a half` as `6.5`.
pub(super) fn smooth(text: &str, small: &SmallWords) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text.char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        if c == ' '
            && ends_in_a_whole(&out)
            && let Some(half) = small.half_more(&text[at + 1..])
        {
            out.push_str(".5");
            rest.nth(half.saturating_sub(1));
            continue;
        }
        if c == '/' && out.trim_end().ends_with(|c: char| c.is_ascii_digit()) {
            let mut blanks = 0;
            while rest.next_if(|(_, c)| *c == ' ').is_some() {
                blanks += 1;
            }
            if rest.peek().is_some_and(|(_, c)| c.is_ascii_digit()) {
                out.truncate(out.trim_end().len());
                blanks = 0;
            }
            out.push('/');
            out.extend(std::iter::repeat_n(' ', blanks));
        } else {
            out.push(c);
        }
    }
    out
}

/// Whether a text ends in a whole number.
fn ends_in_a_whole(text: &str) -> bool {
    let before = text.trim_end_matches(|c: char| c.is_ascii_digit());
    before.len() < text.len() && !before.ends_with(['.', ',', '/', '⁄'])
}
