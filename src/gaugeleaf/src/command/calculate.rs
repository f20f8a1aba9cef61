//! `calculate`: one calculator, for a person or for a machine.

use std::ops::Range;

use gaugeleaf_calc::Argument;
use gaugeleaf_calc::calculator::{Answer, Limit, OutputReading, Problem, Verdict};
use gaugeleaf_calc::finding::{Code, Finding, Level, nearest};
use gaugeleaf_calc::message::in_english;
use gaugeleaf_engine::{answer_json, limits_json};
use serde_json::Value;

use crate::command::arguments::Calculation;
use crate::command::asked::{AskedHandbook, FILE, refuse, tell};
use crate::command::say::{FAULTS, USAGE, WELL, say};
use crate::command::words::{Beside, answered, for_people};
use crate::report::{Sources, has_errors};
use crate::values::graph::Graph;

/// Works the calculation and prints it.
pub fn calculate(asked: &Calculation) -> u8 {
    let mut of = match AskedHandbook::open(asked.handbook.as_deref()) {
        Ok(found) => found,
        Err((findings, sources, code)) => {
            tell(&findings, &sources, asked.json);
            return code;
        }
    };
    let (mut line, spans) = written(asked);
    let scope = match of.scope(&asked.whose, &mut line) {
        Ok(scope) => scope,
        Err(finding) => return refuse(&[finding], line, asked.json),
    };
    let catalog = &of.graph.catalog;
    let Some(calculator) = catalog.calculators.get(&asked.name) else {
        let finding = unknown(asked, &of.graph, spans[0].clone());
        return refuse(&[finding], line, asked.json);
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
    let Some(answer) = catalog.calculate(&calculator.name, &given, scope.job()) else {
        return USAGE;
    };
    let problems = answer.problems.iter().map(|one| (one, Level::Error));
    let doubts = answer.doubts.iter().map(|one| (one, Level::Warning));
    let findings: Vec<Finding> = problems
        .chain(doubts)
        .map(|(problem, level)| finding(problem, level, asked, &spans))
        .collect();
    if has_errors(&findings) {
        return refuse(&findings, line, asked.json);
    }
    if !findings.is_empty() {
        tell(
            &findings,
            &Sources::from([(FILE.to_string(), line.clone())]),
            asked.json,
        );
    }
    let limits = asked
        .limit
        .as_ref()
        .map(|input| catalog.limits(&calculator.name, input, &given, scope.job()));
    let limits = match limits.transpose() {
        Ok(limits) => limits,
        Err(problem) => return refuse(&[limitless(&problem, &spans)], line, asked.json),
    };
    say(&if asked.json {
        for_machines(&answer, limits.as_deref(), &of).to_string()
    } else {
        let beside = Beside {
            demonstration: of.demonstration(),
            answers: of.answers(),
            language: &of.graph.catalog.language,
        };
        for_people(calculator, &answer, limits.as_deref(), &beside)
    });
    if asked.strict && unsettled(&answer) {
        return FAULTS;
    }
    WELL
}

/// Whether it stops, or can't be judged or worked out for lack of values.
fn unsettled(answer: &Answer) -> bool {
    let worst = answer.worst_of_job();
    worst.is_some_and(|worst| worst >= Verdict::Open)
        || answer.outputs.iter().any(OutputReading::is_open)
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
        None if !problem.input.is_empty() => {
            format!("{}: {}", problem.input, in_english(&problem.message))
        }
        _ => in_english(&problem.message),
    };
    Finding {
        level,
        help: problem.help.as_ref().map(in_english),
        ..Finding::error(problem.kind.code(), FILE, span, message)
    }
}

/// Why an input has no limits; its name is the last word that was typed.
fn limitless(problem: &Problem, spans: &[Range<usize>]) -> Finding {
    let span = spans.last().cloned().unwrap_or_default();
    let message = in_english(&problem.message);
    Finding {
        help: problem.help.as_ref().map(in_english),
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
fn for_machines(answer: &Answer, limits: Option<&[Limit]>, of: &AskedHandbook) -> Value {
    let mut json = answer_json(answer, true, &of.graph.catalog.language);
    if let Some(limits) = limits {
        json["limits"] = limits_json(limits, &of.graph.catalog.language);
        // a limit is one of the numbers, whatever they stand on
        for (limit, one) in limits.iter().enumerate() {
            let mut checks = answer.checks.iter();
            let check = checks.find(|check| check.check == one.check);
            let open = check.is_none_or(|check| check.is == Verdict::Open);
            json["limits"][limit]["open"] = open.into();
        }
    }
    answered(&mut json, answer, &of.answers());
    if of.demonstration() {
        json["training"] = true.into();
    }
    json
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
        let of = AskedHandbook::default();
        let given = [
            Argument::new("stock_length", "12in"),
            Argument::new("channel_depth", "9in"),
        ];
        let answer = Graph::built_in()
            .catalog
            .calculate("guide-tube-length", &given, &Job::new());
        let json = answer.map_or(Value::Null, |answer| for_machines(&answer, None, &of));
        assert_eq!(json["outputs"]["length"]["text"], "21 in");
        assert_eq!(json["inputs"]["channel_depth"]["value"], 9.0);
    }
}
