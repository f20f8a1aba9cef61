//! Reads a calculator from its file.

use super::answer::Verdict;
use super::definition::{
    Area, Calculator, Case, Check, CrossCheck, Example, Hazard, Input, Output, OutputKind,
};
use super::template::Template;
use super::{order, plot};
use crate::field::{self, Field, NumberFormat};
use crate::formula::Formula;
use crate::message::in_english;
use crate::unit::{Dimension, Unit};
use gaugeleaf_finding::settings::Settings;
use gaugeleaf_finding::{Code, Placed, nearest};

/// Reads the whole file; what can't be read becomes a finding.
pub(crate) fn load(settings: &mut Settings) -> Option<Calculator> {
    let inputs = inputs(settings);
    let mut outputs = formulas("term", settings);
    outputs.extend(formulas("output", settings));
    let mut seen = Vec::new();
    let checks = checks(settings, &mut seen);
    let cross_checks = cross_checks(settings, &mut seen);
    let examples = examples(settings);
    let has_output = settings.has("output");
    let mut calculator = settings.table("calculator", |head| {
        enough(has_output, examples.len(), head);
        named_like_its_file(head);
        Some(Calculator {
            inputs,
            outputs,
            checks,
            cross_checks,
            examples,
            ..self::head(head)?
        })
    })??;
    same_name_twice(&calculator, settings);
    let plot = settings.table("calculator", |head| {
        head.table("plot", |plot| plot::load(plot, &calculator))
    });
    calculator.plot = plot.flatten().flatten();
    calculator.order = order::by_need(&calculator, settings);
    Some(calculator)
}

/// What the head of the file says, without inputs and outputs.
fn head(head: &mut Settings) -> Option<Calculator> {
    let name = head.text("name")?;
    let area = head.text("area");
    let sources = head.texts("sources").into_iter();
    Some(Calculator {
        name: name.value,
        title: head.plain("title"),
        area: area.and_then(|word| Area::ALL.into_iter().find(|one| one.word() == word.value)),
        purpose: head.plain("purpose"),
        not_counted: head.plain("not_counted"),
        hazard: head.table("hazard", |hazard| Hazard {
            word: hazard.plain("word"),
            text: hazard.plain("text"),
        }),
        method: head.plain("method"),
        also: head.sayings("also"),
        sources: sources.map(|source| source.value).collect(),
        figure: head.text("figure"),
        plot: None,
        map: head.text("map"),
        idle: idle(head),
        inputs: Vec::new(),
        outputs: Vec::new(),
        order: Vec::new(),
        checks: Vec::new(),
        cross_checks: Vec::new(),
        examples: Vec::new(),
        file: head.file().to_string(),
        span: name.span,
    })
}

/// The kinds of quantity that change nothing, each said by one of its units.
fn idle(head: &mut Settings) -> Vec<Dimension> {
    let units = head.texts("changes_nothing").into_iter();
    let dimensions = units.filter_map(|text| match Unit::parse(&text.value) {
        Ok(unit) => Some(unit.dimension),
        Err(fault) => {
            let finding = head.error(Code::Unit, &text.span, in_english(&fault.message));
            finding.help = fault.help.as_ref().map(in_english);
            None
        }
    });
    dimensions.collect()
}

fn named_like_its_file(head: &mut Settings) {
    let Some(name) = head.text("name") else {
        return;
    };
    let file = head.file().rsplit('/').next();
    let stem = file.and_then(|file| file.strip_suffix(".toml"));
    let stem = stem.unwrap_or("");
    if name.value != stem {
        let message = format!(
            "the calculator is named `{}`, and its file `{stem}`",
            name.value
        );
        head.error(Code::Name, &name.span, message).help = Some("give both the same name".into());
    }
}

/// A calculator gives something, and shows twice that it is right.
fn enough(has_output: bool, examples: usize, head: &mut Settings) {
    let span = head.span();
    if !has_output {
        head.error(Code::NoOutput, &span, "the calculator has no output")
            .help = Some("add an [[output]]".into());
    }
    if examples < 2 {
        let message = "a calculator needs at least two worked examples";
        head.error(Code::NoExample, &span, message).help =
            Some("add an [[example]] with its source".into());
    }
}

fn inputs(settings: &mut Settings) -> Vec<Input> {
    let inputs = settings.tables("input", |input, _| {
        let other = input.text("beside");
        let read = Input {
            field: Field::read(input)?,
            from: input.text("from"),
            default: input.quantity("default"),
            beside: None,
            by_name: input.truth("by_name"),
        };
        Some((read, other))
    });
    let inputs: Vec<(Input, Option<Placed<String>>)> = inputs.into_iter().flatten().collect();
    let names: Vec<String> = inputs
        .iter()
        .map(|(one, _)| one.field.name.clone())
        .collect();
    let mut placed = Vec::new();
    for (mut input, other) in inputs {
        input.beside = other.and_then(|other| input_named(&other, &names, settings));
        placed.push(input);
    }
    placed
}

/// The place of the input of this name.
fn input_named(name: &Placed<String>, names: &[String], settings: &mut Settings) -> Option<usize> {
    let place = names.iter().position(|one| *one == name.value);
    if place.is_none() {
        let message = format!("there is no input `{}`", name.value);
        let near = nearest(&name.value, names.iter().map(String::as_str));
        settings.error(Code::Value, &name.span, message).help =
            near.map(|near| format!("did you mean {near}?"));
    }
    place
}

fn formulas(key: &'static str, settings: &mut Settings) -> Vec<Output> {
    let outputs = settings.tables(key, |one, _| output(one, key == "term"));
    outputs.into_iter().flatten().collect()
}

