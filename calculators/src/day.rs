//! Days as people read them.

use crate::message::Message;
use crate::message::tell::day as tell;

const MONTHS: [fn() -> Message; 12] = [
    tell::jan,
    tell::feb,
    tell::mar,
    tell::apr,
    tell::may,
    tell::jun,
    tell::jul,
    tell::aug,
    tell::sep,
    tell::oct,
    tell::nov,
    tell::dec,
];

/// `2026-11-26` as `26 Nov 2026`; what is no such day stays as it is.
pub fn words(day: &str) -> Message {
    let mut parts = day.get(..10).unwrap_or("").split('-');
    let mut part = || parts.next().and_then(|part| part.parse::<usize>().ok());
    match (part(), part(), part()) {
        (Some(year), Some(month), Some(day)) if (1..=12).contains(&month) && day > 0 => {
            tell::day(&day.to_string(), &MONTHS[month - 1](), &year.to_string())
        }
        _ => Message::data(day),
    }
}

#[cfg(test)]
mod tests {
    use crate::message::in_english;

    fn words(day: &str) -> String {
        in_english(&super::words(day))
    }

    #[test]
    fn a_day_is_read_with_its_month_in_letters() {
        assert_eq!(words("2026-11-26"), "26 Nov 2026");
        assert_eq!(words("2026-03-01T09:30:00Z"), "1 Mar 2026");
        for odd in ["", "yesterday", "2026-13-01", "2026-1-1", "ä2026-11-26"] {
            assert_eq!(words(odd), odd);
        }
    }
}
