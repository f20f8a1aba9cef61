//! Days and whole numbers as TOML writes them.

use toml::de::DeValue;

/// A calendar date as text: bare, or between quotes as the schemas have it.
pub(super) fn date(value: &DeValue) -> Option<String> {
    let at = match value {
        DeValue::Datetime(at) => *at,
        DeValue::String(text) => text.parse().ok()?,
        _ => return None,
    };
    let date = at.date.filter(|_| at.time.is_none())?;
    Some(date.to_string())
}

/// Whether a text is a calendar date, as `2026-11-30`.
pub fn is_day(text: &str) -> bool {
    date(&DeValue::String(text.into())).as_deref() == Some(text)
}

pub(super) fn whole(value: &DeValue) -> Option<i64> {
    let number = value.as_integer()?;
    i64::from_str_radix(number.as_str(), number.radix()).ok()
}
