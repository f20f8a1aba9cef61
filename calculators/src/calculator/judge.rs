//! What a check comes to: the first case that holds, as far as there is ground to say so.

use super::answer::{Answer, CheckResult, Verdict};
use super::band::Bands;
use super::definition::{Calculator, Case, Check};
use super::leaf::Leaf;
use super::open;
use super::resolver::Resolver;
use super::state::State;
use crate::formula::Value;
use crate::ground::{Footing, Ground};
use crate::message::Message;
use crate::message::tell::verdict as tell;

/// A check's verdict, and what it stands on.
pub(super) struct GroundedVerdict<'c> {
    pub is: Verdict,
    /// What the numbers by themselves come to.
    pub would: Option<Verdict>,
    pub footing: Footing,
    /// The case that holds.
    case: Option<&'c Case>,
    /// Why none can be told.
    fault: Option<Message>,
}

/// What the numbers by themselves say.
enum CasesTold<'c> {
    Case(&'c Case),
    /// Some case hangs on what nobody has given, and these are the verdicts that are left.
    Left(Vec<&'c Case>),
    /// It can't be told, and why.
    Fault(Message),
}

/// Judges by ground: what isn't this job's gives no verdict, and what is assumed gives one where
/// it holds over the whole usual band.
pub(super) fn judge<'c>(
    calculator: &Calculator,
    check: &'c Check,
    state: &State,
    bands: Option<&Bands<'_>>,
    resolver: &dyn Resolver,
) -> GroundedVerdict<'c> {
    let (told, mut footing) = told(check, state, resolver);
    // inside a tolerance another branch may hold, and it stands on what that one reads
    let beyond = match state.spread {
        true => beneath(calculator, check, state, &mut footing),
        false => None,
    };
    let told = as_said(told, calculator, check, state, beyond, &mut footing);
    let (would, case, fault) = match told {
        CasesTold::Case(case) => (Some(case.is), Some(case), None),
        // whatever is lacking, it can come to nothing but a stop
        CasesTold::Left(cases) if cases.iter().all(|case| case.is == Verdict::Stop) => {
            (Some(Verdict::Stop), cases.last().copied(), None)
        }
        CasesTold::Left(_) => {
            footing.ground = Ground::None;
            (None, None, None)
        }
        CasesTold::Fault(fault) => (Some(Verdict::Stop), None, Some(fault)),
    };
    let is = match would {
        Some(would) if footing.ground.bears() => would,
        Some(would) if footing.ground == Ground::Assumed => {
            let holds = bands.is_some_and(|bands| bands.verdicts(check) == [would]);
            if holds { would } else { Verdict::Open }
        }
        _ => Verdict::Open,
    };
    GroundedVerdict {
        is,
        would,
        footing,
        case,
        fault,
    }
}

/// The sentence has ground too: one that names what nobody has given says nothing, and one
/// without any condition stands on what it names alone. Nor is there a go beside a result that
/// isn't this job's: a reader takes the sign for the whole calculator's. A rule that always holds
/// has no such sign. A stop is told whatever it lacks. `beyond` is what another branch would read
/// and nobody has given.
fn as_said<'c>(
    told: CasesTold<'c>,
    calculator: &Calculator,
    check: &Check,
    state: &State,
    beyond: Option<Footing>,
    footing: &mut Footing,
) -> CasesTold<'c> {
    let CasesTold::Case(case) = told else {
        return told;
    };
    if case.is == Verdict::Stop {
        return told;
    }
    let bare = check.cases.iter().all(|case| case.when.is_none());
    let mut lacks = beyond.is_some();
    beyond.iter().for_each(|beyond| footing.join(beyond));
    for output in &calculator.outputs {
        if let Some(missing) = state.missing.get(&output.name) {
            footing.join(missing);
            lacks = true;
        }
        if !check.standing {
            for known in state.beneath(&output.name).into_iter().flatten() {
                if known.ground < Ground::Assumed {
                    footing.join(known);
                }
            }
        }
    }
    for (name, _) in case.because.names() {
        if let Some(missing) = state.missing.get(name) {
            footing.join(missing);
            lacks = true;
        } else if bare {
            for known in state.beneath(name).into_iter().flatten() {
                footing.join(known);
            }
        }
    }
    match lacks {
        true => CasesTold::Left(vec![case]),
        false => told,
    }
}

