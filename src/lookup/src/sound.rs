//! How a word sounds, roughly: `deezel` and `diesel` are one.

/// Letters below this say too little to be told apart by sound.
const LEAST_LETTERS: usize = 4;
const LEAST_SOUNDS: usize = 3;

/// The consonants as they sound, vowels left out but for one at the beginning; none of words that
/// are short or have digits.
pub(crate) fn sound(word: &str) -> Option<String> {
    let bytes = word.as_bytes();
    if bytes.len() < LEAST_LETTERS || !bytes.iter().all(u8::is_ascii_lowercase) {
        return None;
    }
    let mut out = String::new();
    let (mut rest, mut before) = (bytes, "");
    while let [first, more @ ..] = rest {
        let (sounds, taken) = match (first, more) {
            (b'p', [b'h', ..]) => ("f", 2),
            (b'q', [b'u', ..]) => ("kw", 2),
            (b'c', [b'k', ..]) => ("k", 2),
            (b'c', [b'h', ..]) => ("x", 2),
            (b's', [b'h', ..]) => ("x", 2),
            (b'w' | b'r', [b'r' | b'h', ..]) => ("r", 2),
            (b'g', [b'h', ..]) => ("", 2),
            (b'k', [b'n', ..]) if out.is_empty() => ("n", 2),
            (b'c', [b'e' | b'i' | b'y', ..]) | (b'z' | b's', _) => ("s", 1),
            (b'c' | b'k' | b'q', _) => ("k", 1),
            (b'x', _) => ("ks", 1),
            (b'j' | b'g', _) => ("g", 1),
            (b'v' | b'f', _) => ("f", 1),
            (b'b', _) => ("b", 1),
            (b'd', _) => ("d", 1),
            (b't', _) => ("t", 1),
            (b'l', _) => ("l", 1),
            (b'm', _) => ("m", 1),
            (b'n', _) => ("n", 1),
            (b'p', _) => ("p", 1),
            (b'r', _) => ("r", 1),
            (b'w', [b'a' | b'e' | b'i' | b'o' | b'u', ..]) => ("w", 1),
            // a vowel that a word begins with is heard
            _ if rest.len() == bytes.len() => ("a", 1),
            _ => ("", 1),
        };
        // doubled letters sound once
        if sounds != before {
            out.push_str(sounds);
        }
        before = sounds;
        rest = &rest[taken.min(rest.len())..];
    }
    (out.len() >= LEAST_SOUNDS).then_some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_written_as_they_sound_are_the_same() {
        for (typed, meant) in [
            ("deezel", "diesel"),
            ("presure", "pressure"),
            ("nozel", "nozzle"),
            ("skware", "square"),
            ("bleading", "bleeding"),
            ("blokd", "blocked"),
            ("rench", "wrench"),
            ("calcualtor", "calculator"),
            ("earplgs", "earplugs"),
        ] {
            assert!(sound(typed).is_some());
            assert_eq!(sound(typed), sound(meant), "{typed}");
        }
    }

    #[test]
    fn others_are_not() {
        assert_ne!(sound("blood"), sound("blocked"));
        assert_ne!(sound("clamp"), sound("clean"));
        for none in ["tube", "hose", "m20x", "ear", "größe"] {
            assert_eq!(sound(none), None, "{none}");
        }
    }
}
