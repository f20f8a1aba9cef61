//! Why a verdict is open, in words: what to measure, to set or to confirm.

use super::answer::Verdict;
use super::leaf::Leaf;
use crate::ground::Ground;
use crate::named::Role;
use crate::words::joined;

/// More are counted.
const MOST_NAMED: usize = 5;

/// Whether it keeps a verdict open by itself; what is assumed does so only where it decides.
pub(super) fn hinders(leaf: &Leaf) -> bool {
    leaf.ground < Ground::Assumed
}

/// The sentences for an open verdict; `said` is what the check says to the numbers, if there are any.
pub(super) fn because(needs: &[Leaf], would: Option<Verdict>, said: &str) -> String {
    let mut lines = Vec::new();
    let of = |ground: Ground| needs.iter().filter(move |leaf| leaf.ground == ground);
    let measured = |leaf: &&Leaf| leaf.role != Some(Role::Rating);
    let none: Vec<&Leaf> = of(Ground::None).collect();
    let (measure, set): (Vec<&Leaf>, Vec<&Leaf>) = none.into_iter().partition(measured);
    lines.extend(listed("Not measured", &measure));
    lines.extend(listed("Not set", &set));
    for leaf in of(Ground::Doubted) {
        lines.push(format!("{}: {}", leaf.label, leaf.from));
    }
    let examples: Vec<&Leaf> = of(Ground::Example).collect();
    if let Some(whom) = whom(needs) {
        let job = job_of(needs);
        let whose = if job.is_empty() {
            "Examples, not this job's values".to_string()
        } else {
            format!("{job}'s, not this job's")
        };
        lines.extend(listed(&whose, &examples));
        if let Some(would) = would.filter(|_| none_missing(needs)) {
            lines.push(format!("{whom} this is {}: {said}", would.word()));
        }
    }
    for leaf in of(Ground::Assumed) {
        lines.push(format!(
            "{} is {}, and this changes inside that: measure it.",
            leaf.label, leaf.from
        ));
    }
    joined(&lines, " ")
}

/// For whom the numbers hold that are no more than examples: `For T1`.
pub(super) fn whom(needs: &[Leaf]) -> Option<String> {
    needs.iter().find(|leaf| leaf.ground == Ground::Example)?;
    Some(match job_of(needs) {
        "" => "For the example".to_string(),
        job => format!("For {job}"),
    })
}

/// The job whose values are among the examples; "" where they are nobody's.
pub(super) fn job_of(needs: &[Leaf]) -> &str {
    let mut examples = needs.iter().filter(|leaf| leaf.ground == Ground::Example);
    examples
        .find(|leaf| !leaf.job.is_empty())
        .map_or("", |leaf| &leaf.job)
}

fn none_missing(needs: &[Leaf]) -> bool {
    needs.iter().all(|leaf| leaf.ground != Ground::None)
}

fn listed(head: &str, leaves: &[&Leaf]) -> Option<String> {
    let mut labels: Vec<String> = leaves
        .iter()
        .map(|leaf| leaf.label.chars().flat_map(char::to_lowercase).collect())
        .collect();
    if labels.is_empty() {
        return None;
    }
    let more = labels.len().saturating_sub(MOST_NAMED);
    labels.truncate(MOST_NAMED);
    let more = if more > 0 {
        format!(" and {more} more")
    } else {
        String::new()
    };
    Some(format!("{head}: {}{more}.", joined(&labels, ", ")))
}
