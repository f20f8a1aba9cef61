//! Publishing judges itself: a stop among the handbook's own values is a fault of the handbook,
//! unless somebody answers for it in writing.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Calculator, Check, CheckResult, Leaf, Verdict};
use gaugeleaf_calc::catalog::{SetupSheet, Whose};
use gaugeleaf_calc::finding::settings::Binding;
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::kit::Kit;
use gaugeleaf_calc::message::in_english;
use gaugeleaf_calc::named::Role;
use gaugeleaf_calc::{Catalog, Names};

use crate::handbook::answered::{Answered, StopAnswers};
use crate::handbook::whole::Handbook;
use crate::values::graph::Graph;
use crate::values::nearest_value::{nearest_value, read_by};
use crate::values::scope::JobScope;
use crate::values::unset::{listed, nothing_set};

const HEAD: &str = "handbook.toml";

/// What the handbook's own values come to: stops of each kit by itself and of each prepared job,
/// what a prepared job leaves open, what the handbook lacks, and answers that answer nothing.
pub fn judge(handbook: &Handbook, graph: &Graph) -> Vec<Finding> {
    let all = StopAnswers {
        job: &[],
        all: &handbook.answered,
    };
    let mut findings = Vec::from_iter(nothing_set(graph));
    let mut met: Vec<String> = Vec::new();
    let kits: Vec<(&str, Vec<Stop>)> = graph
        .kits
        .iter()
        .map(|(name, kit)| {
            let given = Names::new();
            let job = graph.catalog.job_of(&Whose::InHand {
                name: "",
                kit: name,
                given,
            });
            let stops = stops(&graph.catalog.setup_sheet(&job), &graph.catalog);
            findings.extend(of_kit(kit, &stops, &all, graph));
            (name.as_str(), stops)
        })
        .collect();
    met.extend(kits.iter().flat_map(|(_, stops)| stops).map(Stop::name));
    for job in prepared(handbook, graph) {
        let sheet = job.sheet(graph);
        let stops = stops(&sheet, &graph.catalog);
        let known = kits.iter().find(|(name, _)| *name == job.kit);
        let known = known.map_or(&[][..], |(_, stops)| stops.as_slice());
        let answers = StopAnswers {
            job: job.answered,
            ..all
        };
        for stop in stops.iter().filter(|stop| !stop.is_among(known)) {
            findings.extend(job.stop(stop, &answers, graph));
        }
        let names: Vec<String> = stops.iter().map(Stop::name).collect();
        findings.extend(idle(job.answered, &names, job.file, graph));
        findings.extend(job.open(&sheet));
        met.extend(names);
    }
    findings.extend(idle(&handbook.answered, &met, HEAD, graph));
    for page in &handbook.pages {
        let settings = &page.outline.settings;
        if settings.job.is_none() {
            findings.extend(idle(&settings.answered, &[], &page.path, graph));
        }
    }
    findings
}

/// The answer to a verdict in words; empty where it is no stop, or nobody answers for it.
pub fn answer_to(verdict: &CheckResult, calculator: &str, answers: &StopAnswers) -> String {
    let answer = answers.to(calculator, &verdict.check);
    let answer = answer.filter(|_| verdict.is == Verdict::Stop);
    answer.map_or_else(String::new, Answered::words)
}

/// A check that stops, or a calculator that can't judge at all.
struct Stop<'c> {
    calculator: &'c Calculator,
    /// None where the calculator has no answer.
    check: Option<&'c Check>,
    /// What the check reads, the nearest first.
    reads: Vec<&'c str>,
    because: String,
}

