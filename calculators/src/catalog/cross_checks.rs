//! What one calculator says against a measurement, told by every other that reads it.

use super::Catalog;
use super::resolver::JobResolver;
use crate::calculator::{Answer, CheckResult, InputReading, InputSource, PrintedValue};
use crate::span::Span;

impl Catalog {
    /// The cautions that come with the measurements that an answer takes: one that another value
    /// contradicts is in doubt for all that read it.
    pub(super) fn contradicted(
        &self,
        answer: &Answer,
        resolver: &JobResolver<'_>,
    ) -> Vec<CheckResult> {
        let mut told = Vec::new();
        for owner in self.calculators.values() {
            for cross in &owner.cross_checks {
                let Some(input) = self.taking(answer, &cross.measured.value) else {
                    continue;
                };
                let of_owner = resolver.answer(owner);
                // as typed here, or as the job has it
                if let PrintedValue::Number(printed) = &input.reading {
                    let span = input.span.unwrap_or(Span::point(printed.si));
                    let reading = (printed.si, span, printed.text.clone());
                    if let Some(mut said) = owner.contradicts(cross, &of_owner, reading, resolver) {
                        said.of = Some(owner.name.clone());
                        told.push(said);
                    }
                }
            }
        }
        told
    }

    /// The input of an answer that takes a measurement, from the job or as a reading typed here; the
    /// comparing calculator itself is no taker.
    fn taking<'a>(&self, answer: &'a Answer, measurement: &str) -> Option<&'a InputReading> {
        let calculator = self.calculators.get(&answer.calculator)?;
        let mut crosses = calculator.cross_checks.iter();
        if crosses.any(|cross| cross.measured.value == measurement) {
            return None;
        }
        answer.inputs.iter().find(|input| {
            let from = calculator
                .input(&input.name)
                .and_then(|own| own.from.as_ref());
            let real = matches!(input.source, InputSource::Named(_) | InputSource::Typed)
                && input.footing.ground.bears();
            real && from.is_some_and(|from| from.value == measurement)
        })
    }

    /// Whether a cross-check holds something against this measurement.
    pub fn cross_checks(&self, measurement: &str) -> bool {
        let mut crossed = self.calculators.values().flat_map(|one| &one.cross_checks);
        crossed.any(|cross| cross.measured.value == measurement)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculator::{CrossCheck, Verdict};
    use crate::catalog::{Job, SetupSheet};
    use crate::ground::Ground;
    use crate::source::SourceFile;
    use crate::testing::{CATALOG, demonstration};
    use crate::{Argument, builtin};

    type Readings<'r> = &'r [(&'r str, &'r str)];

    /// The first demonstration job with some readings of its own.
    fn read(values: &[(&str, &str)]) -> Job {
        let mut job = demonstration();
        for (name, text) in values {
            job.set(name, text, Ground::Measured, "");
        }
        job
    }

    /// Every cross-check's caution of a sheet, with the calculator that tells it.
    fn told(sheet: &SetupSheet) -> Vec<(&str, &CheckResult)> {
        let answers = sheet.answers.iter();
        let all = answers.flat_map(|answer| {
            let checks = answer.checks.iter();
            checks.map(|check| (answer.calculator.as_str(), check))
        });
        let owners: Vec<&CrossCheck> = CATALOG
            .calculators
            .values()
            .flat_map(|one| &one.cross_checks)
            .collect();
        all.filter(|(_, check)| owners.iter().any(|cross| cross.name == check.check))
            .collect()
    }

    #[test]
    fn readings_that_agree_are_not_spoken_of() {
        let sheet = CATALOG.setup_sheet(&demonstration());
        assert_eq!(told(&sheet), []);
        assert_eq!(sheet.count(Verdict::Stop), 0);
    }

    #[test]
    fn two_readings_of_one_thing_that_differ_are_a_caution_that_names_both() {
        // (12 1/2 − 3/4) / (13 − 1) = 0.979 in, worked by hand; 15/16 in lies 0.042 in off
        let pairs: [(Readings<'_>, &str, [&str; 2]); 4] = [
            (
                &[
                    ("outside_span", "12 1/2 in"),
                    ("tubes_spanned", "13"),
                    ("tube_pitch", "15/16 in"),
                ],
                "pitch-from-span",
                ["31/32 in", "15/16 in"],
            ),
            (
                &[("bolt_circle", "22 in")],
                "bolt-clamp-position",
                ["22 in", "22 1/4 in"],
            ),
            // 3/4 in less two walls of 0.083 in, 14 BWG
            (
                &[("tube_gauge", "14")],
                "tube-bore",
                ["0.584 in", "0.62 in"],
            ),
            (&[("tubes_counted", "350")], "tube-count", ["400", "350"]),
        ];
        let cautions = CATALOG
            .setup_sheet(&demonstration())
            .count(Verdict::Caution);
        for (values, owner, both) in pairs {
            let job = read(values);
            let sheet = CATALOG.setup_sheet(&job);
            let own = told(&sheet)
                .into_iter()
                .find(|(of, check)| *of == owner && check.of.is_none());
            let (_, check) = own.unwrap_or_else(|| panic!("{owner} says nothing"));
            assert_eq!(check.is, Verdict::Caution);
            for text in both {
                let because = CATALOG.language.say(&check.because);
                assert!(because.contains(text), "{because}");
            }
            assert_eq!(sheet.count(Verdict::Caution), cautions + 1);
            assert_eq!(CATALOG.worst(&job), sheet.worst());
        }
    }

    #[test]
    fn whatever_reads_a_contradicted_measurement_says_so() {
        let job = read(&[("tube_pitch", "15/16 in")]);
        let sheet = CATALOG.setup_sheet(&job);
        let others: Vec<&str> = told(&sheet).iter().map(|(of, _)| *of).collect();
        assert!(
            others.contains(&"pitch-span") && others.contains(&"index-plan"),
            "{others:?}"
        );
        let alone = CATALOG
            .calculate("pitch-span", &[], &job)
            .expect("there is one");
        assert_eq!(alone.worst(), Some(Verdict::Caution));
        let lent: Vec<_> = alone
            .checks
            .iter()
            .filter_map(|one| one.of.as_deref())
            .collect();
        assert_eq!(lent, ["pitch-from-span"]);
        // what is typed here is held against the job's other readings, and not against its own
        for (typed, worst) in [("1 in", Verdict::Go), ("1 1/4 in", Verdict::Caution)] {
            let typed = [Argument::new("tube_pitch", typed)];
            let alone = CATALOG.calculate("pitch-span", &typed, &job);
            assert_eq!(alone.expect("there is one").worst(), Some(worst));
        }
    }

    #[test]
    fn inside_both_tolerances_nothing_contradicts() {
        let apart = [
            ("tube_pitch", "15/16 in"),
            ("tube_pitch", "15/16 in +- 1/64 in"),
        ];
        for (name, text) in apart {
            assert!(
                !told(&CATALOG.setup_sheet(&read(&[(name, text)]))).is_empty(),
                "{text}"
            );
        }
        // 15/16 + 3/64 = 0.984 in, and 1 in lies 0.016 in off
        let job = read(&[("tube_pitch", "15/16 in +- 3/64 in")]);
        assert_eq!(told(&CATALOG.setup_sheet(&job)), []);
        // what is left aside of tolerances is no caution of the worst either
        assert_eq!(CATALOG.worst(&job), CATALOG.setup_sheet(&job).worst());
        let job = read(&[("outside_span", "8 1/4 in +- 1/2 in")]);
        assert_eq!(told(&CATALOG.setup_sheet(&job)), []);
    }

    #[test]
    fn what_may_turn_to_a_stop_inside_its_tolerance_is_open_and_is_to_be_measured() {
        let needs = |sheet: &SetupSheet| -> Vec<String> {
            let needs = sheet.needs();
            needs.iter().map(|leaf| leaf.name.clone()).collect()
        };
        let before = needs(&CATALOG.setup_sheet(&demonstration()));
        let sheet = CATALOG.setup_sheet(&read(&[("flange_thickness", "3 in +- 1 in")]));
        let mut more = needs(&sheet);
        more.retain(|name| !before.contains(name));
        assert_eq!(
            (sheet.worst(), more),
            (Some(Verdict::Open), vec!["flange_thickness".to_string()])
        );
    }

    #[test]
    fn what_is_not_this_jobs_contradicts_nothing() {
        for ground in [Ground::Example, Ground::Doubted] {
            let mut job = demonstration();
            job.set("tube_pitch", "15/16 in", ground, "");
            assert_eq!(told(&CATALOG.setup_sheet(&job)), []);
        }
        let only = Job::from([("tubes_counted".to_string(), "3".to_string())]);
        assert_eq!(told(&CATALOG.setup_sheet(&only)), []);
    }

    #[test]
    fn a_cross_check_is_read_with_its_faults_where_they_stand() {
        let text = include_str!("../../catalog/tube-bore.toml");
        let faults = [
            (
                "value = \"bore\"",
                "value = \"bor\"",
                "from",
                "there is no quantity `bor` here",
            ),
            (
                "\"tube_bore\"",
                "\"tube_bor\"",
                "from",
                "there is no measurement `tube_bor`",
            ),
            (
                "\"tube_bore\"",
                "\"working_pressure\"",
                "from",
                "there is no measurement",
            ),
            (
                "\"tube_bore\"",
                "\"tubes_counted\"",
                "from",
                "is not the kind of quantity",
            ),
            ("\"0.2 * wall\"", "\"0.2\"", "dimension", "`within` gives"),
            (
                "\"0.2 * wall\"",
                "\"0.2 * wall * sqrt(0 - 1)\"",
                "example",
                "nothing can be compared",
            ),
            (
                "\"0.2 * wall\"",
                "\"-0.2 * wall\"",
                "example",
                "less than nothing",
            ),
            (
                "[[example]]",
                "[[check]]\nname = \"bore as measured\"\ncase = [{ is = \"go\", because = \"x\" }]\n\n[[example]]",
                "name",
                "stands twice",
            ),
            ("\"0.2 * wall\"", "\"0.2 * wal\"", "dimension", "wal"),
            (
                "{measured}",
                "{mesured}",
                "template",
                "there is no quantity `mesured` here",
            ),
        ];
        for (right, wrong, code, says) in faults {
            let mut files = builtin();
            files.retain(|file| !file.path.ends_with("tube-bore.toml"));
            files.push(SourceFile {
                path: "tube-bore.toml".into(),
                text: text.replacen(right, wrong, 1),
            });
            let (_, findings) = Catalog::load(&files);
            let found = findings.first().unwrap_or_else(|| panic!("{wrong} passes"));
            assert_eq!(found.code.name(), code, "{found:?}");
            assert!(found.message.contains(says), "{}", found.message);
            let place = text.replacen(right, wrong, 1);
            let at = &place[found.span.clone()];
            assert!(
                wrong.contains(at) || at.contains(wrong.trim_matches('"')),
                "{at}"
            );
        }
    }
}
