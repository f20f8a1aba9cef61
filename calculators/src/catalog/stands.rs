//! Ground over the whole graph: no verdict is more than what it stands on, whatever the job.

use proptest::prelude::*;

use super::*;
use crate::calculator::{Argument, Unresolved, Verdict};
use crate::field::{Field, FieldKind};
use crate::ground::Ground;
use crate::message::in_english;
use crate::named::may_be_assumed;
use crate::testing::{CATALOG, demonstration};
use crate::{SourceFile, builtin};

/// Every check's verdict, in the order of the graph; none where a value keeps the calculator from
/// any result.
fn verdicts(job: &Job) -> Vec<(String, Option<Verdict>)> {
    let outcomes = CATALOG.outcomes(job).into_iter();
    let checks = outcomes.flat_map(|one| {
        let checks = one.calculator.checks.iter().enumerate();
        let named = checks.map(|(at, check)| {
            let name = format!("{}.{}", one.calculator.name, check.name);
            (name, one.verdicts.get(at).copied())
        });
        named.collect::<Vec<_>>()
    });
    checks.collect()
}

/// A value between the field's usual limits, or one of its choices.
fn another(field: &Field, part: f64) -> String {
    match &field.kind {
        FieldKind::Number { format, usual, .. } => {
            let (low, high) = usual.expect("every named number has a usual band");
            let main = &format.main;
            let value = main.unit.from_si_as(low + (high - low) * part, main.kind);
            match main.unit.symbol.as_str() {
                "count" => format!("{value:.0}"),
                symbol => format!("{value:.4} {symbol}"),
            }
        }
        FieldKind::Choice(choices) => {
            let last = choices.len() - 1;
            choices[((part * choices.len() as f64) as usize).min(last)]
                .name
                .clone()
        }
    }
}

/// The demonstration's job with some of its values weakened: `None` takes one away.
fn weakened(changes: &[(usize, Option<Ground>)]) -> Job {
    let mut job = Job::new();
    let whole = demonstration();
    let names: Vec<&String> = whole.iter().map(|(name, _)| name).collect();
    let change = |name: &String| {
        let mut found = changes.iter().rev();
        found
            .find(|(at, _)| names[at % names.len()] == name)
            .map(|(_, to)| *to)
    };
    for (name, held) in whole.iter() {
        match change(name) {
            // what is assumed instead has a value of its own
            Some(None) if !may_be_assumed(name) => {}
            Some(None) | None => job.set(name, &held.text, held.ground, ""),
            Some(Some(ground)) => job.set(name, &held.text, ground, ""),
        }
    }
    job
}

fn change() -> impl Strategy<Value = (usize, Option<Ground>)> {
    let to = prop_oneof![
        Just(None),
        Just(Some(Ground::Example)),
        Just(Some(Ground::Doubted))
    ];
    (0usize..1000, to)
}

/// A job in hand whose first entry of this name was refused.
fn refused(name: &str) -> Job {
    let taken = Taken {
        refused: "4 cubits".into(),
        ..Taken::default()
    };
    CATALOG.job_of(&Whose::InHand {
        name: "E-204",
        kit: "none",
        given: Names::from([(name.to_string(), taken)]),
    })
}

#[test]
fn no_usual_value_stands_in_for_a_first_entry_that_was_refused() {
    let assumed = CATALOG
        .named
        .iter()
        .filter(|(_, named)| named.assumed.is_some());
    let mut seen = 0;
    for (name, _) in assumed {
        let job = refused(name);
        let leaf = CATALOG.leaf(name, &job);
        assert_eq!(leaf.ground, Ground::Doubted);
        assert_eq!(in_english(&leaf.from), "4 cubits was not taken");
        let resolver = CATALOG.resolver(&job);
        assert!(
            matches!(resolver.named(name), Err(Unresolved::Missing(_))),
            "{name}"
        );
        seen += 1;
    }
    assert!(seen > 0);
}

