//! The target of a value link: `value:NAME.OUTPUT?input=quantity&…`.

use percent_encoding::percent_decode_str;

/// The narrow space that groups the digits of a large number.
const THOUSANDS: char = '\u{202F}';

/// Which value a link names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ValueTarget {
    /// A calculator or a table; with no `part`, a rating or a measurement.
    pub name: String,
    /// An output or a column.
    pub part: Option<String>,
    /// Inputs or key cells, as typed.
    pub given: Vec<(String, String)>,
    /// Print it in the other unit system.
    pub other_system: bool,
}

/// Reads what stands after `value:`; the fault is the piece that can't be read.
pub fn parse(target: &str) -> Result<ValueTarget, String> {
    let decode = |text: &str| {
        percent_decode_str(text)
            .decode_utf8_lossy()
            .trim()
            .to_string()
    };
    let (name, query) = target.split_once('?').unwrap_or((target, ""));
    let name = decode(name);
    let (name, part) = match name.split_once('.') {
        Some((name, part)) => (name.to_string(), Some(part.to_string())),
        None => (name, None),
    };
    if name.is_empty() || part.as_deref() == Some("") {
        return Err(target.to_string());
    }
    let mut parsed = ValueTarget {
        name,
        part,
        given: Vec::new(),
        other_system: false,
    };
    for piece in query.split('&').filter(|piece| !piece.is_empty()) {
        let Some((key, value)) = piece.split_once('=') else {
            return Err(piece.to_string());
        };
        match (decode(key), decode(value)) {
            (key, value) if key == "show" && value == "also" => parsed.other_system = true,
            (key, value) => parsed.given.push((key, value)),
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
    fn a_target_names_a_calculators_output_with_its_inputs() {
        let target = parse("guide-tube-length.length?channel_depth=2%203/4in&show=also");
        assert_eq!(
            target,
            Ok(ValueTarget {
                name: "guide-tube-length".to_string(),
                part: Some("length".to_string()),
                given: vec![("channel_depth".to_string(), "2 3/4in".to_string())],
                other_system: true,
            })
        );
    }

    #[test]
    fn a_target_without_a_name_or_with_half_an_input_is_told() {
        assert_eq!(parse("?a=1"), Err("?a=1".to_string()));
        assert_eq!(parse("a.?b=1"), Err("a.?b=1".to_string()));
        assert_eq!(parse("a.b?c"), Err("c".to_string()));
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
