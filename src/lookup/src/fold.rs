//! Letters as search sees them: small, without accents.

/// Appends the folded form of `letter`; a combining accent leaves nothing.
pub(crate) fn fold_letter(letter: char, out: &mut String) {
    if letter.is_ascii() {
        out.push(letter.to_ascii_lowercase());
        return;
    }
    for small in letter.to_lowercase() {
        match plain(small) {
            Some(letters) => out.push_str(letters),
            None => out.push(small),
        }
    }
}

/// The start of `text` that takes at most that many bytes.
pub(crate) fn shorten(text: &str, most: usize) -> &str {
    let mut end = most.min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}

/// Whether a character belongs inside a word.
pub(crate) fn in_word(letter: char) -> bool {
    letter.is_alphanumeric() || is_combining(letter)
}

fn is_combining(letter: char) -> bool {
    ('\u{300}'..='\u{36f}').contains(&letter)
}

fn plain(small: char) -> Option<&'static str> {
    Some(match small {
        'à'..='å' | 'ā' | 'ă' | 'ą' => "a",
        'æ' => "ae",
        'ç' | 'ć' | 'ĉ' | 'ċ' | 'č' => "c",
        'ď' | 'đ' | 'ð' => "d",
        'è'..='ë' | 'ē' | 'ĕ' | 'ė' | 'ę' | 'ě' => "e",
        'ĝ' | 'ğ' | 'ġ' | 'ģ' => "g",
        'ĥ' | 'ħ' => "h",
        'ì'..='ï' | 'ĩ' | 'ī' | 'ĭ' | 'į' | 'ı' => "i",
        'ĵ' => "j",
        'ķ' => "k",
        'ĺ' | 'ļ' | 'ľ' | 'ŀ' | 'ł' => "l",
        'ñ' | 'ń' | 'ņ' | 'ň' => "n",
        'ò'..='ö' | 'ø' | 'ō' | 'ŏ' | 'ő' => "o",
        'œ' => "oe",
        'ŕ' | 'ŗ' | 'ř' => "r",
        'ś' | 'ŝ' | 'ş' | 'š' | 'ș' => "s",
        'ß' => "ss",
        'ţ' | 'ť' | 'ŧ' | 'ț' => "t",
        'þ' => "th",
        'ù'..='ü' | 'ũ' | 'ū' | 'ŭ' | 'ů' | 'ű' | 'ų' => "u",
        'ŵ' => "w",
        'ý' | 'ÿ' | 'ŷ' => "y",
        'ź' | 'ż' | 'ž' => "z",
        _ if is_combining(small) => "",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fold(text: &str) -> String {
        let mut out = String::new();
        text.chars()
            .for_each(|letter| fold_letter(letter, &mut out));
        out
    }

    #[test]
    fn capitals_and_accents_fold_away() {
        assert_eq!(fold("Düse"), "duse");
        assert_eq!(fold("ÉCHANGEUR"), "echangeur");
        assert_eq!(fold("Maßstab"), "massstab");
    }

    #[test]
    fn an_accent_written_apart_folds_like_one_written_together() {
        assert_eq!(fold("e\u{301}"), fold("é"));
    }

    #[test]
    fn letters_of_other_scripts_stay() {
        assert_eq!(fold("Шланг"), "шланг");
    }
}
