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

pub(crate) type Possibilities = Names<Possible>;

struct SpreadScope<'a> {
    known: &'a Possibilities,
    resolver: &'a dyn Resolver,
}

impl Spreads for SpreadScope<'_> {
    fn spread(&self, name: &str) -> Option<Spread> {
        match self.known.get(name) {
            Some(Possible::Known { spread, .. }) => Some(spread.clone()),
            _ => None,
        }
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, String> {
        self.resolver.lookup(table, column, keys)
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, String> {
        self.resolver.found(table, keys)
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

impl Calculator {
    /// Every result's possibilities, for inputs given as spreads.
    pub(crate) fn possibilities(
        &self,
        inputs: Possibilities,
        resolver: &dyn Resolver,
    ) -> Possibilities {
        self.possibilities_of(&self.order, inputs, resolver)
    }

    /// The same for some results; what these read besides is already known.
    pub(super) fn possibilities_of(
        &self,
        outputs: &[usize],
        known: Possibilities,
        resolver: &dyn Resolver,
    ) -> Possibilities {
        let mut known = known;
        for &at in outputs {
            let output = &self.outputs[at];
            let possible = possible(
                output,
                &SpreadScope {
                    known: &known,
                    resolver,
                },
            );
            known.insert(output.name.clone(), possible);
        }
        known
    }
}

fn possible(output: &Output, scope: &SpreadScope<'_>) -> Possible {
    let mut may_be_absent = false;
    if let Some((condition, _)) = &output.only_if {
        match scope.standing(condition) {
            Standing::Absent => return Possible::Absent,
            Standing::Unknown => return Possible::Unknown,
            Standing::MayBeAbsent => may_be_absent = true,
            Standing::Sure => {}
        }
        match condition.enclose(scope) {
            Ok(Spread::Truth {
                may_hold: false, ..
            }) => return Possible::Absent,
            Ok(Spread::Truth { may_fail, .. }) => may_be_absent |= may_fail,
            _ => return Possible::Unknown,
        }
    }
    match scope.standing(&output.formula) {
        Standing::Absent => return Possible::Absent,
        Standing::Unknown => return Possible::Unknown,
        Standing::MayBeAbsent => may_be_absent = true,
        Standing::Sure => {}
    }
    match output.formula.enclose(scope) {
        Ok(spread) => Possible::Known {
            spread,
            may_be_absent,
        },
        Err(_) => Possible::Unknown,
    }
}

/// The verdicts that a check may come to, the best first.
pub(crate) fn verdicts(
    check: &Check,
    known: &Possibilities,
    resolver: &dyn Resolver,
) -> Vec<Verdict> {
    let scope = SpreadScope { known, resolver };
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
    found.sort();
    found.dedup();
    found
}
