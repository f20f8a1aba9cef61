//! What follows from a fault, folded under it: one mend mends them all.
//!
//! A finding says what it breaks and what it may follow from by the names of things: a
//! calculator's or a measurement's name, `calculator.part` for a part of one, a file's path.

use std::collections::BTreeMap;

use crate::finding::Finding;

/// Findings with what follows from each under it, in the order given. What has no cause among
/// them stands by itself.
pub fn fold(findings: Vec<Finding>) -> Vec<Finding> {
    let causes = causes(&findings);
    let roots: Vec<usize> = (0..findings.len()).map(|at| root(at, &causes)).collect();
    let mut folded: Vec<Option<Finding>> = findings.into_iter().map(Some).collect();
    for (at, root) in roots.into_iter().enumerate() {
        if at != root
            && let Some(follower) = folded[at].take()
            && let Some(cause) = &mut folded[root]
        {
            cause.ties.followed_by.push(follower);
        }
    }
    folded.into_iter().flatten().collect()
}

/// The finding that each one follows from, if it is among them.
fn causes(findings: &[Finding]) -> Vec<Option<usize>> {
    let mut breakers: BTreeMap<&str, usize> = BTreeMap::new();
    // what follows from nothing is the likelier cause
    for follows in [false, true] {
        for (at, finding) in findings.iter().enumerate() {
            if finding.ties.follows.is_empty() != follows {
                for thing in &finding.ties.breaks {
                    breakers.entry(thing).or_insert(at);
                }
            }
        }
    }
    let cause = |(at, finding): (usize, &Finding)| {
        let mut things = finding.ties.follows.iter();
        things.find_map(|thing| {
            let cause = *breakers.get(thing.as_str())?;
            // an error under a warning would stop no publish
            (cause != at && findings[cause].level <= finding.level).then_some(cause)
        })
    };
    findings.iter().enumerate().map(cause).collect()
}

/// The first cause of all; of findings that follow from each other, the first of them.
fn root(at: usize, causes: &[Option<usize>]) -> usize {
    let mut path = vec![at];
    let mut last = at;
    while let Some(cause) = causes[last] {
        if let Some(start) = path.iter().position(|known| *known == cause) {
            return path[start..].iter().copied().min().unwrap_or(at);
        }
        path.push(cause);
        last = cause;
    }
    last
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::code::Code;

    fn error(message: &str) -> Finding {
        Finding::error(Code::Figure, "f", 0..0, message)
    }

    fn told(findings: Vec<Finding>) -> Vec<(String, Vec<String>)> {
        let folded = fold(findings).into_iter();
        folded
            .map(|one| {
                let followers = one.ties.followed_by.into_iter().map(|one| one.message);
                (one.message, followers.collect())
            })
            .collect()
    }

    fn alone(message: &str) -> (String, Vec<String>) {
        (message.to_string(), Vec::new())
    }

    #[test]
    fn what_follows_stands_under_the_first_cause_and_what_has_none_by_itself() {
        let found = told(vec![
            error("page").follows(["slope"]),
            error("file").breaks(["slope"]),
            error("from").breaks(["other"]).follows(["slope"]),
            error("far").follows(["other"]),
            error("adrift").follows(["nothing"]),
        ]);
        let under = ["page", "from", "far"].map(str::to_string).to_vec();
        assert_eq!(found, [("file".to_string(), under), alone("adrift")]);
    }

    #[test]
    fn findings_that_follow_from_each_other_or_from_a_warning_are_not_lost() {
        let found = told(vec![
            error("a").breaks(["a"]).follows(["b"]),
            error("b").breaks(["b"]).follows(["a"]),
        ]);
        assert_eq!(found, [("a".to_string(), vec!["b".to_string()])]);
        let warning = Finding::warning(Code::Figure, "f", 0..0, "w").breaks(["x"]);
        let found = told(vec![warning, error("e").follows(["x"])]);
        assert_eq!(found, [alone("w"), alone("e")]);
        assert_eq!(
            told(vec![error("s").breaks(["s"]).follows(["s"])]),
            [alone("s")]
        );
    }
}
