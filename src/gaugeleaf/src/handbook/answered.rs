//! Stops that somebody answered for in writing: an answer lets the publish through, and changes no
//! verdict.

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType, Settings};

use crate::language::tell;

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

impl Answered {
    /// Whether it is for this check.
    pub fn is_for(&self, calculator: &str, check: &str) -> bool {
        let of = self.check.value.strip_prefix(calculator);
        of.and_then(|rest| rest.strip_prefix('.')) == Some(check)
    }

    /// As it stands under the verdict.
    pub fn words(&self) -> String {
        tell::answered_by(self.because.trim(), self.by.trim())
    }
}

/// The answers that hold at one place.
#[derive(Debug, Clone, Copy, Default)]
pub struct StopAnswers<'h> {
    /// A prepared job's own.
    pub job: &'h [Answered],
    /// The handbook's, which hold for the kits and for every job.
    pub all: &'h [Answered],
}

impl<'h> StopAnswers<'h> {
    /// The answer to a stop of this check.
    pub fn to(&self, calculator: &str, check: &str) -> Option<&'h Answered> {
        let mut answers = self.job.iter().chain(self.all);
        answers.find(|one| one.is_for(calculator, check))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(check: &str, by: &str) -> Answered {
        Answered {
            check: Placed {
                value: check.to_string(),
                span: 0..0,
            },
            because: "it is braced".to_string(),
            by: by.to_string(),
        }
    }

    #[test]
    fn a_jobs_own_answer_comes_before_the_handbooks() {
        let own = [answer("rail-level.rail", "lead")];
        let all = [answer("rail-level.rail", "yard"), answer("a.b c", "yard")];
        let answers = StopAnswers {
            job: &own,
            all: &all,
        };
        let said = |calculator, check| answers.to(calculator, check).map(Answered::words);
        let lead = "Answered by lead: it is braced".to_string();
        assert_eq!(said("rail-level", "rail"), Some(lead));
        assert_eq!(
            said("a", "b c"),
            Some("Answered by yard: it is braced".to_string())
        );
        assert_eq!(said("rail-level", "rai"), None);
        assert_eq!(said("rail", "level.rail"), None);
    }
}
