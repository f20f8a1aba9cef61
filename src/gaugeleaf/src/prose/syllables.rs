//! How many syllables an English word is spoken with.

fn is_vowel(byte: u8) -> bool {
    matches!(byte, b'a' | b'e' | b'i' | b'o' | b'u' | b'y')
}

/// Whether the vowel of a word's ending is silent: some letters before it sound it all the same.
fn ends_silent(word: &[u8]) -> bool {
    let (stem, sounded) = match word {
        [stem @ .., b'e', b's'] => {
            let hissing = matches!(stem, [.., b's' | b'x' | b'z' | b'c' | b'g']);
            (stem, hissing || matches!(stem, [.., b'c' | b's', b'h']))
        }
        [stem @ .., b'e', b'd'] => (stem, matches!(stem, [.., b't' | b'd'])),
        [stem @ .., b'e'] => {
            let hard = |byte: u8| b"bcdfgkptzs".contains(&byte);
            let sounded = matches!(stem, [.., before, b'l'] if hard(*before));
            (stem, sounded)
        }
        _ => return false,
    };
    // "agree" and "shoes": the vowel before is the one that sounds
    !sounded && stem.last().is_some_and(|last| !is_vowel(*last))
}

/// Whether vowels that stand together and are spoken apart begin here.
fn apart(from: &[u8]) -> bool {
    matches!(
        from,
        [b'i', b'a' | b'o' | b'u', ..]
            | [b'u', b'a' | b'o', ..]
            | [b'e', b'o', ..]
            | [b'i', b'e', b'r', ..]
            | [b'i', b'e', b's', b't', ..]
            | [b'e' | b'o' | b'u' | b'y', b'i', b'n', b'g', ..]
            | [b'u', b'i', b't', b'y', ..]
            | [b'o', b'e', b'r', ..]
    )
}

/// Whether letters begin here that `apart` takes for two syllables and that are spoken as one.
fn together(from: &[u8]) -> bool {
    matches!(
        from,
        [b'g' | b's' | b't', b'i', b'o', b'n', ..]
            | [b'c' | b't', b'i', b'a', b'l', ..]
            | [b'c', b'i', b'a', b'n', ..]
            | [b'c' | b't', b'i', b'o', b'u', b's', ..]
            | [b'g', b'u', b'a', b'r', ..]
            | [b'q', b'u', b'a' | b'o', ..]
            | [b'p', b'e', b'o', b'p', b'l', b'e', ..]
    )
}

/// At least one for a word of letters; a number is spoken by whoever reads it, and counts as one.
pub fn syllables(word: &str) -> usize {
    // most words are one part
    if word.bytes().all(|byte| byte.is_ascii_lowercase()) {
        return of_letters(word);
    }
    let parts = word.split(|c: char| !c.is_alphabetic() && c != '\'');
    let parts = parts.filter(|part| !part.is_empty());
    parts.map(of_part).sum::<usize>().max(1)
}

fn of_part(word: &str) -> usize {
    if !word.bytes().all(|byte| byte.is_ascii_lowercase()) {
        let plain = word.to_lowercase().replace('\'', "");
        return of_letters(&plain);
    }
    of_letters(word)
}

/// The syllables of a word in small letters.
fn of_letters(word: &str) -> usize {
    let mut count = 0;
    let (mut before, mut vowel_before, mut in_a_row) = (false, false, false);
    // a letter that isn't ASCII is no vowel, and neither are its bytes
    for (at, byte) in word.bytes().enumerate() {
        let vowel = is_vowel(byte);
        let sounds = vowel && !(at == 0 && byte == b'y');
        count += usize::from(sounds && !before);
        before = sounds;
        in_a_row |= vowel && vowel_before;
        vowel_before = vowel;
    }
    // few words have two vowels in a row, and only theirs can be spoken apart
    if in_a_row {
        let letters = word.as_bytes();
        let begun = |begins: fn(&[u8]) -> bool| {
            let places = 0..letters.len();
            places.filter(|at| begins(&letters[*at..])).count()
        };
        count += begun(apart).saturating_sub(begun(together));
    }
    if ends_silent(word.as_bytes()) {
        count -= 1;
    }
    count.max(1)
}

#[cfg(test)]
mod tests {
    use super::syllables;

    /// By `tests/reference/make_syllables.py`, whose head tells the dictionary.
    const SPOKEN: &str = include_str!("../../../../tests/reference/syllables.csv");

    #[test]
    fn words_of_the_pages_have_the_syllables_that_a_dictionary_gives_them() {
        let rows = SPOKEN.lines().skip(3).filter_map(|row| row.split_once(','));
        let rows: Vec<(&str, usize)> = rows
            .map(|(word, spoken)| (word, spoken.parse().expect("a number")))
            .collect();
        let counted: usize = rows.iter().map(|(word, _)| syllables(word)).sum();
        let spoken: usize = rows.iter().map(|(_, spoken)| spoken).sum();
        let wrong = rows
            .iter()
            .filter(|(word, spoken)| syllables(word) != *spoken);
        let wrong: Vec<String> = wrong
            .map(|(word, spoken)| format!("{word} {spoken} {}", syllables(word)))
            .collect();
        assert!(rows.len() > 500);
        assert!(
            wrong.len() * 20 <= rows.len(),
            "{} of {}: {wrong:?}",
            wrong.len(),
            rows.len()
        );
        assert!(
            counted.abs_diff(spoken) * 100 <= spoken,
            "{counted} for {spoken}"
        );
    }

    #[test]
    fn a_word_of_parts_has_those_of_its_parts_and_a_number_counts_as_one() {
        assert_eq!(syllables("anti-withdrawal"), 5);
        assert_eq!(syllables("pump's"), 1);
        assert_eq!(syllables("12"), 1);
    }
}