impl Stop<'_> {
    /// `calculator.check`
    fn name(&self) -> String {
        let check = self.check.map_or("", |check| &check.name);
        format!("{}.{check}", self.calculator.name)
    }

    fn is_among(&self, others: &[Stop<'_>]) -> bool {
        others.iter().any(|other| other.name() == self.name())
    }

    fn answer<'h>(&self, answers: &StopAnswers<'h>) -> Option<&'h Answered> {
        answers.to(&self.calculator.name, &self.check?.name)
    }

    fn nearest<P>(&self, catalog: &Catalog, place: impl Fn(&str) -> Option<P>) -> Option<P> {
        nearest_value(catalog, self.calculator, self.reads.clone(), place)
    }

    fn told(&self, whose: &str, file: &str, at: Range<usize>, answer_in: &str) -> Finding {
        let name = self.name();
        let (message, help) = match self.check {
            Some(_) => (
                format!("{whose} comes to a stop, {name}: {}", self.because),
                format!(
                    "mend the values, or answer for the stop in {answer_in}: answered = \
                     [{{ check = \"{name}\", because = \"…\", by = \"…\" }}]"
                ),
            ),
            None => (
                format!(
                    "{whose} can't be judged by {}: {}",
                    self.calculator.name, self.because
                ),
                "mend the value: what can't be judged is a stop".to_string(),
            ),
        };
        // a mark in the message speaks of the value in another place
        let message = message.trim_end_matches('.').replace('`', "");
        Finding::error(Code::OwnStop, file, at, message).help(help)
    }
}

/// Every stop of a sheet; standing rules are no job's verdict.
fn stops<'c>(sheet: &SetupSheet, catalog: &'c Catalog) -> Vec<Stop<'c>> {
    let mut stops = Vec::new();
    for answer in &sheet.answers {
        let Some(calculator) = catalog.calculators.get(&answer.calculator) else {
            continue;
        };
        let problem = answer.problems.first();
        if let Some(problem) = problem.filter(|_| !calculator.checks.is_empty()) {
            let input = calculator.input(&problem.input);
            stops.push(Stop {
                calculator,
                check: None,
                reads: match input {
                    Some(input) => vec![input.field.name.as_str()],
                    None => calculator.input_names(),
                },
                because: in_english(&problem.message),
            });
        }
        let results = answer.checks.iter();
        for result in results.filter(|one| one.is == Verdict::Stop && !one.standing) {
            let mut checks = calculator.checks.iter();
            let Some(check) = checks.find(|check| check.name == result.check) else {
                continue;
            };
            stops.push(Stop {
                calculator,
                check: Some(check),
                reads: read_by(check, result.case),
                because: in_english(&result.because),
            });
        }
    }
    stops
}

fn of_kit(kit: &Kit, stops: &[Stop], answers: &StopAnswers, graph: &Graph) -> Vec<Finding> {
    let unanswered = stops.iter().filter(|stop| stop.answer(answers).is_none());
    unanswered
        .map(|stop| {
            let at = stop.nearest(&graph.catalog, |name| rated(kit, name));
            let at = at.unwrap_or_else(|| kit.span.clone());
            stop.told(&format!("the kit {}", kit.name), &kit.file, at, HEAD)
        })
        .collect()
}

fn rated(kit: &Kit, name: &str) -> Option<Range<usize>> {
    Some(kit.ratings.get(name)?.text.span.clone())
}

/// A job that the handbook prepares.
struct PreparedJob<'h> {
    name: &'h str,
    kit: &'h str,
    file: &'h str,
    /// Where it is named; none where handbook.toml gives its values.
    at: Option<Range<usize>>,
    given: &'h [Binding],
    answered: &'h [Answered],
}

fn prepared<'h>(handbook: &'h Handbook, graph: &'h Graph) -> Vec<PreparedJob<'h>> {
    let own = graph.catalog.own.kit.as_str();
    let pages = handbook.pages.iter().filter_map(|page| {
        let settings = &page.outline.settings;
        let job = settings.job.as_ref()?;
        Some(PreparedJob {
            name: &job.value,
            kit: settings.kit.as_ref().map_or(own, |kit| &kit.value),
            file: &page.path,
            at: Some(job.span.clone()),
            given: &settings.given,
            answered: &settings.answered,
        })
    });
    let mut jobs: Vec<PreparedJob> = pages.collect();
    // a handbook without such a page may give its job's values itself
    if !handbook.given.is_empty() && jobs.iter().all(|job| job.name != handbook.job) {
        jobs.push(PreparedJob {
            name: &handbook.job,
            kit: own,
            file: HEAD,
            at: None,
            given: &handbook.given,
            answered: &[],
        });
    }
    jobs
}

