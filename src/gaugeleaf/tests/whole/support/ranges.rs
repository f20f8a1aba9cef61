//! Whether a finding's range holds the words that it speaks of.

use gaugeleaf_finding::{Code, Finding};

/// Codes that speak of a whole file, or of what is no text: they may have no range.
const WHOLE: [Code; 26] = [
    Code::NothingSet,
    Code::NoHandbook,
    Code::NoFrontPage,
    Code::NoPhase,
    Code::NoTitle,
    Code::EmptyPage,
    Code::EmptyFile,
    Code::BadFileName,
    Code::DeepPage,
    Code::DeepPhase,
    Code::NameTaken,
    Code::UnportableName,
    Code::Unreadable,
    Code::NotUtf8,
    Code::TooLarge,
    Code::LeavesTheFolder,
    Code::LinkedFolder,
    Code::UnusedFile,
    Code::NoEngine,
    Code::HeavyPage,
    Code::NoReview,
    Code::NoPeople,
    Code::NoTools,
    Code::MissingSetting,
    Code::NoKitNamed,
    Code::WrongFolder,
];

/// What a message says, of which code, when it quotes what stands elsewhere, and why it may.
const ELSEWHERE: [(Code, &str, &str); 20] = [
    (
        Code::BadSettings,
        "expected",
        "it is what the reader of TOML wants there",
    ),
    (
        Code::MissingSetting,
        "is missing",
        "what is missing has no place",
    ),
    (
        Code::MissingSetting,
        "doesn't say its",
        "what is missing has no place",
    ),
    (Code::Case, "has no `when`", "what is missing has no place"),
    (Code::Example, "leaves out", "what is missing has no place"),
    (Code::Figure, "needs `", "what is missing has no place"),
    (Code::Figure, "is missing", "what is missing has no place"),
    (Code::Formula, "is missing", "what is missing has no place"),
    (
        Code::Example,
        "the formula gives",
        "it is what the formula gives",
    ),
    (
        Code::Example,
        "the checks give",
        "it is what the checks give",
    ),
    (Code::ValueDiffers, "gives", "it is what the engine gives"),
    (
        Code::BadDraw,
        "is more than",
        "the other end stands beside it",
    ),
    (
        Code::BadDraw,
        "don't lead from",
        "the ends stand beside the step",
    ),
    (Code::Name, "and its file", "it is the file's name"),
    (
        Code::UnknownInput,
        "takes no inputs",
        "the name stands before its inputs",
    ),
    (
        Code::MissingSetting,
        "has neither",
        "what is missing has no place",
    ),
    (
        Code::Unit,
        "and `unit` is",
        "the other unit stands beside it",
    ),
    (Code::BadVariant, "with ", "it is a number that was drawn"),
    (
        Code::WrongKind,
        "wanted",
        "the setting's name stands before its value",
    ),
    (
        Code::WrongKind,
        "wants",
        "the setting's name stands before its value",
    ),
];

/// What a message quotes between backticks.
pub fn quoted(message: &str) -> impl Iterator<Item = &str> {
    message
        .split('`')
        .skip(1)
        .step_by(2)
        .filter(|text| !text.is_empty())
}

/// What is wrong with a finding's range, if anything.
pub fn fault(finding: &Finding, text: &str) -> Option<String> {
    let span = finding.span.clone();
    let Some(held) = text.get(span.clone()) else {
        return Some("its range is no part of the file".to_string());
    };
    if held.is_empty() && !WHOLE.contains(&finding.code) {
        return Some("its range is empty".to_string());
    }
    if speaks_of_elsewhere(finding) {
        return None;
    }
    quoted(&finding.message)
        .find(|quote| text.contains(quote) && !held.contains(quote))
        .map(|quote| format!("`{quote}` stands in the file, and not in its range {held:?}"))
}

/// Whether a message may quote what stands outside its range.
pub fn speaks_of_elsewhere(finding: &Finding) -> bool {
    let mut elsewhere = ELSEWHERE.iter();
    elsewhere.any(|(code, says, _)| *code == finding.code && finding.message.contains(says))
}
