//! `calculate`: one calculator, for a person or for a machine.

use std::ops::Range;
use std::path::{Path, PathBuf};

use gaugeleaf_calc::Argument;
use gaugeleaf_calc::calculator::{Answer, Limit, Problem};
use gaugeleaf_calc::finding::{Code, Finding, Level, nearest};
use gaugeleaf_engine::{answer_json, limits_json};

use crate::command::arguments::Calculation;
use crate::command::say::{FAULTS, USAGE, WELL, complain, complain_of, say};
use crate::command::words::for_people;
use crate::handbook::files::{HandbookFiles, read};
use crate::report::emitter::Emitter;
use crate::report::lines::Lines;
use crate::report::{Sources, has_errors};
use crate::session;
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// What findings about arguments name as their file.
pub(super) const FILE: &str = "command line";

/// Works the calculation and prints it.
pub fn calculate(asked: &Calculation) -> u8 {
    let (graph, scope) = match catalog(asked.handbook.as_deref()) {
        Ok(found) => found,
        Err((findings, sources)) => {
            tell(&findings, &sources, asked.json);
            return FAULTS;
        }
    };
    let (line, spans) = written(asked);
    let sources = Sources::from([(FILE.to_string(), line)]);
    let Some(calculator) = graph.catalog.calculators.get(&asked.name) else {
        tell(
            &[unknown(asked, &graph, spans[0].clone())],
            &sources,
            asked.json,
        );
        return USAGE;
    };
    // a person at a terminal sees the doubt beside the result, so it needn't stop it
    let given: Vec<Argument> = asked
        .given
        .iter()
        .map(|(name, text)| Argument {
            confirmed: true,
            ..Argument::new(name, text)
        })
        .collect();
    let Some(answer) = graph
        .catalog
        .calculate(&calculator.name, &given, scope.job())
    else {
        return USAGE;
    };
    let problems = answer.problems.iter().map(|one| (one, Level::Error));
    let doubts = answer.doubts.iter().map(|one| (one, Level::Warning));
    let findings: Vec<Finding> = problems
        .chain(doubts)
        .map(|(problem, level)| finding(problem, level, asked, &spans))
        .collect();
    if !findings.is_empty() {
        tell(&findings, &sources, asked.json);
    }
    if has_errors(&findings) {
        return USAGE;
    }
    let limits = asked.limit.as_ref().map(|input| {
        let catalog = &graph.catalog;
        catalog.limits(&calculator.name, input, &given, scope.job())
    });
    let limits = match limits.transpose() {
        Ok(limits) => limits,
        Err(problem) => {
            tell(&[limitless(&problem, &spans)], &sources, asked.json);
            return USAGE;
        }
    };
    say(&if asked.json {
        for_machines(&answer, limits.as_deref())
    } else {
        for_people(calculator, &answer, limits.as_deref())
    });
    WELL
}

/// What is wrong with a value that was typed, where it was.
fn finding(
    problem: &Problem,
    level: Level,
    asked: &Calculation,
    spans: &[Range<usize>],
) -> Finding {
    let mut typed = asked.given.iter();
    let at = typed.rposition(|(name, _)| *name == problem.input);
    let span = at.map_or(spans[0].clone(), |at| spans[at + 1].clone());
    let message = match at {
        None if !problem.input.is_empty() => format!("{}: {}", problem.input, problem.message),
        _ => problem.message.clone(),
    };
    Finding {
        level,
        help: problem.help.clone(),
        ..Finding::error(problem.kind.code(), FILE, span, message)
    }
}

/// Why an input has no limits; its name is the last word that was typed.
fn limitless(problem: &Problem, spans: &[Range<usize>]) -> Finding {
    let span = spans.last().cloned().unwrap_or_default();
    let message = problem.message.clone();
    Finding {
        help: problem.help.clone(),
        ..Finding::error(problem.kind.code(), FILE, span, message)
    }
}

