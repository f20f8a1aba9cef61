//! Days as people read them.

const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// `2026-11-26` as `26 Nov 2026`; what is no such day stays as it is.
pub fn words(day: &str) -> String {
    let mut parts = day.get(..10).unwrap_or("").split('-');
    let mut part = || parts.next().and_then(|part| part.parse::<usize>().ok());
    match (part(), part(), part()) {
        (Some(year), Some(month), Some(day)) if (1..=12).contains(&month) && day > 0 => {
            format!("{day} {} {year}", MONTHS[month - 1])
        }
        _ => day.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::words;

    #[test]
    fn a_day_is_read_with_its_month_in_letters() {
        assert_eq!(words("2026-11-26"), "26 Nov 2026");
        assert_eq!(words("2026-03-01T09:30:00Z"), "1 Mar 2026");
        for odd in ["", "yesterday", "2026-13-01", "2026-1-1", "ä2026-11-26"] {
            assert_eq!(words(odd), odd);
        }
    }
}
