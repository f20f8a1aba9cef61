//! Plurals and simple verb forms of a folded English word brought to one form.
//!
//! The form is for comparison only, never shown: `hose` and `hoses` both become `hos`.

/// The form shared by a word's plural, `-ing` and `-ed`.
pub(crate) fn stem(word: &str) -> String {
    if word.len() < 4 || !word.bytes().all(|b| b.is_ascii_lowercase()) {
        return word.to_string();
    }
    let mut stem = without_plural(word);
    for ending in ["ing", "ed"] {
        if let Some(rest) = stem.strip_suffix(ending)
            && rest.len() >= 3
            && !rest.ends_with('e')
            && has_vowel(rest)
        {
            stem = undouble(rest).to_string();
            break;
        }
    }
    if stem.len() > 3 && stem.ends_with('e') {
        stem.pop();
    }
    stem
}

/// What a word may end in beyond its stem, and be kin.
const KIN: [&str; 9] = [
    "ion", "ment", "ance", "ence", "able", "er", "or", "al", "ly",
];

/// The form shared by words that are made of one another: `inspect` and `inspection`.
pub(crate) fn root(word: &str) -> String {
    let mut root = stem(word);
    for ending in KIN {
        if let Some(rest) = root.strip_suffix(ending)
            && rest.len() >= 4
            && word.bytes().all(|b| b.is_ascii_lowercase())
        {
            root = undouble(rest.strip_suffix('e').unwrap_or(rest)).to_string();
            break;
        }
    }
    root
}

fn without_plural(word: &str) -> String {
    for (ending, instead) in [("ies", "y"), ("ied", "y")] {
        if let Some(rest) = word.strip_suffix(ending)
            && rest.len() >= 2
        {
            return format!("{rest}{instead}");
        }
    }
    if let Some(rest) = word.strip_suffix("es")
        && ["s", "x", "z", "ch", "sh"]
            .iter()
            .any(|end| rest.ends_with(end))
    {
        return rest.to_string();
    }
    match word.strip_suffix('s') {
        Some(rest) if !rest.ends_with(['s', 'u', 'i']) => rest.to_string(),
        _ => word.to_string(),
    }
}

fn has_vowel(text: &str) -> bool {
    text.contains(['a', 'e', 'i', 'o', 'u', 'y'])
}

/// `fitt` to `fit`; but `roll`, `press` and `buzz` keep both letters.
fn undouble(text: &str) -> &str {
    let bytes = text.as_bytes();
    match bytes {
        [.., a, b] if a == b && !b"lsz".contains(b) && !b"aeiou".contains(b) => {
            &text[..text.len() - 1]
        }
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_made_of_one_another_have_one_root() {
        for (a, b) in [
            ("inspect", "inspection"),
            ("isolate", "isolation"),
            ("measure", "measurements"),
            ("calculator", "calculation"),
            ("operator", "operate"),
            ("assessment", "assessed"),
        ] {
            assert_eq!(root(a), root(b), "{a} and {b}");
        }
        for (a, b) in [("water", "wat"), ("pressure", "press"), ("power", "pow")] {
            assert_ne!(root(a), root(b), "{a} and {b}");
        }
    }

    fn assert_same(words: &[&str]) {
        for word in words {
            assert_eq!(stem(word), stem(words[0]), "{word} and {}", words[0]);
        }
    }

    #[test]
    fn plurals_meet_their_singular() {
        assert_same(&["hose", "hoses"]);
        assert_same(&["box", "boxes"]);
        assert_same(&["assembly", "assemblies"]);
        assert_same(&["clamp", "clamps"]);
        assert_same(&["switch", "switches"]);
    }

    #[test]
    fn verb_forms_meet_their_verb() {
        assert_same(&["measure", "measures", "measured", "measuring"]);
        assert_same(&["fit", "fits", "fitted", "fitting", "fittings"]);
        assert_same(&["roll", "rolled", "rolling"]);
        assert_same(&["press", "presses", "pressing", "pressed"]);
        assert_same(&["carry", "carries", "carried", "carrying"]);
    }

    #[test]
    fn words_that_only_look_like_verb_forms_stay() {
        assert_eq!(stem("spring"), "spring");
        assert_eq!(stem("feed"), "feed");
        assert_eq!(stem("gas"), "gas");
        assert_eq!(stem("b18.2.1s"), "b18.2.1s");
    }
}
