//! Stops that somebody answered for in writing: an answer lets the publish through, and changes no
//! verdict.

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType, Settings};

/// One stop, and who answers for it with what reason.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answered {
    /// `calculator.check`.
    pub check: Placed<String>,
    pub because: String,
    pub by: String,
}

/// The key, in handbook.toml and in a page's `page` block.
pub const ANSWERED: SettingField = SettingField::new(
    "answered",
    SettingType::Tables(ANSWER),
    "Stops that somebody answers for; they stay stops, and the handbook is published all the same.",
);

const ANSWER: &[SettingField] = &[
    SettingField::new(
        "check",
        SettingType::Text,
        "The check that stops, as `calculator.check`.",
    )
    .needed("an answer is for one check"),
    SettingField::new("because", SettingType::Text, "Why the stop may stand here.")
        .needed("a stop is published for a reason"),
    SettingField::new("by", SettingType::Text, "Who answers for it.")
        .needed("somebody answers for a stop"),
];

/// Every answer that is whole.
pub fn answered(settings: &mut Settings) -> Vec<Answered> {
    let answers = settings.tables("answered", |answer, _| {
        let whole = |key| {
            answer
                .text(key)
                .filter(|text| !text.value.trim().is_empty())
        };
        Some(Answered {
            check: whole("check")?,
            because: whole("because")?.value,
            by: whole("by")?.value,
        })
    });
    answers.into_iter().flatten().collect()
}
