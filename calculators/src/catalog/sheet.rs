//! The setup sheet: the whole graph evaluated once for one job.

use super::resolver::JobResolver;
use super::{Catalog, Job};
use crate::calculator::{
    Answer, Area, Calculator, CheckResult, Leaf, PrintedValue, Problem, Resolver, Unresolved,
    Verdict,
};
use crate::field::{Entry, FieldKind};
use crate::ground::Ground;
use crate::message::Message;
use crate::named::{NamedQuantity, Role};

/// Every measurement, rating, result and verdict of one job.
#[derive(Debug, Clone, PartialEq)]
pub struct SetupSheet {
    /// In the order in which the calculators ask for them; what none asks for comes last.
    pub measurements: Vec<NamedReading>,
    pub ratings: Vec<NamedReading>,
    /// Each calculator's answer without its working, after those whose results it takes.
    pub answers: Vec<Answer>,
    /// Some calculator with checks could not be worked out.
    pub stuck: bool,
}

/// A measurement or rating as one job has it.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedReading {
    pub name: String,
    pub label: String,
    /// As given, unrounded; why it is refused; or nothing, where nobody gave it.
    pub reading: Result<Option<PrintedValue>, Problem>,
    /// As given and in both unit systems, with its tolerance.
    pub understood: String,
    pub ground: Ground,
    /// Where it comes from, in a few words.
    pub from: Message,
    /// Some calculator takes it.
    pub used: bool,
    /// It lies outside the usual band.
    pub doubt: Option<Problem>,
}

impl SetupSheet {
    /// The measurements that nobody took on this job.
    pub fn missing(&self) -> impl Iterator<Item = &NamedReading> {
        let unmeasured = |one: &&NamedReading| one.ground != Ground::Measured;
        self.measurements.iter().filter(unmeasured)
    }

    /// What verdicts wait for, each once: what to measure first, then what to set.
    pub fn needs(&self) -> Vec<&Leaf> {
        let checks = self.answers.iter().flat_map(|answer| &answer.checks);
        let mut needs: Vec<&Leaf> = Vec::new();
        for leaf in checks.flat_map(|check| &check.needs) {
            if !needs.iter().any(|known| known.name == leaf.name) {
                needs.push(leaf);
            }
        }
        let set = |leaf: &&Leaf| leaf.role == Some(Role::Rating);
        let mut in_order = needs.clone();
        in_order.retain(|leaf| !set(leaf));
        in_order.extend(needs.into_iter().filter(set));
        in_order
    }

    fn of_job(&self) -> impl Iterator<Item = &CheckResult> {
        let checks = self.answers.iter().flat_map(|answer| &answer.checks);
        checks.filter(|check| check.counts())
    }

    /// How many checks come to this verdict, standing rules aside.
    pub fn count(&self, is: Verdict) -> usize {
        self.of_job().filter(|check| check.is == is).count()
    }

    /// The worst verdict of all; none without a check. What can't be judged is a stop.
    pub fn worst(&self) -> Option<Verdict> {
        let verdicts = self.of_job().map(|check| check.is);
        verdicts.chain(self.stuck.then_some(Verdict::Stop)).max()
    }

    /// The answers that could not be worked out.
    pub fn unanswered(&self) -> impl Iterator<Item = &Answer> {
        self.answers
            .iter()
            .filter(|answer| !answer.problems.is_empty())
    }

    /// The answers by the part of the job, in the order of the work; those of no part last.
    pub fn by_area<'s>(
        &'s self,
        catalog: &'s Catalog,
    ) -> Vec<(Message, Vec<(&'s Calculator, &'s Answer)>)> {
        let parts = Area::ALL.into_iter().map(Some).chain([None]);
        parts
            .map(|area| {
                let answers = self.answers.iter();
                let of_area: Vec<_> = answers
                    .filter_map(|answer| {
                        Some((catalog.calculators.get(&answer.calculator)?, answer))
                    })
                    .filter(|(calculator, _)| calculator.area == area)
                    .collect();
                (Area::title(area), of_area)
            })
            .filter(|(_, answers)| !answers.is_empty())
            .collect()
    }
}

impl Catalog {
    /// Evaluates the whole graph for one job, each calculator once.
    pub fn setup_sheet(&self, job: &Job) -> SetupSheet {
        let resolver = self.resolver(job);
        self.sheet_from(job, &resolver)
    }

