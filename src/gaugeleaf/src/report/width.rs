//! How many columns a character takes on a terminal, near enough to put a caret under it.

/// Columns that one character takes; tabs and control characters are handled by the caller.
pub fn columns(character: char) -> usize {
    let code = character as u32;
    match code {
        // combining marks, joiners and variation selectors sit on the character before them
        0x0300..=0x036F
        | 0x1AB0..=0x1AFF
        | 0x1DC0..=0x1DFF
        | 0x200B..=0x200F
        | 0x20D0..=0x20FF
        | 0xFE00..=0xFE0F
        | 0xFE20..=0xFE2F
        | 0x1F3FB..=0x1F3FF
        | 0xE0100..=0xE01EF => 0,
        // East Asian wide forms and the emoji blocks
        0x1100..=0x115F
        | 0x2E80..=0x303E
        | 0x3041..=0xA4CF
        | 0xAC00..=0xD7A3
        | 0xF900..=0xFAFF
        | 0xFE30..=0xFE4F
        | 0xFF00..=0xFF60
        | 0xFFE0..=0xFFE6
        | 0x1F300..=0x1F64F
        | 0x1F680..=0x1F6FF
        | 0x1F900..=0x1FAFF
        | 0x20000..=0x3FFFD => 2,
        _ => 1,
    }
}

/// Whether a character must not reach a terminal as it is.
pub fn unsafe_to_print(character: char) -> bool {
    character.is_control() || matches!(character as u32, 0x202A..=0x202E | 0x2066..=0x2069)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wide_and_combining_characters_are_counted_as_shown() {
        assert_eq!("a🔧".chars().map(columns).sum::<usize>(), 3);
        assert_eq!("e\u{301}".chars().map(columns).sum::<usize>(), 1);
    }
}