#[test]
fn what_stands_on_a_first_entry_that_was_refused_is_open_and_not_stuck() {
    let mut job = demonstration();
    let before = verdicts(&job);
    job.set("water_temperature", "", Ground::Doubted, "4 cubits");
    let after = verdicts(&job);
    assert_eq!(before.len(), after.len());
    let changed: Vec<_> = before
        .iter()
        .zip(&after)
        .filter(|(was, is)| was != is)
        .collect();
    assert!(!changed.is_empty());
    for ((check, was), (_, is)) in changed {
        assert_eq!(*is, Some(Verdict::Open), "{check} was {was:?}");
    }
    assert_eq!(CATALOG.worst(&job), CATALOG.judged_sheet(&job).worst());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn a_weaker_ground_never_brings_a_verdict_nearer_to_go(
        changes in proptest::collection::vec(change(), 0..8), one in change(),
    ) {
        let before = verdicts(&weakened(&changes));
        let after = verdicts(&weakened(&[&changes[..], &[one]].concat()));
        for ((check, was), (_, is)) in before.iter().zip(&after) {
            // the last change may firm up again what an earlier one had weakened
            let firmer = *was == Some(Verdict::Open);
            let weaker = is == was || *is == Some(Verdict::Open);
            prop_assert!(firmer || weaker, "{check}: {was:?} to {is:?}");
        }
    }

    #[test]
    fn a_go_is_the_same_whatever_stands_where_nobody_measured(
        changes in proptest::collection::vec(change(), 1..12), part in 0.0f64..1.0,
    ) {
        let job = weakened(&changes);
        let mut other = job.clone();
        for named in CATALOG.named.values() {
            let name = &named.field.name;
            match job.get(name).map(|held| held.ground) {
                Some(ground) if ground.bears() => {}
                Some(ground) => other.set(name, &another(&named.field, part), ground, ""),
                None if may_be_assumed(name) => {}
                None => other.set(name, &another(&named.field, part), Ground::Measured, ""),
            }
        }
        for ((check, was), (_, is)) in verdicts(&job).iter().zip(&verdicts(&other)) {
            let told = matches!(was, Some(Verdict::Go | Verdict::Caution));
            prop_assert!(!told || is.is_none() || is == was, "{check}: {was:?} to {is:?}");
        }
    }
}

#[test]
fn what_is_assumed_gives_a_go_only_over_its_whole_band() {
    for name in CATALOG.named.keys().filter(|name| may_be_assumed(name)) {
        let whole = demonstration();
        let mut job = Job::new();
        let kept = whole.iter().filter(|(one, _)| *one != name);
        kept.for_each(|(one, held)| job.set(one, &held.text, held.ground, ""));
        let field = &CATALOG.named[name.as_str()].field;
        let assumed = verdicts(&job);
        for tenth in 0..=10 {
            job.set(
                name,
                &another(field, f64::from(tenth) / 10.0),
                Ground::Measured,
                "",
            );
            for ((check, was), (_, is)) in assumed.iter().zip(&verdicts(&job)) {
                let open = *was == Some(Verdict::Open);
                assert!(
                    open || is.is_none() || was == is,
                    "{name}, {tenth}: {check}"
                );
            }
        }
    }
}

/// The second half of the condition is read inside the tolerance alone.
const POST: &str = r#"
[calculator]
name = "post"
title = "Post"
purpose = "For tests."
not_counted = "Nothing."

[[input]]
name = "side"
label = "Side"
unit = "in"
print = "1/8"
default = "2 in"

[[input]]
name = "reach"
label = "Reach"
unit = "in"
print = "1/8"
from = "channel_depth"

[[output]]
name = "area"
label = "Area"
unit = "in2"
print = "1"
round = "up"
formula = "side * side"

[[check]]
name = "fits"
case = [
  { when = "side > 3 in and reach < 1 in", is = "stop", because = "Too wide." },
  { is = "go", because = "It fits." },
]

[[example]]
source = "by hand"
given = { side = "2 in", reach = "2 in" }
expect = { area = "4 in2" }

[[example]]
source = "by hand"
given = { side = "3 in", reach = "2 in" }
expect = { area = "9 in2" }
"#;

#[test]
fn inside_a_tolerance_a_go_stands_on_what_any_branch_reads() {
    let mut files = builtin();
    files.push(SourceFile {
        path: "post.toml".into(),
        text: POST.into(),
    });
    let (catalog, _) = Catalog::load(&files);
    let is = |side: &str| {
        let given = [Argument::new("side", side)];
        let answer = catalog
            .calculate("post", &given, &Job::new())
            .expect("known");
        answer.worst()
    };
    assert_eq!(is("2 in"), Some(Verdict::Go), "the reach isn't read");
    assert_eq!(
        is("2 in +- 2 in"),
        Some(Verdict::Open),
        "and here it may be"
    );
}

#[test]
fn a_rule_that_always_holds_can_not_hide_a_stop() {
    let standing = POST.replace("name = \"fits\"\n", "name = \"fits\"\nstanding = true\n");
    let mut files = builtin();
    files.push(SourceFile {
        path: "post.toml".into(),
        text: standing,
    });
    let (_, findings) = Catalog::load(&files);
    assert_eq!(findings[0].code.name(), "case", "{findings:?}");
}

#[test]
fn there_is_no_go_beside_a_result_that_is_another_jobs() {
    let given = demonstration();
    for (name, held) in given.iter() {
        let mut job = given.clone();
        job.set(name, &held.text, Ground::Example, "T2");
        for answer in CATALOG.setup_sheet(&job).answers {
            let mut outputs = answer.outputs.iter();
            if outputs.any(|output| output.footing.ground < Ground::Assumed) {
                let go = answer
                    .checks
                    .iter()
                    .find(|check| !check.standing && check.is < Verdict::Open);
                assert_eq!(
                    go.map(|check| &check.check),
                    None,
                    "{}: {name}",
                    answer.calculator
                );
            }
        }
    }
}