impl PreparedJob<'_> {
    fn sheet(&self, graph: &Graph) -> SetupSheet {
        // what is wrong with the values is told where they are read
        let scope = JobScope::prepared(graph, self.name, self.kit);
        let scope = scope.with(graph, self.file, self.given, &mut Vec::new());
        graph.catalog.setup_sheet(scope.job())
    }

    /// A stop that nobody answers for: at the job's value nearest to it, else at the kit's.
    fn stop(&self, stop: &Stop, answers: &StopAnswers, graph: &Graph) -> Option<Finding> {
        if stop.answer(answers).is_some() {
            return None;
        }
        let given = |name: &str| {
            let mut given = self.given.iter();
            let found = given.rfind(|one| one.name.value == name)?;
            Some((self.file, found.text.span.clone()))
        };
        let kit = graph.kits.get(self.kit);
        let set = |name: &str| Some((kit?.file.as_str(), rated(kit?, name)?));
        let catalog = &graph.catalog;
        let found = stop.nearest(catalog, given);
        let (file, at) = found
            .or_else(|| stop.nearest(catalog, set))
            .unwrap_or((self.file, self.at.clone().unwrap_or(0..0)));
        let whose = format!("the job {}", self.name);
        Some(stop.told(&whose, file, at, self.file))
    }

    /// What its verdicts wait for, told once.
    fn open(&self, sheet: &SetupSheet) -> Option<Finding> {
        let at = self.at.clone()?;
        // an input that no measurement supplies can't be given here
        let checks = sheet.answers.iter().flat_map(|answer| &answer.checks);
        let open = checks.filter(|one| one.is == Verdict::Open && !one.standing);
        let needs: Vec<&Leaf> = open.flat_map(|check| &check.needs).collect();
        let of = |role: Role, rough: bool| -> Vec<&str> {
            let mut names: Vec<&str> = Vec::new();
            let of_role = needs.iter().filter(|leaf| leaf.role == Some(role));
            for leaf in of_role.filter(|leaf| leaf.ground.bears() == rough) {
                if !names.contains(&leaf.name.as_str()) {
                    names.push(&leaf.name);
                }
            }
            names
        };
        let lists = [
            ("not measured", of(Role::Measurement, false)),
            ("not measured closely enough", of(Role::Measurement, true)),
            ("not set in its kit", of(Role::Rating, false)),
            ("not set closely enough", of(Role::Rating, true)),
        ];
        let mut lacks = Vec::new();
        for (what, names) in lists {
            if !names.is_empty() {
                lacks.push(format!("{what}: {}", listed(&names)));
            }
        }
        if lacks.is_empty() {
            return None;
        }
        let open = match sheet.count(Verdict::Open) {
            1 => "1 verdict of the job is".to_string(),
            open => format!("{open} verdicts of the job are"),
        };
        let message = format!("{open} open; {}", lacks.join("; "));
        let help = "give what is measured under given on this page, and set the ratings in the kit";
        Some(Finding::warning(Code::OwnOpen, self.file, at, message).help(help))
    }
}

/// Answers to stops that aren't there.
fn idle(answers: &[Answered], met: &[String], file: &str, graph: &Graph) -> Vec<Finding> {
    let known = |one: &&Answered| {
        let calculators = graph.catalog.calculators.values();
        let mut checks = calculators.flat_map(|of| of.checks.iter().map(move |check| (of, check)));
        checks.any(|(of, check)| one.is_for(&of.name, &check.name))
    };
    let left_out = |one: &&Answered| {
        let calculator = one.check.value.split_once('.').map(|(name, _)| name);
        calculator.is_some_and(|name| graph.left_out(name).is_some())
    };
    answers
        .iter()
        // one that names no check is told as such
        .filter(|one| known(one) || left_out(one))
        .filter(|one| !met.contains(&one.check.value))
        .map(|one| {
            let message = format!("`{}` doesn't stop here", one.check.value);
            let span = one.check.span.clone();
            Finding::warning(Code::AnswersNothing, file, span, message)
                .help("take the answer out: a stop that comes later is not answered for by it")
        })
        .collect()
}