    /// The same without a reading of any measurement or rating, each verdict where it counts: for
    /// whoever asks for the verdicts alone.
    pub fn judged_sheet(&self, job: &Job) -> SetupSheet {
        self.answered(&self.graph_order(), &self.resolver(job))
    }

    fn answered(&self, order: &[&Calculator], resolver: &JobResolver<'_>) -> SetupSheet {
        for calculator in order {
            resolver.answer(calculator);
        }
        let mut stuck = false;
        let mut answers = Vec::new();
        for calculator in order {
            if let Some(answer) = resolver.give_up(calculator) {
                stuck |= !calculator.checks.is_empty() && !answer.problems.is_empty();
                answers.push(answer);
            }
        }
        SetupSheet {
            measurements: Vec::new(),
            ratings: Vec::new(),
            answers,
            stuck,
        }
    }

    fn sheet_from(&self, job: &Job, resolver: &JobResolver<'_>) -> SetupSheet {
        let order = self.graph_order();
        let asked: Vec<&str> = order
            .iter()
            .flat_map(|calculator| &calculator.inputs)
            .filter_map(|input| input.from.as_ref())
            .map(|from| from.value.as_str())
            .collect();
        let mut named: Vec<&NamedQuantity> = self.named.values().collect();
        // a stable sort: what no calculator asks for stays in the order of names
        named.sort_by_cached_key(|named| {
            let place = asked.iter().position(|name| *name == named.field.name);
            place.unwrap_or(usize::MAX)
        });
        let readings = |role| {
            let of_role = named.iter().filter(|named| named.role == role);
            of_role
                .map(|named| NamedReading {
                    used: asked.contains(&named.field.name.as_str())
                        || self.cross_checks(&named.field.name),
                    ..reading(named, job, resolver)
                })
                .collect()
        };
        // before the answers are handed over, each worked out once
        let contradicted: Vec<Vec<CheckResult>> = order
            .iter()
            .map(|calculator| self.contradicted(&resolver.answer(calculator), resolver))
            .collect();
        let mut sheet = SetupSheet {
            measurements: readings(Role::Measurement),
            ratings: readings(Role::Rating),
            ..self.answered(&order, resolver)
        };
        for (answer, contradicted) in std::iter::zip(&mut sheet.answers, contradicted) {
            answer.checks.extend(contradicted);
        }
        sheet
    }

    /// Every calculator, each after those whose results it takes; else by name.
    pub fn graph_order(&self) -> Vec<&Calculator> {
        let mut order = Vec::new();
        let mut met: Vec<&str> = Vec::new();
        for calculator in self.calculators.values() {
            self.visit(calculator, &mut met, &mut order);
        }
        order
    }

    fn visit<'c>(
        &'c self,
        calculator: &'c Calculator,
        met: &mut Vec<&'c str>,
        order: &mut Vec<&'c Calculator>,
    ) {
        if met.contains(&calculator.name.as_str()) {
            return;
        }
        met.push(&calculator.name);
        for input in &calculator.inputs {
            let supplier = input
                .from
                .as_ref()
                .and_then(|from| from.value.split_once('.'))
                .and_then(|(name, _)| self.calculators.get(name));
            if let Some(supplier) = supplier {
                self.visit(supplier, met, order);
            }
        }
        order.push(calculator);
    }
}

fn reading(named: &NamedQuantity, job: &Job, resolver: &dyn Resolver) -> NamedReading {
    let mut understood = String::new();
    let reading = match resolver.resolve(&named.field.name) {
        Ok(resolved) => {
            let (reading, words) = printed(resolved.entry.clone(), &named.field.kind);
            understood = words;
            Ok(Some(reading))
        }
        Err(Unresolved::Missing(_)) => Ok(None),
        Err(Unresolved::Problem(problem)) => Err(problem),
    };
    let leaf = resolver.leaf(&named.field.name);
    NamedReading {
        name: named.field.name.clone(),
        label: named.field.label.clone(),
        reading,
        understood,
        ground: leaf.ground,
        from: leaf.from,
        used: false,
        doubt: job.doubt(named),
    }
}

