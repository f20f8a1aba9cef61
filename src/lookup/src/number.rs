//! Numbers and sizes as single, exact tokens: `9/16`, `0.5625`, `1 1/4`.

/// A number found at the start of a text.
pub(crate) struct NumberToken {
    /// `1-1/4` for a mixed fraction, however it was written.
    pub(crate) text: String,
    /// How many bytes of the text it takes.
    pub(crate) length: usize,
}

/// Reads the number that `text` starts with.
pub(crate) fn read_number(text: &str) -> Option<NumberToken> {
    let mut scan = Scan { text, at: 0 };
    let whole = scan.digits();
    if whole.is_empty() {
        return scan.vulgar_or_point();
    }
    let mut number = whole.to_string();
    if let Some(fraction) = scan.fraction_bar_digits() {
        number = format!("{number}/{fraction}");
        // a date keeps its third part, so that no false fraction is left over
        if let Some(third) = scan.fraction_bar_digits() {
            number = format!("{number}/{third}");
        }
    } else if let Some(fraction) = scan.mixed_fraction() {
        number = format!("{number}-{fraction}");
    } else {
        while let Some(group) = scan.thousands() {
            number.push_str(group);
        }
        scan.decimals(&mut number);
    }
    Some(NumberToken {
        text: number,
        length: scan.at,
    })
}

struct Scan<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Scan<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn digits(&mut self) -> &'a str {
        let rest = self.rest();
        let length = rest.bytes().take_while(u8::is_ascii_digit).count();
        self.at += length;
        &rest[..length]
    }

    fn vulgar_or_point(&mut self) -> Option<NumberToken> {
        let first = self.rest().chars().next()?;
        let text = if first == '.' {
            let mut number = "0".to_string();
            self.decimals(&mut number);
            number
        } else {
            self.at += first.len_utf8();
            vulgar(first)?.to_string()
        };
        (self.at > 0).then_some(NumberToken {
            text,
            length: self.at,
        })
    }

    fn fraction_bar_digits(&mut self) -> Option<&'a str> {
        let start = self.at;
        let bar = self.rest().chars().next()?;
        if matches!(bar, '/' | '\u{2044}') {
            self.at += bar.len_utf8();
            let digits = self.digits();
            if !digits.is_empty() {
                return Some(digits);
            }
        }
        self.at = start;
        None
    }

    /// The fraction after a whole number: ` 1/4`, `-1/4`, `½`.
    fn mixed_fraction(&mut self) -> Option<String> {
        let start = self.at;
        let first = self.rest().chars().next()?;
        if is_joint(first) {
            self.at += first.len_utf8();
        }
        if let Some(sign) = self.rest().chars().next()
            && let Some(fraction) = vulgar(sign)
        {
            self.at += sign.len_utf8();
            return Some(fraction.to_string());
        }
        if is_joint(first) {
            let top = self.digits();
            if !top.is_empty()
                && let Some(bottom) = self.fraction_bar_digits()
                && !self.rest().starts_with(['/', '\u{2044}'])
            {
                return Some(format!("{top}/{bottom}"));
            }
        }
        self.at = start;
        None
    }

    /// `,000` after one to three digits and not followed by another digit.
    fn thousands(&mut self) -> Option<&'a str> {
        let group = self.rest().strip_prefix(',')?.get(..3)?;
        let next = self.rest().as_bytes().get(4);
        if group.bytes().all(|b| b.is_ascii_digit()) && !next.is_some_and(u8::is_ascii_digit) {
            self.at += 4;
            return Some(group);
        }
        None
    }

    /// `.5625`; the noughts that end a decimal say nothing to a search.
    fn decimals(&mut self, number: &mut String) {
        let start = self.at;
        if self.rest().starts_with(['.', ',']) {
            self.at += 1;
            let digits = self.digits();
            if digits.is_empty() {
                self.at = start;
                return;
            }
            let digits = digits.trim_end_matches('0');
            if !digits.is_empty() {
                number.push('.');
                number.push_str(digits);
            }
        }
    }
}

/// What may stand between the whole part and the fraction.
fn is_joint(letter: char) -> bool {
    matches!(
        letter,
        ' ' | '-' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '\u{2011}'
    )
}

pub(crate) fn vulgar(sign: char) -> Option<&'static str> {
    Some(match sign {
        '¼' => "1/4",
        '½' => "1/2",
        '¾' => "3/4",
        '⅐' => "1/7",
        '⅑' => "1/9",
        '⅒' => "1/10",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Option<(String, &str)> {
        read_number(text).map(|number| (number.text, &text[number.length..]))
    }

    #[test]
    fn sizes_are_read_whole() {
        for (text, expected, rest) in [
            ("9/16 in", "9/16", " in"),
            ("0.5625", "0.5625", ""),
            ("1 1/4 in", "1-1/4", " in"),
            ("1-1/4\"", "1-1/4", "\""),
            ("1½", "1-1/2", ""),
            ("1\u{a0}½", "1-1/2", ""),
            ("½ in", "1/2", " in"),
            (".5", "0.5", ""),
            ("0.840", "0.84", ""),
            ("10,000 psi", "10000", " psi"),
            ("31,75 mm", "31.75", " mm"),
            ("01/02/2027", "01/02/2027", ""),
            ("14. Then", "14", ". Then"),
            ("5-10", "5", "-10"),
            ("5 ", "5", " "),
        ] {
            assert_eq!(read(text), Some((expected.to_string(), rest)), "{text}");
        }
    }

    #[test]
    fn what_is_no_number_is_left() {
        for text in ["", ".", "x", "-", "/4", ",5"] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
