//! Works a calculator for a page: what the page gives goes in, and what is wrong
//! with it comes out as findings where it was typed.

use std::ops::Range;
use std::sync::Arc;

use gaugeleaf_calc::calculator::{
    Answer, Argument, Calculator, InputReading, PrintedValue, Problem, ProblemKind,
};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding, Level, nearest};
use gaugeleaf_calc::ground::{Footing, Ground};
use gaugeleaf_calc::message::in_english;

use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::values::graph::Graph;
use crate::values::ledger::{Use, UsedValue};

/// What to do with a value outside its usual band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doubt {
    /// A reader's widget would refuse it too.
    Refuse,
    /// It is printed, and the trainer is told.
    Tell,
}

/// Works the calculator; none where something is wrong with what was given.
pub fn work(
    calculator: &Calculator,
    given: &[Binding],
    doubt: Doubt,
    span: &Range<usize>,
    context: &Context,
) -> Composed<Option<Arc<Answer>>> {
    let inputs: Vec<Argument> = given
        .iter()
        .map(|one| Argument {
            confirmed: doubt == Doubt::Tell,
            ..Argument::example(&one.name.value, &one.text.value)
        })
        .collect();
    let answer = context.answer(&calculator.name, &inputs);
    let Some(answer) = answer else {
        return Composed::default();
    };
    let finding =
        |level| move |problem: &Problem| of_problem(problem, level, given, span, context.file);
    let causes = |problem: &Problem| match problem.kind {
        ProblemKind::Unknown => vec![format!("{}.{}", calculator.name, problem.input)],
        _ if given.iter().any(|one| one.name.value == problem.input) => Vec::new(),
        _ => context.graph.causes(calculator, problem),
    };
    let fault = finding(Level::Error);
    let problems = answer
        .problems
        .iter()
        .map(|problem| fault(problem).follows(causes(problem)));
    let doubts = answer.doubts.iter().map(finding(Level::Warning));
    Composed {
        findings: problems.chain(doubts).collect(),
        ..Composed::of(answer.problems.is_empty().then(|| Arc::clone(&answer)))
    }
}

/// The engine's own words, at the value or name that they are about.
fn of_problem(
    problem: &Problem,
    level: Level,
    given: &[Binding],
    span: &Range<usize>,
    file: &str,
) -> Finding {
    let typed = given
        .iter()
        .rev()
        .find(|one| one.name.value == problem.input);
    let unknown = problem.kind == ProblemKind::Unknown;
    let span = match typed {
        Some(one) if unknown => one.name.span.clone(),
        Some(one) => one.text.span.clone(),
        None => span.clone(),
    };
    let message = match typed {
        None if !problem.input.is_empty() => {
            format!("{}: {}", problem.input, in_english(&problem.message))
        }
        _ => in_english(&problem.message),
    };
    let mut finding = Finding::error(problem.kind.code(), file, span, message);
    finding.level = level;
    finding.help = problem.help.as_ref().map(in_english);
    finding
}

/// The inputs in words, and by name.
pub fn inputs_said(inputs: &[InputReading]) -> (String, Vec<(String, String)>) {
    let said: Vec<String> = inputs
        .iter()
        .map(|one| format!("{} {}", one.label, one.reading.text()))
        .collect();
    let named = inputs
        .iter()
        .map(|one| (one.name.clone(), one.reading.text().to_string()))
        .collect();
    (said.join(", "), named)
}

/// The job whose value it is, where it is no more than an example.
pub fn example_of(ground: Ground, graph: &Graph) -> String {
    match ground {
        Ground::Example => graph.catalog.own.job.clone(),
        _ => String::new(),
    }
}

/// The job whose value it is, where a result is no more than an example; "" where it is nobody's.
pub fn job_beneath(footing: &Footing, context: &Context) -> String {
    if footing.ground != Ground::Example {
        return String::new();
    }
    let mut jobs = footing.weak.iter().map(|name| context.leaf(name).job);
    jobs.find(|job| !job.is_empty()).unwrap_or_default()
}

/// The value in SI units; none for a choice.
pub fn si(reading: &PrintedValue) -> Option<f64> {
    match reading {
        PrintedValue::Number(printed) => Some(printed.si),
        PrintedValue::Choice { .. } => None,
    }
}

/// The value in the other unit system; empty where there is none.
pub fn also(reading: &PrintedValue) -> String {
    match reading {
        PrintedValue::Number(printed) => printed.also.clone().unwrap_or_default(),
        PrintedValue::Choice { .. } => String::new(),
    }
}

/// A result at a place of the page; none for a result that doesn't exist.
pub fn used(
    calculator: &Calculator,
    answer: &Answer,
    output: &str,
    start: usize,
    context: &Context,
) -> Option<Use> {
    Some(Use::at(
        start,
        used_value(calculator, answer, output, context)?,
    ))
}

/// A result as the ledger keeps it.
pub fn used_value(
    calculator: &Calculator,
    answer: &Answer,
    output: &str,
    context: &Context,
) -> Option<UsedValue> {
    let result = answer.output(output)?;
    let reading = result.reading.as_ref()?;
    let definition = calculator.output(output)?;
    let (given, inputs) = inputs_said(&answer.inputs);
    let source = if calculator.sources.is_empty() {
        calculator.title.clone()
    } else {
        calculator.sources.join("; ")
    };
    Some(UsedValue {
        text: reading.text().to_string(),
        also: also(reading),
        label: definition.label.clone(),
        name: format!("{}.{output}", calculator.name),
        si: si(reading),
        formula: definition.formula_at.value.clone(),
        source,
        given,
        inputs,
        ground: result.footing.ground.word(),
        of: job_beneath(&result.footing, context),
    })
}

/// Why something can't be shown: what nobody has measured or set beneath it. None where that isn't
/// the reason.
pub fn lacking(
    what: &str,
    answer: &Answer,
    span: &Range<usize>,
    context: &Context,
) -> Option<Finding> {
    let needs = answer.unset.iter().flat_map(|input| &input.needs);
    let mut names: Vec<String> = needs.map(|leaf| leaf.name.clone()).collect();
    names.sort();
    names.dedup();
    if names.is_empty() {
        return None;
    }
    let why = in_english(&answer.why_unset());
    let message = format!("{what} is not known. {why}");
    let finding = context.error(Code::NotKnown, span.clone(), message);
    Some(not_known(finding, &names))
}

/// A text that hangs on these: one of all that hang on the same is told, with the others under it.
pub fn not_known(finding: Finding, names: &[String]) -> Finding {
    let all = format!("unknown {}", names.join(" "));
    finding
        .breaks([all.clone()])
        .follows(names.iter().cloned().chain([all]))
        .help(
            "set ratings in the kit, content/equipment/NAME.toml; give measurements under given of \
             the page, or of the handbook's job",
        )
}

/// What of a calculator a name stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkingPart {
    Input,
    Output,
}

/// A name that a calculator doesn't have.
pub fn unknown(
    part: WorkingPart,
    name: &Placed<String>,
    names: &[&str],
    calculator: &Calculator,
    file: &str,
) -> Finding {
    let (what, code) = match part {
        WorkingPart::Input => ("input", Code::UnknownInput),
        WorkingPart::Output => ("output", Code::UnknownOutput),
    };
    let message = format!("`{}` is not an {what} of {}", name.value, calculator.name);
    let finding = Finding::error(code, file, name.span.clone(), message)
        .follows([format!("{}.{}", calculator.name, name.value)]);
    finding.help(match nearest(&name.value, names.iter().copied()) {
        Some(near) => format!("write {near}"),
        None => format!("the {what}s are {}", names.join(", ")),
    })
}