/// Joins all that a check may read, in whichever branch, as far as it has a value; and what of it
/// nobody has given.
fn beneath(
    calculator: &Calculator,
    check: &Check,
    state: &State,
    footing: &mut Footing,
) -> Option<Footing> {
    let mut lacking: Option<Footing> = None;
    for name in calculator.behind(check.reads()) {
        for known in state.beneath(name).into_iter().flatten() {
            footing.join(known);
        }
        if let Some(missing) = state.missing.get(name) {
            lacking.get_or_insert_default().join(missing);
        }
    }
    lacking
}

fn told<'c>(check: &'c Check, state: &State, resolver: &dyn Resolver) -> (CasesTold<'c>, Footing) {
    let known = state.known(resolver);
    let mut lacking = Footing::default();
    let mut left: Vec<&Case> = Vec::new();
    for case in &check.cases {
        let holds = match &case.when {
            None => Ok(Value::Truth(true)),
            // what one case lacks says nothing of the next
            Some((formula, _)) => {
                let asked = state.known(resolver);
                match (formula.evaluate(&asked), asked.lacked()) {
                    (Err(_), true) => {
                        lacking.join(&state.lacking(formula));
                        left.push(case);
                        continue;
                    }
                    (found, _) => {
                        known.also(&asked);
                        found
                    }
                }
            }
        };
        match holds {
            Ok(Value::Truth(true)) if left.is_empty() => {
                return (CasesTold::Case(case), known.footing());
            }
            Ok(Value::Truth(true)) => {
                left.push(case);
                break;
            }
            Ok(_) => {}
            Err(fault) => return (CasesTold::Fault(fault.message), known.footing()),
        }
    }
    let mut footing = known.footing();
    if left.is_empty() {
        return (CasesTold::Fault(tell::no_case()), footing);
    }
    if left.iter().any(|case| case.is != Verdict::Stop) {
        footing.join(&lacking);
    }
    (CasesTold::Left(left), footing)
}

impl Calculator {
    /// What there is to say of a value that something hangs on; of an input that was typed, the
    /// graph knows nothing.
    pub(super) fn own_leaf(&self, name: &str, state: &State, resolver: &dyn Resolver) -> Leaf {
        let own = name
            .split_once('.')
            .filter(|(calculator, _)| *calculator == self.name)
            .and_then(|(_, input)| Some((self.input(input)?, state.footing(input)?)));
        match own {
            Some((input, footing)) => Leaf {
                name: name.to_string(),
                label: input.field.label.clone(),
                ground: footing.ground,
                ..resolver.leaf(name)
            },
            None => resolver.leaf(name),
        }
    }
}

/// The result as a person is told it.
pub(super) fn result(
    calculator: &Calculator,
    check: &Check,
    state: &State,
    bands: Option<&Bands<'_>>,
    answer: &Answer,
    resolver: &dyn Resolver,
) -> CheckResult {
    let judged = judge(calculator, check, state, bands, resolver);
    let said = match (judged.case, &judged.fault) {
        (Some(case), _) => calculator.sentence(&case.because, &state.values, answer),
        (None, Some(fault)) => tell::not_checked(fault),
        (None, None) => Message::default(),
    };
    let leaf = |name: &String| calculator.own_leaf(name, state, resolver);
    let leaves = || judged.footing.weak.iter().map(leaf);
    let (because, needs) = if judged.is == Verdict::Open {
        let needs: Vec<Leaf> = leaves().filter(open::hinders).collect();
        let needs = if needs.is_empty() {
            leaves().collect()
        } else {
            needs
        };
        (open::because(&needs, judged.would, &said), needs)
    } else {
        (said, Vec::new())
    };
    CheckResult {
        check: check.name.clone(),
        is: judged.is,
        would: judged.would,
        because,
        may_be: Vec::new(),
        needs,
        standing: check.standing,
        case: judged.case.and_then(|met| {
            let mut cases = check.cases.iter();
            cases.position(|case| std::ptr::eq(case, met))
        }),
        of: None,
    }
}
