//! `sheet`: the whole graph for one job, for a person or for a machine.

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::calculator::{Answer, Calculator, Verdict};
use gaugeleaf_calc::catalog::{NamedReading, SetupSheet};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_engine::sheet_json;

use crate::command::arguments::SheetOf;
use crate::command::calculate::{FILE, catalog, tell};
use crate::command::say::{FAULTS, USAGE, WELL, say};
use crate::command::words::result;
use crate::report::Sources;

/// Works the sheet and prints it.
pub fn sheet(asked: &SheetOf) -> u8 {
    let (graph, own) = match catalog(asked.handbook.as_deref()) {
        Ok(found) => found,
        Err((findings, sources)) => {
            tell(&findings, &sources, asked.json);
            return FAULTS;
        }
    };
    let (line, given) = written(asked);
    let mut findings = Vec::new();
    let scope = own.with(&graph, FILE, &given, &mut findings);
    if !findings.is_empty() {
        tell(
            &findings,
            &Sources::from([(FILE.to_string(), line)]),
            asked.json,
        );
        return USAGE;
    }
    let sheet = graph.catalog.setup_sheet(scope.job());
    say(&if asked.json {
        sheet_json(&sheet).to_string()
    } else {
        for_people(&sheet, &graph.catalog)
    });
    WELL
}

/// The request as one line, and its values with their places in it.
fn written(asked: &SheetOf) -> (String, Vec<Binding>) {
    let mut line = String::from("gaugeleaf sheet");
    let mut given = Vec::new();
    for (name, text) in &asked.given {
        line.push(' ');
        let start = line.len();
        line.push_str(&format!("{name}={text}"));
        let placed = |value: &String, start: usize| Placed {
            value: value.clone(),
            span: start..start + value.len(),
        };
        given.push(Binding {
            name: placed(name, start),
            text: placed(text, start + name.len() + 1),
        });
    }
    (line, given)
}

fn for_people(sheet: &SetupSheet, catalog: &Catalog) -> String {
    let mut lines = vec!["Setup sheet".to_string()];
    let [go, caution, stop] =
        [Verdict::Go, Verdict::Caution, Verdict::Stop].map(|is| sheet.count(is));
    if let Some(worst) = sheet.worst() {
        lines.push(format!(
            "  {} is the worst verdict: {stop} stop, {caution} caution, {go} go",
            worst.word().to_uppercase()
        ));
    }
    let missing: Vec<String> = sheet
        .missing()
        .filter(|one| one.used)
        .map(|one| one.label.to_lowercase())
        .collect();
    if missing.is_empty() {
        lines.push("  Every measurement is given".to_string());
    } else {
        lines.push(format!(
            "  Not measured, so the handbook's values stand in: {}",
            missing.join(", ")
        ));
    }
    lines.push("Measurements".to_string());
    named(&sheet.measurements, &mut lines, |given| {
        if given { "" } else { "  (not measured)" }
    });
    lines.push("Ratings in use".to_string());
    named(&sheet.ratings, &mut lines, |given| {
        if given { "  (set for this job)" } else { "" }
    });
    for (title, answers) in sheet.by_area(catalog) {
        lines.push(title.to_string());
        for (calculator, answer) in answers {
            answered(calculator, answer, &mut lines);
        }
    }
    lines.join("\n")
}

/// A line a value in use, with a remark by whether it was given for the job.
fn named(readings: &[NamedReading], lines: &mut Vec<String>, remark: fn(bool) -> &'static str) {
    let used = || readings.iter().filter(|one| one.used);
    let width = used()
        .map(|one| one.label.chars().count())
        .max()
        .unwrap_or(0);
    for one in used() {
        let value = match &one.reading {
            Ok(_) => &one.understood,
            Err(problem) => &problem.message,
        };
        let remark = remark(one.given);
        lines.push(format!("  {:width$}  {value}{remark}", one.label));
    }
}

fn answered(calculator: &Calculator, answer: &Answer, lines: &mut Vec<String>) {
    lines.push(format!("  {} ({})", calculator.title, calculator.name));
    let shown = || {
        answer
            .outputs
            .iter()
            .filter(|output| output.reading.is_some())
    };
    let width = shown()
        .map(|output| output.label.chars().count())
        .max()
        .unwrap_or(0);
    for output in shown() {
        lines.push(format!("    {:width$}  {}", output.label, result(output)));
    }
    for verdict in &answer.checks {
        let word = verdict.is.word().to_uppercase();
        lines.push(format!("    {word:7}  {}", verdict.because));
    }
    for problem in &answer.problems {
        lines.push(format!("    no result: {}", problem.message));
    }
}

#[cfg(test)]
mod tests {
    use gaugeleaf_calc::Job;

    use super::*;
    use crate::values::graph::Graph;

    #[test]
    fn each_value_of_the_request_is_found_in_its_line() {
        let asked = SheetOf {
            given: vec![("tube_od".to_string(), "1 in".to_string())],
            ..SheetOf::default()
        };
        let (line, given) = written(&asked);
        assert_eq!(line, "gaugeleaf sheet tube_od=1 in");
        assert_eq!(&line[given[0].name.span.clone()], "tube_od");
        assert_eq!(&line[given[0].text.span.clone()], "1 in");
    }

    #[test]
    fn the_sheet_in_words_names_every_calculator_and_what_is_not_measured() {
        let graph = Graph::built_in();
        let job = Job::from([("channel_depth".to_string(), "5 in".to_string())]);
        let words = for_people(&graph.catalog.setup_sheet(&job), &graph.catalog);
        for name in graph.catalog.calculators.keys() {
            assert!(words.contains(&format!("({name})")), "{name}");
        }
        let depth = words.lines().find(|line| line.contains("5 in = 127 mm"));
        assert!(
            depth.is_some_and(|line| !line.contains("not measured")),
            "{words}"
        );
        assert!(words.contains("(not measured)"));
    }
}
