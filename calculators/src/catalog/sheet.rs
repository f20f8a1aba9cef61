//! The setup sheet: the whole graph evaluated once for one job.

use super::{Catalog, Job};
use crate::calculator::{Answer, Area, Calculator, PrintedValue, Problem, Resolver, Verdict};
use crate::field::{Entry, FieldKind};
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
    /// As given, unrounded; or why it is refused.
    pub reading: Result<PrintedValue, Problem>,
    /// As given and in both unit systems, with its tolerance.
    pub understood: String,
    /// The job gives it. Otherwise the handbook's own value stands in.
    pub given: bool,
    /// Some calculator takes it.
    pub used: bool,
    pub source: String,
}

impl SetupSheet {
    /// The measurements that nobody took on this job: the handbook's values stand in.
    pub fn missing(&self) -> impl Iterator<Item = &NamedReading> {
        self.measurements.iter().filter(|one| !one.given)
    }

    /// How many checks come to this verdict.
    pub fn count(&self, is: Verdict) -> usize {
        let verdicts = self.answers.iter().flat_map(|answer| &answer.checks);
        verdicts.filter(|verdict| verdict.is == is).count()
    }

    /// The worst verdict of all; none without a check. What can't be judged is a stop.
    pub fn worst(&self) -> Option<Verdict> {
        let verdicts = self.answers.iter().filter_map(Answer::worst);
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
    ) -> Vec<(&'static str, Vec<(&'s Calculator, &'s Answer)>)> {
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
                (area.map_or("Other calculators", Area::title), of_area)
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

    fn sheet_from(&self, job: &Job, resolver: &super::resolver::JobResolver<'_>) -> SetupSheet {
        let order = self.graph_order();
        let asked: Vec<&str> = order
            .iter()
            .flat_map(|calculator| &calculator.inputs)
            .filter_map(|input| input.from.as_ref())
            .map(|from| from.value.as_str())
            .collect();
        let mut named: Vec<&NamedQuantity> = self.named.values().collect();
        // a stable sort: what no calculator asks for stays in the order of names
        named.sort_by_key(|named| {
            let place = asked.iter().position(|name| *name == named.field.name);
            place.unwrap_or(usize::MAX)
        });
        let readings = |role| {
            let of_role = named.iter().filter(|named| named.role == role);
            of_role
                .map(|named| NamedReading {
                    used: asked.contains(&named.field.name.as_str()),
                    ..reading(named, job, resolver)
                })
                .collect()
        };
        let answers: Vec<Answer> = order
            .iter()
            .map(|calculator| resolver.answer(calculator).as_ref().clone())
            .collect();
        let stuck = |(calculator, answer): (&&Calculator, &Answer)| {
            !calculator.checks.is_empty() && !answer.problems.is_empty()
        };
        SetupSheet {
            measurements: readings(Role::Measurement),
            ratings: readings(Role::Rating),
            stuck: order.iter().zip(&answers).any(stuck),
            answers,
        }
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
    let reading = resolver.resolve(&named.field.name).map(|resolved| {
        let (reading, words) = match (resolved.entry, &named.field.kind) {
            (Entry::Number(typed), FieldKind::Number { format, .. }) => (
                PrintedValue::Number(format.echo(&typed)),
                format.understood(&typed),
            ),
            // a field takes only entries of its own kind
            (Entry::Number(typed), FieldKind::Choice(_)) => {
                let text = typed.value.to_string();
                let name = text.clone();
                (
                    PrintedValue::Choice {
                        name,
                        label: text.clone(),
                    },
                    text,
                )
            }
            (Entry::Choice(choice), _) => {
                let words = choice.label.clone();
                let (name, label) = (choice.name, choice.label);
                (PrintedValue::Choice { name, label }, words)
            }
        };
        understood = words;
        reading
    });
    NamedReading {
        name: named.field.name.clone(),
        label: named.field.label.clone(),
        reading,
        understood,
        given: job.contains_key(&named.field.name),
        used: false,
        source: named.source.clone(),
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
        let job = Job::new();
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
        let all = [Verdict::Go, Verdict::Caution, Verdict::Stop].map(|is| sheet.count(is));
        let verdicts = sheet.answers.iter().flat_map(|answer| &answer.checks);
        assert_eq!(all.iter().sum::<usize>(), verdicts.count());
    }
}
