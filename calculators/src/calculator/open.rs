//! Why a verdict is open, in words: what to measure, to set or to confirm.

use super::answer::Verdict;
use super::leaf::Leaf;
use crate::ground::Ground;
use crate::message::Message;
use crate::message::tell::open as tell;
use crate::named::Role;
use crate::words::joined;

/// More are counted.
const MOST_NAMED: usize = 5;

/// Whether it keeps a verdict open by itself; what is assumed does so only where it decides.
pub(super) fn hinders(leaf: &Leaf) -> bool {
    leaf.ground < Ground::Assumed
}

/// The sentences for an open verdict; `said` is what the check says to the numbers, if there are any.
pub(super) fn because(needs: &[Leaf], would: Option<Verdict>, said: &Message) -> Message {
    let mut lines = Vec::new();
    let of = |ground: Ground| needs.iter().filter(move |leaf| leaf.ground == ground);
    let measured = |leaf: &&Leaf| leaf.role != Some(Role::Rating);
    let none: Vec<&Leaf> = of(Ground::None).collect();
    let (measure, set): (Vec<&Leaf>, Vec<&Leaf>) = none.into_iter().partition(measured);
    lines.extend(names(&measure).map(|names| tell::not_measured(&names)));
    lines.extend(names(&set).map(|names| tell::not_set(&names)));
    for leaf in of(Ground::Doubted) {
        lines.push(tell::of_value(&leaf.from, &leaf.label));
    }
    let examples: Vec<&Leaf> = of(Ground::Example).collect();
    if let Some(whom) = whom(needs) {
        lines.extend(names(&examples).map(|names| match job_of(needs) {
            "" => tell::of_examples(&names),
            job => tell::of_job(&job, &names),
        }));
        if let Some(would) = would.filter(|_| none_missing(needs)) {
            lines.push(tell::would(&would.told(), said, &whom));
        }
    }
    for leaf in of(Ground::Assumed) {
        lines.push(tell::assumed(&leaf.from, &leaf.label));
    }
    Message::joined(&lines, " ")
}

/// For whom the numbers hold that are no more than examples: `For T1`.
pub(super) fn whom(needs: &[Leaf]) -> Option<Message> {
    needs.iter().find(|leaf| leaf.ground == Ground::Example)?;
    Some(match job_of(needs) {
        "" => tell::for_example(),
        job => tell::for_job(&job),
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

/// As many as are named, in lower case, and how many more there are.
fn names(leaves: &[&Leaf]) -> Option<Message> {
    let mut labels: Vec<String> = leaves
        .iter()
        .map(|leaf| leaf.label.chars().flat_map(char::to_lowercase).collect())
        .collect();
    if labels.is_empty() {
        return None;
    }
    let more = labels.len().saturating_sub(MOST_NAMED);
    labels.truncate(MOST_NAMED);
    let names = joined(&labels, ", ");
    Some(match more {
        0 => Message::data(&names),
        _ => tell::more(&more.to_string(), &names),
    })
}