/// A result; all its faults are told before the first of them makes an end of it.
fn output(settings: &mut Settings, is_term: bool) -> Option<Output> {
    let formula_at = settings.text("formula");
    let formula = formula_at.as_ref().map(|text| parsed(text, settings));
    let only_if = settings.text("only_if");
    let only_if = only_if.map(|text| (parsed(&text, settings), text));
    let choices = field::choices(settings);
    let kind = if choices.is_empty() {
        NumberFormat::read(settings).map(OutputKind::Number)
    } else {
        Some(OutputKind::Choice(choices))
    };
    let (name, label) = (settings.text("name")?, settings.text("label")?.value);
    let symbol = settings.text("symbol");
    Some(Output {
        name: name.value,
        called: field::called(settings),
        help: settings.plain("help"),
        symbol: symbol.map_or_else(|| label.clone(), |symbol| symbol.value),
        label,
        kind: kind?,
        formula: formula??,
        formula_at: formula_at?,
        only_if: match only_if {
            Some((formula, text)) => Some((formula?, text)),
            None => None,
        },
        is_term,
        asked: settings.truth("asked"),
        span: name.span,
    })
}

fn parsed(text: &Placed<String>, settings: &mut Settings) -> Option<Formula> {
    match Formula::parse(&text.value) {
        Ok(formula) => Some(formula),
        Err(fault) => {
            let span = settings.inner(text, &fault.span);
            settings.error(Code::Formula, &span, fault.message).help = fault.help;
            None
        }
    }
}

/// An answer to a stop, and whoever reads a sheet, knows a check by its name.
fn check_name(check: &mut Settings, seen: &mut Vec<String>) -> Option<Placed<String>> {
    let name = check.text("name")?;
    if seen.contains(&name.value) {
        let message = format!("the check `{}` stands twice", name.value);
        check.error(Code::Name, &name.span, message).help = Some("give each its own name".into());
    }
    seen.push(name.value.clone());
    Some(name)
}

fn checks(settings: &mut Settings, seen: &mut Vec<String>) -> Vec<Check> {
    let checks = settings.tables("check", |check, _| {
        let cases = check.tables("case", |one, span| (case(one), span));
        let count = cases.len();
        for (at, (case, span)) in cases.iter().enumerate() {
            let Some(case) = case else { continue };
            if case.when.is_none() != (at + 1 == count) {
                let message = "the last case, and only the last, has no `when`";
                check.error(Code::Case, span, message).help =
                    Some("end the check with the case that holds when no other does".into());
            }
        }
        let name = check_name(check, seen)?;
        if count == 0 {
            let message = format!("the check `{}` has no case", name.value);
            check.error(Code::Case, &name.span, message).help =
                Some("add case = [ { when = \"…\", is = \"stop\", because = \"…\" }, { is = \"go\", because = \"…\" } ]".into());
        }
        let standing = check.truth("standing");
        let mut read = cases.iter().filter_map(|(case, _)| case.as_ref());
        if standing && read.any(|case| case.is == Verdict::Stop) {
            let message = format!("`{}` always holds, and a stop is a verdict on the job", name.value);
            check.error(Code::Case, &name.span, message).help =
                Some("give the stop a check of its own, without `standing`".into());
        }
        Some(Check {
            name: name.value,
            standing,
            cases: cases.into_iter().filter_map(|(case, _)| case).collect(),
        })
    });
    checks.into_iter().flatten().collect()
}

fn cross_checks(settings: &mut Settings, seen: &mut Vec<String>) -> Vec<CrossCheck> {
    let found = settings.tables("cross_check", |one, _| {
        let within_at = one.text("within");
        let within = within_at.as_ref().and_then(|text| parsed(text, one));
        let because = because(one);
        Some(CrossCheck {
            name: check_name(one, seen)?.value,
            value: one.text("value")?,
            measured: one.text("measured")?,
            larger: one.truth("larger"),
            within: within?,
            within_at: within_at?,
            because: because?,
        })
    });
    found.into_iter().flatten().collect()
}

fn because(settings: &mut Settings) -> Option<Template> {
    let text = settings.text("because")?;
    match Template::parse(text.clone()) {
        Ok(because) => Some(because),
        Err(span) => {
            let span = settings.inner(&text, &span);
            settings
                .error(Code::Template, &span, "this brace is not closed")
                .help = Some("write {name}".into());
            None
        }
    }
}

fn case(settings: &mut Settings) -> Option<Case> {
    let when = settings.text("when");
    let when = when.map(|text| (parsed(&text, settings), text));
    let because = because(settings);
    Some(Case {
        when: match when {
            Some((formula, text)) => Some((formula?, text)),
            None => None,
        },
        is: Verdict::parse(&settings.plain("is"))?,
        because: because?,
    })
}

fn examples(settings: &mut Settings) -> Vec<Example> {
    settings.tables("example", |example, span| Example {
        source: example.plain("source"),
        given: example.quantities("given"),
        expect: example.quantities("expect"),
        verdict: example.text("verdict"),
        span,
    })
}

/// Names stand once; only an output that repeats an input may share its name.
fn same_name_twice(calculator: &Calculator, settings: &mut Settings) {
    let mut seen: Vec<&str> = calculator.input_names();
    for (at, input) in calculator.inputs.iter().enumerate() {
        if seen[..at].contains(&input.field.name.as_str()) {
            settings.error(
                Code::Name,
                &input.field.span,
                format!("the name `{}` stands twice", input.field.name),
            );
        }
    }
    for output in &calculator.outputs {
        let repeats =
            calculator.input(&output.name).is_some() && output.formula.text.trim() == output.name;
        if seen.contains(&output.name.as_str()) && !repeats {
            settings.error(
                Code::Name,
                &output.span,
                format!("the name `{}` stands twice", output.name),
            );
        }
        seen.push(&output.name);
    }
}
