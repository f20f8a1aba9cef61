//! What a page says now, beside what a card of it says.

use crate::handbook::history::Said;

/// One thing that is another: what it was and what it is, where it is there.
#[derive(Debug, PartialEq, Eq)]
pub struct AgedLine {
    /// What sort of thing, as in [`Said`].
    pub kind: String,
    pub from: Option<String>,
    pub to: Option<String>,
}

/// In this order: what hurts first.
const KINDS: [&str; 12] = [
    "hazard", "step", "head", "text", "value", "line", "row", "item", "picture", "block",
    "formula", "approver",
];

/// Everything that differs. Where all is there still, and only stands elsewhere, that is told.
pub fn changes(old: &[Said], new: &[Said]) -> Vec<AgedLine> {
    let changes: Vec<AgedLine> = KINDS
        .iter()
        .flat_map(|kind| of_kind(kind, old, new))
        .collect();
    if !changes.is_empty() || old == new {
        return changes;
    }
    vec![AgedLine {
        kind: "order".to_string(),
        from: None,
        to: None,
    }]
}

/// What of one sort is no more, and what is new; a value beside its own, else one after the other.
fn of_kind(kind: &str, old: &[Said], new: &[Said]) -> Vec<AgedLine> {
    let of = |all: &'_ [Said]| -> Vec<Said> {
        let same = all.iter().filter(|one| one.0 == kind);
        same.cloned().collect()
    };
    let gone = without(of(old), &of(new));
    let mut come = without(of(new), &of(old));
    let line = |from: Option<&Said>, to: Option<&Said>| AgedLine {
        kind: kind.to_string(),
        from: from.map(shown),
        to: to.map(shown),
    };
    let mut lines = Vec::new();
    for one in &gone {
        let at = match kind {
            // of the same inputs, else of the same name
            "value" => {
                let name = |said: &Said| said.1.split(' ').next().map(str::to_string);
                let same = come.iter().position(|other| other.1 == one.1);
                same.or_else(|| come.iter().position(|other| name(other) == name(one)))
            }
            _ => (!come.is_empty()).then_some(0),
        };
        let to = at.map(|at| come.remove(at));
        lines.push(line(Some(one), to.as_ref()));
    }
    lines.extend(come.iter().map(|one| line(None, Some(one))));
    lines
}

/// Those of `all` that aren't among the others, each as often as it is there more often. A step is the
/// same wherever it stands.
fn without(all: Vec<Said>, others: &[Said]) -> Vec<Said> {
    let mut others: Vec<&Said> = others.iter().collect();
    let same =
        |one: &Said, other: &Said| one.2 == other.2 && (one.0 != "value" || one.1 == other.1);
    let mut left = all;
    left.retain(
        |one| match others.iter().position(|other| same(one, other)) {
            Some(at) => {
                others.swap_remove(at);
                false
            }
            None => true,
        },
    );
    left
}

/// As the page says it: a step with its number, a drawing by what it is called.
fn shown(one: &Said) -> String {
    match one.0.as_str() {
        "step" => format!("{}. {}", one.1, one.2),
        // the mark behind what it is called tells nobody anything
        "picture" | "block" => one
            .2
            .rsplit_once(' ')
            .map_or(one.2.as_str(), |(name, _)| name)
            .to_string(),
        _ => one.2.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(lines: &[(&str, &str, &str)]) -> Vec<Said> {
        let one = |(kind, key, text): &(&str, &str, &str)| {
            Said(kind.to_string(), key.to_string(), text.to_string())
        };
        lines.iter().map(one).collect()
    }

    fn told(old: &[(&str, &str, &str)], new: &[(&str, &str, &str)]) -> Vec<String> {
        let text = |one: Option<String>| one.unwrap_or_else(|| "none".to_string());
        let lines = changes(&said(old), &said(new)).into_iter();
        lines
            .map(|one| format!("{}: {} > {}", one.kind, text(one.from), text(one.to)))
            .collect()
    }

    #[test]
    fn a_step_put_in_is_the_only_one_told() {
        let (open, shut, wait) = (
            ("step", "1", "Open it."),
            ("step", "2", "Shut it."),
            ("step", "1", "Wait."),
        );
        let later = [wait, ("step", "2", "Open it."), ("step", "3", "Shut it.")];
        assert_eq!(told(&[open, shut], &later), ["step: none > 1. Wait."]);
        assert_eq!(told(&later, &[open, shut]), ["step: 1. Wait. > none"]);
    }

    #[test]
    fn a_value_stands_beside_its_own_and_hazards_come_first() {
        let old = [
            ("value", "a", "Length: 1 in"),
            ("value", "b", "Depth: 2 in"),
            ("hazard", "", "CAUTION Hot."),
        ];
        let new = [
            ("value", "b", "Depth: 3 in"),
            ("value", "a", "Length: 1 in"),
            ("hazard", "", "DANGER Hot."),
        ];
        assert_eq!(
            told(&old, &new),
            [
                "hazard: CAUTION Hot. > DANGER Hot.",
                "value: Depth: 2 in > Depth: 3 in"
            ]
        );
    }

    #[test]
    fn what_stands_twice_and_then_once_is_told_and_so_is_another_order() {
        let row = ("row", "", "a | b");
        assert_eq!(told(&[row, row], &[row]), ["row: a | b > none"]);
        let (one, two) = (("step", "1", "Open it."), ("step", "2", "Shut it."));
        let turned = [("step", "1", "Shut it."), ("step", "2", "Open it.")];
        assert_eq!(told(&[one, two], &turned), ["order: none > none"]);
        assert!(told(&[one, two], &[one, two]).is_empty());
    }
}