fn printed(entry: Entry, kind: &FieldKind) -> (PrintedValue, String) {
    match (entry, kind) {
        (Entry::Number(typed), FieldKind::Number { format, .. }) => (
            PrintedValue::Number(format.echo(&typed)),
            format.understood(&typed),
        ),
        // a field takes only entries of its own kind
        (Entry::Number(typed), FieldKind::Choice(_)) => {
            let text = typed.value.to_string();
            let name = text.clone();
            let label = text.clone();
            (PrintedValue::Choice { name, label }, text)
        }
        (Entry::Choice(choice), _) => {
            let words = choice.label.clone();
            let (name, label) = (choice.name, choice.label);
            (PrintedValue::Choice { name, label }, words)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::builtin;

    fn job(values: &[(&str, &str)]) -> Job {
        let pairs = values.iter();
        pairs
            .map(|(name, text)| (name.to_string(), text.to_string()))
            .collect()
    }

    #[test]
    fn a_sheet_says_what_each_calculator_says_by_itself() {
        let (catalog, _) = Catalog::load(&builtin());
        let job = job(&[
            ("channel_depth", "5 in +- 1/8 in"),
            ("tube_pitch", "7/8 in"),
        ]);
        let sheet = catalog.setup_sheet(&job);
        assert_eq!(sheet.answers.len(), catalog.calculators.len());
        for answer in &sheet.answers {
            let mut alone = catalog.calculate(&answer.calculator, &[], &job).unwrap();
            alone.working.clear();
            assert_eq!(*answer, alone);
        }
    }

    #[test]
    fn each_calculator_is_evaluated_once() {
        let (catalog, _) = Catalog::load(&builtin());
        let job = job(&[("tube_pitch", "15/16 in"), ("tubes_counted", "3")]);
        let resolver = catalog.resolver(&job);
        catalog.sheet_from(&job, &resolver);
        let mut runs = resolver.runs.borrow().clone();
        runs.sort();
        let names: Vec<String> = catalog.calculators.keys().cloned().collect();
        assert_eq!(runs, names);
    }

    #[test]
    fn a_calculator_comes_after_those_whose_results_it_takes() {
        let (catalog, _) = Catalog::load(&builtin());
        let order = catalog.graph_order();
        for (at, calculator) in order.iter().enumerate() {
            for from in calculator
                .inputs
                .iter()
                .filter_map(|input| input.from.as_ref())
            {
                if let Some((supplier, _)) = from.value.split_once('.') {
                    let earlier = &order[..at];
                    assert!(earlier.iter().any(|one| one.name == supplier), "{supplier}");
                }
            }
        }
    }

    #[test]
    fn a_measurement_that_nobody_took_is_missing_until_it_is_given() {
        let (catalog, _) = Catalog::load(&builtin());
        let before = catalog.setup_sheet(&Job::new());
        assert_eq!(before.missing().count(), before.measurements.len());
        assert!(!before.measurements.is_empty() && before.measurements[0].used);
        let after = catalog.setup_sheet(&job(&[("channel_depth", "5 in")]));
        assert_eq!(after.missing().count(), before.missing().count() - 1);
        let depth = after
            .measurements
            .iter()
            .find(|one| one.name == "channel_depth");
        let depth = depth.expect("the channel depth is a measurement");
        assert_eq!(depth.understood, "5 in = 127 mm");
    }

    #[test]
    fn a_refused_measurement_stops_those_that_need_it_and_no_others() {
        let (catalog, _) = Catalog::load(&builtin());
        let sheet = catalog.setup_sheet(&job(&[("channel_depth", "5 psi")]));
        let depth = sheet
            .measurements
            .iter()
            .find(|one| one.name == "channel_depth");
        assert!(depth.is_some_and(|one| one.reading.is_err()));
        let stuck: Vec<&str> = sheet
            .unanswered()
            .map(|answer| answer.calculator.as_str())
            .collect();
        assert!(stuck.contains(&"guide-tube-length") && stuck.contains(&"stroke-stops"));
        assert!(!stuck.contains(&"clamp-jaw"));
        let all = Verdict::ALL.map(|is| sheet.count(is));
        let verdicts = sheet.answers.iter().flat_map(|answer| &answer.checks);
        let own = verdicts.filter(|check| !check.standing);
        assert_eq!(all.iter().sum::<usize>(), own.count());
    }
}
