//! The target of a value link: `value:NAME.OUTPUT?input=quantity&…`.

use std::ops::Range;

use percent_encoding::percent_decode_str;

use crate::markdown::place::SCHEME;

/// The narrow space that groups the digits of a large number.
const THOUSANDS: char = '\u{202F}';

/// A part of a target, decoded, and its place in the address as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    pub text: String,
    pub at: Range<usize>,
}

/// Which value a link names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ValueTarget {
    /// A calculator or a table; with no `part`, a rating or a measurement.
    pub name: Written,
    /// An output or a column.
    pub part: Option<Written>,
    /// Inputs or key cells, as typed.
    pub given: Vec<(Written, Written)>,
    /// Where it asks for the other unit system, if it does.
    pub other_system: Option<Range<usize>>,
}

impl ValueTarget {
    /// The inputs or key cells as plain texts.
    pub fn typed(&self) -> Vec<(String, String)> {
        let given = self.given.iter();
        given
            .map(|(name, text)| (name.text.clone(), text.text.clone()))
            .collect()
    }
}

/// Reads a whole address; the fault is the part that can't be read.
pub fn parse(address: &str) -> Result<ValueTarget, Written> {
    let part = |at: Range<usize>| Written {
        text: percent_decode_str(&address[at.clone()])
            .decode_utf8_lossy()
            .trim()
            .to_string(),
        at,
    };
    let start = SCHEME.len();
    let end = address.find('?').unwrap_or(address.len());
    let dot = address[start..end].find('.').map(|at| start + at);
    let name = part(start..dot.unwrap_or(end));
    let output = dot.map(|dot| part(dot + 1..end));
    if name.text.is_empty() || output.as_ref().is_some_and(|part| part.text.is_empty()) {
        return Err(part(start..address.len()));
    }
    let mut parsed = ValueTarget {
        name,
        part: output,
        given: Vec::new(),
        other_system: None,
    };
    let mut at = (end + 1).min(address.len());
    for piece in address[at..].split('&') {
        let whole = at..at + piece.len();
        at = whole.end + 1;
        let Some(equals) = piece.find('=') else {
            if piece.is_empty() {
                continue;
            }
            return Err(part(whole));
        };
        let middle = whole.start + equals;
        let (key, value) = (part(whole.start..middle), part(middle + 1..whole.end));
        if key.text == "show" && value.text == "also" {
            parsed.other_system = Some(whole);
        } else {
            parsed.given.push((key, value));
        }
    }
    Ok(parsed)
}

/// Text for comparing what a page says with what is printed: every space is one space.
pub fn plain_spaces(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether a page's text says what is printed. Spaces may be of any kind, and those
/// between the thousands of a number may be left out.
pub fn agrees(said: &str, printed: &str) -> bool {
    let said = plain_spaces(said);
    said == plain_spaces(printed) || said == plain_spaces(&printed.replace(THOUSANDS, ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_target_names_a_calculators_output_with_its_inputs_and_their_places() {
        let address = "value:length.length?channel_depth=2%203/4in&show=also";
        let target = parse(address).expect("a target");
        let read = |part: &Written| (part.text.clone(), &address[part.at.clone()]);
        assert_eq!(read(&target.name), ("length".to_string(), "length"));
        assert_eq!(target.name.at.start, 6);
        let part = target.part.as_ref().expect("an output");
        assert_eq!(
            (read(part), part.at.start),
            (("length".to_string(), "length"), 13)
        );
        let (name, text) = &target.given[0];
        assert_eq!(read(name).0, "channel_depth");
        assert_eq!(read(text), ("2 3/4in".to_string(), "2%203/4in"));
        let other = target.other_system.clone().expect("the other system");
        assert_eq!(&address[other], "show=also");
        assert_eq!(target.typed().len(), 1);
    }

    #[test]
    fn a_target_without_a_name_or_with_half_an_input_is_told() {
        let fault = |address: &str| parse(address).map_err(|part| address[part.at].to_string());
        assert_eq!(fault("value:?a=1"), Err("?a=1".to_string()));
        assert_eq!(fault("value:"), Err(String::new()));
        assert_eq!(fault("value:a.?b=1"), Err("a.?b=1".to_string()));
        assert_eq!(fault("value:a.b?d=1&c"), Err("c".to_string()));
        assert!(parse("value:a.b?").is_ok() && parse("value:a.b?c=1&").is_ok());
    }

    #[test]
    fn spaces_of_any_kind_agree_and_those_between_thousands_may_be_left_out() {
        assert!(agrees("14\u{A0}1/4 in", "14 1/4 in"));
        for said in ["11 000 psi", "11000 psi", "11\u{202F}000\u{A0}psi"] {
            assert!(agrees(said, "11\u{202F}000 psi"), "{said}");
        }
        assert!(!agrees("141/4 in", "14 1/4 in"));
        assert!(!agrees("1 1000 psi", "11\u{202F}000 psi"));
    }
}
