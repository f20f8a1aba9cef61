//! `sheet`: the whole graph for one job, for a person or for a machine.

use gaugeleaf_calc::calculator::{Answer, Calculator, Leaf, Verdict};
use gaugeleaf_calc::catalog::{NamedReading, SetupSheet};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::message::Language;
use gaugeleaf_calc::named::Role;
use gaugeleaf_engine::sheet_json;
use serde_json::Value;

use crate::command::arguments::SheetOf;
use crate::command::asked::{AskedHandbook, FILE, refuse, tell};
use crate::command::say::{FAULTS, WELL, say};
use crate::command::words::{Beside, TRAINING, answered as answered_for, result, verdict_lines};
use crate::report::{Sources, has_errors};

/// Works the sheet and prints it.
pub fn sheet(asked: &SheetOf) -> u8 {
    let mut of = match AskedHandbook::open(asked.handbook.as_deref()) {
        Ok(found) => found,
        Err((findings, sources, code)) => {
            tell(&findings, &sources, asked.json);
            return code;
        }
    };
    let (mut line, given) = written(asked);
    let own = match of.scope(&asked.whose, &mut line) {
        Ok(scope) => scope,
        Err(finding) => return refuse(&[finding], line, asked.json),
    };
    let mut findings = Vec::new();
    let scope = own.with(&of.graph, FILE, &given, &mut findings);
    if has_errors(&findings) {
        return refuse(&findings, line, asked.json);
    }
    // what is unusual is worked all the same, as by `calculate`
    if !findings.is_empty() {
        tell(
            &findings,
            &Sources::from([(FILE.to_string(), line)]),
            asked.json,
        );
    }
    let sheet = of.graph.catalog.setup_sheet(scope.job());
    say(&if asked.json {
        for_machines(&sheet, &of).to_string()
    } else {
        for_people(&sheet, &of)
    });
    match sheet.worst() {
        Some(worst) if asked.strict && worst >= Verdict::Open => FAULTS,
        _ => WELL,
    }
}

/// The sheet as the engine words it for machines.
fn for_machines(sheet: &SetupSheet, of: &AskedHandbook) -> Value {
    let mut json = sheet_json(sheet, &of.graph.catalog.language);
    for (at, answer) in sheet.answers.iter().enumerate() {
        answered_for(&mut json["calculators"][at], answer, &of.answers());
    }
    if of.demonstration() {
        json["training"] = true.into();
    }
    json
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

fn for_people(sheet: &SetupSheet, of: &AskedHandbook) -> String {
    let beside = Beside {
        demonstration: of.demonstration(),
        answers: of.answers(),
        language: &of.graph.catalog.language,
    };
    let language = beside.language;
    let mut lines = vec!["Setup sheet".to_string()];
    let [go, caution, open, stop] = Verdict::ALL.map(|is| sheet.count(is));
    if let Some(worst) = sheet.worst() {
        lines.push(format!(
            "  {} is the worst verdict: {stop} stop, {open} open, {caution} caution, {go} go",
            worst.word().to_uppercase()
        ));
    }
    if beside.demonstration {
        lines.push(format!("  {TRAINING}"));
    }
    let needs = |head: &str, is: fn(&Leaf) -> bool| {
        let labels: Vec<String> = sheet
            .needs()
            .into_iter()
            .filter(|leaf| is(leaf))
            .map(|leaf| leaf.label.to_lowercase())
            .collect();
        (!labels.is_empty()).then(|| format!("  {head}: {}", labels.join(", ")))
    };
    lines.extend(needs("To measure", |leaf| leaf.role != Some(Role::Rating)));
    lines.extend(needs("To set", |leaf| leaf.role == Some(Role::Rating)));
    lines.push("Measurements".to_string());
    named(&sheet.measurements, language, &mut lines);
    lines.push("Ratings in use".to_string());
    named(&sheet.ratings, language, &mut lines);
    for (title, answers) in sheet.by_area(&of.graph.catalog) {
        lines.push(language.say(&title));
        for (calculator, answer) in answers {
            answered(calculator, answer, &beside, &mut lines);
        }
    }
    if !of.handbook.caution.is_empty() {
        lines.push(of.handbook.caution.clone());
    }
    lines.join("\n")
}

/// A line a value in use, with where it comes from, and what is unusual in it.
fn named(readings: &[NamedReading], language: &Language, lines: &mut Vec<String>) {
    let used = || readings.iter().filter(|one| one.used);
    let width = used()
        .map(|one| one.label.chars().count())
        .max()
        .unwrap_or(0);
    for one in used() {
        let value = match &one.reading {
            Ok(Some(_)) => format!("{}  ({})", one.understood, language.say(&one.from)),
            Ok(None) => language.say(&one.from),
            Err(problem) => language.say(&problem.message),
        };
        lines.push(format!("  {:width$}  {value}", one.label));
        if let Some(doubt) = &one.doubt {
            let doubt = language.say(&doubt.message);
            lines.push(format!("  {:width$}  doubtful: {doubt}", ""));
        }
    }
}

fn answered(calculator: &Calculator, answer: &Answer, beside: &Beside, lines: &mut Vec<String>) {
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
        lines.push(format!(
            "    {:width$}  {}",
            output.label,
            result(output, beside.language)
        ));
    }
    for verdict in &answer.checks {
        verdict_lines(verdict, answer, beside, "    ", lines);
    }
    for problem in &answer.problems {
        let problem = beside.language.say(&problem.message);
        lines.push(format!("    no result: {problem}"));
    }
    let open = answer.outputs.iter().find(|output| output.is_open());
    if let Some(open) = open.filter(|_| answer.checks.is_empty()) {
        let why = beside.language.say(&answer.why_open(open));
        lines.push(format!("    no result: {why}"));
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
        let of = AskedHandbook {
            graph: Graph::built_in(),
            ..AskedHandbook::default()
        };
        let catalog = &of.graph.catalog;
        let job = Job::from([("channel_depth".to_string(), "5 in".to_string())]);
        let words = for_people(&catalog.setup_sheet(&job), &of);
        for name in catalog.calculators.keys() {
            assert!(words.contains(&format!("({name})")), "{name}");
        }
        let depth = words.lines().find(|line| line.contains("5 in = 127 mm"));
        assert!(
            depth.is_some_and(|line| !line.contains("not measured")),
            "{words}"
        );
        assert!(words.contains("  not measured"), "{words}");
    }
}
