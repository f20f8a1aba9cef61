//! What a calculator's results and verdicts may be when its inputs lie anywhere
//! in their spans.

use super::answer::Verdict;
use super::definition::{Calculator, Check, Output};
use super::resolver::Resolver;
use crate::formula::{Formula, Spread, Spreads, Value};
use crate::names::Names;

/// What is known of a result.
#[derive(Debug, Clone, PartialEq)]
pub enum Possible {
    /// It lies in here, if it exists.
    Known { spread: Spread, may_be_absent: bool },
    /// It surely doesn't exist.
    Absent,
    /// No span can be given.
    Unknown,
}

impl Possible {
    /// It exists, and lies in here.
    pub(crate) fn sure(spread: Spread) -> Possible {
        Possible::Known {
            spread,
            may_be_absent: false,
        }
    }
}

pub(crate) type Possibilities = Names<Possible>;

struct SpreadScope<'a> {
    known: &'a Possibilities,
    resolver: &'a dyn Resolver,
    /// What is enclosed is asked for only where a condition holds.
    guarded: bool,
}

impl Spreads for SpreadScope<'_> {
    fn spread(&self, name: &str) -> Option<Spread> {
        match self.known.get(name) {
            Some(Possible::Known { spread, .. }) => Some(spread.clone()),
            _ => None,
        }
    }

    fn entries(&self, table: &str, column: &str) -> Vec<Value> {
        self.resolver.entries(table, column)
    }

    fn guarded(&self) -> bool {
        self.guarded
    }
}

/// How the names that a formula reads stand.
enum Standing {
    Sure,
    MayBeAbsent,
    Absent,
    Unknown,
}

impl SpreadScope<'_> {
    fn standing(&self, formula: &Formula) -> Standing {
        let mut standing = Standing::Sure;
        for name in formula.names() {
            match self.known.get(name) {
                Some(Possible::Known {
                    may_be_absent: false,
                    ..
                }) => {}
                Some(Possible::Known { .. }) => standing = Standing::MayBeAbsent,
                Some(Possible::Absent) => return Standing::Absent,
                Some(Possible::Unknown) => return Standing::Unknown,
                None if name == "pi" => {}
                None => return Standing::Unknown,
            }
        }
        standing
    }
}

impl Possible {
    /// What it is where either holds.
    #[must_use]
    pub(super) fn or(self, other: Possible) -> Possible {
        match (self, other) {
            (
                Possible::Known {
                    spread: a,
                    may_be_absent: either,
                },
                Possible::Known {
                    spread: b,
                    may_be_absent: or,
                },
            ) => a
                .hull(b)
                .map_or(Possible::Unknown, |spread| Possible::Known {
                    spread,
                    may_be_absent: either || or,
                }),
            (Possible::Known { spread, .. }, Possible::Absent)
            | (Possible::Absent, Possible::Known { spread, .. }) => Possible::Known {
                spread,
                may_be_absent: true,
            },
            (Possible::Absent, Possible::Absent) => Possible::Absent,
            _ => Possible::Unknown,
        }
    }
}

impl Calculator {
    /// What some results may be by one evaluation of each; what these read besides is
    /// already known.
    pub(super) fn enclosed(
        &self,
        outputs: &[usize],
        known: Possibilities,
        resolver: &dyn Resolver,
    ) -> Possibilities {
        let mut known = known;
        for &at in outputs {
            let output = &self.outputs[at];
            let scope = SpreadScope {
                known: &known,
                resolver,
                guarded: false,
            };
            let possible = possible(output, scope);
            known.insert(output.name.clone(), possible);
        }
        known
    }
}

fn possible(output: &Output, mut scope: SpreadScope<'_>) -> Possible {
    let mut may_be_absent = false;
    if let Some((condition, _)) = &output.only_if {
        match scope.standing(condition) {
            Standing::Absent => return Possible::Absent,
            Standing::Unknown => return Possible::Unknown,
            Standing::MayBeAbsent => may_be_absent = true,
            Standing::Sure => {}
        }
        match condition.enclose(&scope) {
            Ok(Spread::Truth {
                may_hold: false, ..
            }) => return Possible::Absent,
            Ok(Spread::Truth { may_fail, .. }) => scope.guarded = may_fail,
            _ => return Possible::Unknown,
        }
        may_be_absent |= scope.guarded;
    }
    match scope.standing(&output.formula) {
        Standing::Absent => return Possible::Absent,
        Standing::Unknown => return Possible::Unknown,
        Standing::MayBeAbsent => may_be_absent = true,
        Standing::Sure => {}
    }
    match output.formula.enclose(&scope) {
        Ok(spread) => Possible::Known {
            spread,
            may_be_absent,
        },
        Err(_) => Possible::Unknown,
    }
}

/// Each once, the best first.
pub(super) fn in_order(found: &[Verdict]) -> Vec<Verdict> {
    let mut all = Verdict::ALL.to_vec();
    all.retain(|is| found.contains(is));
    all
}

/// The verdicts that a check may come to, the best first.
pub(crate) fn verdicts(
    check: &Check,
    known: &Possibilities,
    resolver: &dyn Resolver,
) -> Vec<Verdict> {
    let scope = SpreadScope {
        known,
        resolver,
        guarded: false,
    };
    let mut found = Vec::new();
    for case in &check.cases {
        let Some((condition, _)) = &case.when else {
            found.push(case.is);
            break;
        };
        match scope.standing(condition) {
            Standing::Unknown => {
                found.extend([Verdict::Go, Verdict::Caution, Verdict::Stop]);
                break;
            }
            Standing::Absent => {
                found.push(Verdict::Stop);
                break;
            }
            Standing::MayBeAbsent => found.push(Verdict::Stop),
            Standing::Sure => {}
        }
        match condition.enclose(&scope) {
            Ok(Spread::Truth { may_hold, may_fail }) => {
                if may_hold {
                    found.push(case.is);
                }
                if !may_fail {
                    break;
                }
            }
            _ => {
                found.extend([Verdict::Go, Verdict::Caution, Verdict::Stop]);
                break;
            }
        }
    }
    in_order(&found)
}
