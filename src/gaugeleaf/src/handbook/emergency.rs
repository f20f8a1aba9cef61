//! Whom a crew calls: what stands under `[[emergency]]` in handbook.toml.

use gaugeleaf_calc::finding::Code;
use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType, Settings};

/// One place to call.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EmergencyNumber {
    /// Who answers, such as the site's rescue.
    pub label: String,
    /// As people read it.
    pub number: String,
    /// What to say, or what else to try.
    pub note: String,
}

/// The key in handbook.toml.
pub const EMERGENCY: SettingField = SettingField::new(
    "emergency",
    SettingType::Tables(NUMBER),
    "Whom to call in an emergency, in that order; a demonstration may leave it out and shows blank lines.",
);

const NUMBER: &[SettingField] = &[
    SettingField::new("label", SettingType::Text, "Who answers.")
        .needed("a caller must know who answers"),
    SettingField::new(
        "number",
        SettingType::Text,
        "The number as a phone dials it, with spaces, hyphens or brackets between the digits.",
    )
    .needed("a number is there to be dialled"),
    SettingField::new(
        "note",
        SettingType::Text,
        "What to say there, or what else to try, such as a radio channel.",
    ),
];

/// Every number that a phone can dial. A handbook for work has one at the least.
pub fn emergency(settings: &mut Settings) -> Vec<EmergencyNumber> {
    if !settings.has("emergency") && !settings.truth("demonstration") {
        let fault = settings.error(
            Code::NoEmergency,
            &(0..0),
            "the handbook says of nobody whom to call in an emergency",
        );
        fault.help = Some(
            "write [[emergency]] with label and number at the end of handbook.toml; only a \
             handbook with demonstration = true does without"
                .into(),
        );
    }
    let numbers = settings.tables("emergency", |one, _| {
        let label = one.text("label")?.value;
        let number: Placed<String> = one.text("number")?;
        if dialled(&number.value).is_none() {
            let message = format!("`{}` is no number that a phone dials", number.value);
            let fault = one.error(Code::BadPhone, &number.span, message);
            fault.help = Some(
                "write digits, with spaces, hyphens or brackets between them and + before a \
                 country's; a radio channel stands under note"
                    .into(),
            );
            return None;
        }
        Some(EmergencyNumber {
            label,
            number: number.value.trim().to_string(),
            note: one.plain("note"),
        })
    });
    numbers.into_iter().flatten().collect()
}

/// What a phone is told to dial: the digits, and a plus before them.
pub fn dialled(number: &str) -> Option<String> {
    let mut digits = String::new();
    for letter in number.trim().chars() {
        match letter {
            '0'..='9' => digits.push(letter),
            '+' if digits.is_empty() => digits.push('+'),
            ' ' | '-' | '.' | '(' | ')' | '/' | '\u{A0}' => {}
            _ => return None,
        }
    }
    let count = digits.chars().filter(char::is_ascii_digit).count();
    (2..=15).contains(&count).then_some(digits)
}

#[cfg(test)]
mod tests {
    use super::dialled;

    // ITU-T E.164: a number has at most 15 digits, + stands for the international prefix
    #[test]
    fn what_a_phone_dials_is_the_digits_and_nothing_else_passes() {
        for (written, dials) in [
            ("112", "112"),
            ("911", "911"),
            ("+1 (555) 010-0123", "+15550100123"),
            ("0555/010 01", "055501001"),
        ] {
            assert_eq!(dialled(written).as_deref(), Some(dials), "{written}");
        }
        for refused in [
            "",
            "   ",
            "5",
            "channel 3",
            "12+34",
            "++49 30",
            "112;x",
            "1234567890123456",
        ] {
            assert_eq!(dialled(refused), None, "{refused}");
        }
    }
}