/// The finding for a calculator that isn't there, with those that were likely meant.
fn unknown(asked: &Calculation, graph: &Graph, span: Range<usize>) -> Finding {
    let message = format!("there is no calculator `{}`", asked.name);
    let names: Vec<&str> = graph
        .catalog
        .calculators
        .keys()
        .map(String::as_str)
        .collect();
    let holding: Vec<&str> = names
        .iter()
        .copied()
        .filter(|name| !asked.name.is_empty() && name.contains(&asked.name))
        .collect();
    let help = match (nearest(&asked.name, names.iter().copied()), &holding[..]) {
        (_, [first, more @ ..]) if !more.is_empty() => {
            format!("write {first} or {}", more.join(" or "))
        }
        (Some(near), _) => format!("the nearest is {near}"),
        (None, [near]) => format!("the nearest is {near}"),
        _ => format!("the calculators are {}", names.join(", ")),
    };
    Finding::error(Code::UnknownCalculator, FILE, span, message).help(help)
}

pub(super) fn tell(findings: &[Finding], sources: &Sources, json: bool) {
    if json {
        complain(&Lines.emit(findings, sources));
    } else {
        complain_of(findings, sources);
    }
}

/// The catalog and the values of the handbook asked for, of the one in this folder, or
/// the built-in ones.
pub(super) fn catalog(
    handbook: Option<&Path>,
) -> Result<(Graph, JobScope), (Vec<Finding>, Sources)> {
    let here = PathBuf::from(".");
    let (read_from, mut findings) = match handbook {
        Some(folder) => read(folder),
        None if here.join("handbook.toml").is_file() => read(&here),
        None => (HandbookFiles::default(), Vec::new()),
    };
    // what is wrong with the pages doesn't matter to a calculation
    findings.retain(|finding| {
        !finding.file.starts_with("content/") && !finding.file.starts_with("themes/")
    });
    let (graph, scope, found) = session::asked(&read_from);
    findings.extend(found);
    if has_errors(&findings) {
        let files = graph
            .files
            .iter()
            .map(|file| (file.path.clone(), file.text.clone()));
        let sources = read_from.texts.into_iter().chain(files).collect();
        return Err((findings, sources));
    }
    Ok((graph, scope))
}

/// The request as one line, and where the name, each input and, last, the input whose
/// limits are asked for stand in it.
fn written(asked: &Calculation) -> (String, Vec<Range<usize>>) {
    let mut line = String::from("gaugeleaf calculate");
    let mut spans = Vec::new();
    let inputs = asked
        .given
        .iter()
        .map(|(name, text)| format!("{name}={text}"));
    for word in std::iter::once(asked.name.clone()).chain(inputs) {
        line.push(' ');
        spans.push(line.len()..line.len() + word.len());
        line.push_str(&word);
    }
    if let Some(limit) = &asked.limit {
        line.push_str(" --limit ");
        spans.push(line.len()..line.len() + limit.len());
        line.push_str(limit);
    }
    (line, spans)
}

/// The answer as the engine words it for machines, with the limits if they were asked for.
fn for_machines(answer: &Answer, limits: Option<&[Limit]>) -> String {
    let mut json = answer_json(answer, true);
    if let Some(limits) = limits {
        json["limits"] = limits_json(limits);
    }
    json.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use gaugeleaf_calc::Job;

    #[test]
    fn each_input_of_the_request_is_found_in_its_line() {
        let asked = Calculation {
            name: "n".to_string(),
            given: vec![("a".to_string(), "1 in".to_string())],
            limit: Some("b".to_string()),
            ..Calculation::default()
        };
        let (line, spans) = written(&asked);
        assert_eq!(line, "gaugeleaf calculate n a=1 in --limit b");
        let words: Vec<&str> = spans.into_iter().map(|span| &line[span]).collect();
        assert_eq!(words, ["n", "a=1 in", "b"]);
    }

    #[test]
    fn the_machines_answer_has_the_quantities_in_both_forms() {
        let graph = Graph::built_in();
        let given = [
            Argument::new("stock_length", "12in"),
            Argument::new("channel_depth", "9in"),
        ];
        let answer = graph
            .catalog
            .calculate("guide-tube-length", &given, &Job::new());
        let json: serde_json::Value = answer
            .map(|answer| for_machines(&answer, None).parse().unwrap_or_default())
            .unwrap_or_default();
        assert_eq!(json["outputs"]["length"]["text"], "21 in");
        assert_eq!(json["inputs"]["channel_depth"]["value"], 9.0);
    }
}
