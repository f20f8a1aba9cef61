//! Reads a calculator from its file.

use super::answer::Is;
use super::definition::{
    Area, Calculator, Case, Check, Example, Hazard, Input, Output, OutputKind,
};
use super::template::Template;
use super::{order, plot};
use crate::field::{self, Face, Field};
use crate::formula::Formula;
use crate::source::{Fields, Located, Reader};
use gaugeleaf_finding::Code;

/// The signal words of ANSI Z535.6, the gravest first.
pub const SIGNAL_WORDS: [&str; 4] = ["DANGER", "WARNING", "CAUTION", "NOTICE"];

/// Reads the whole file; what can't be read becomes a finding.
pub(crate) fn load(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Option<Calculator> {
    let mut head = fields.table("calculator", reader)?;
    let span = head.whole();
    let name = head.wanted("name", reader)?;
    let stem = reader
        .file
        .rsplit('/')
        .next()
        .and_then(|file| file.strip_suffix(".toml"))
        .unwrap_or("");
    if name.text != stem {
        let message = format!(
            "the calculator is named `{}`, and its file `{stem}`",
            name.text
        );
        reader.error(Code::Name, &name.span, message).help = Some("give both the same name".into());
    }
    let text = |key, head: &mut Fields<'_, '_>, reader: &mut Reader<'_>| {
        head.text(key, reader)
            .map_or(String::new(), |found| found.text)
    };
    let title = head
        .wanted("title", reader)
        .map_or(String::new(), |found| found.text);
    let area = area(&mut head, reader);
    let purpose = head
        .wanted("purpose", reader)
        .map_or(String::new(), |found| found.text);
    let not_counted = head
        .wanted("not_counted", reader)
        .map_or(String::new(), |found| found.text);
    let method = text("method", &mut head, reader);
    let sources = head
        .texts("sources", reader)
        .into_iter()
        .map(|source| source.text)
        .collect();
    let figure = head.text("figure", reader);
    let plot = head.table("plot", reader);
    let map = head.text("map", reader);
    let hazard = hazard(&mut head, reader);
    head.finish(reader);

    let inputs = inputs(fields, reader);
    let mut outputs = formulas("term", fields, reader);
    outputs.extend(formulas("output", fields, reader));
    let checks = checks(fields, reader);
    let examples = examples(fields, reader);
    if fields.get("output").is_none() {
        reader
            .error(Code::NoOutput, &span, "the calculator has no output")
            .help = Some("add an [[output]]".into());
    }
    if examples.len() < 2 {
        reader
            .error(
                Code::NoExample,
                &span,
                "a calculator needs at least two worked examples",
            )
            .help = Some("add an [[example]] with its source".into());
    }
    let mut calculator = Calculator {
        name: name.text,
        title,
        area,
        purpose,
        not_counted,
        hazard,
        method,
        sources,
        figure,
        plot: None,
        map,
        inputs,
        outputs,
        order: Vec::new(),
        checks,
        examples,
        file: reader.file.to_string(),
        span: name.span,
    };
    same_name_twice(&calculator, reader);
    calculator.plot = plot::load(plot, &calculator, reader);
    calculator.order = order::by_need(&calculator, reader);
    Some(calculator)
}

fn area(head: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Option<Area> {
    let word = head.text("area", reader)?;
    let area = Area::ALL.into_iter().find(|area| area.word() == word.text);
    if area.is_none() {
        reader
            .error(
                Code::Area,
                &word.span,
                format!("`{}` is not a part of the job", word.text),
            )
            .help = Some(format!("write {}", Area::ALL.map(Area::word).join(", ")));
    }
    area
}

fn hazard(head: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Option<Hazard> {
    let mut fields = head.table("hazard", reader)?;
    let word = fields.wanted("word", reader)?;
    let text = fields.wanted("text", reader)?;
    if !SIGNAL_WORDS.contains(&word.text.as_str()) {
        reader
            .error(
                Code::SignalWord,
                &word.span,
                format!("`{}` is not a signal word", word.text),
            )
            .help = Some(format!("write {}", SIGNAL_WORDS.join(", ")));
    }
    fields.finish(reader);
    Some(Hazard {
        word: word.text,
        text: text.text,
    })
}

fn inputs(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Vec<Input> {
    let mut inputs = Vec::new();
    for mut fields in fields.tables("input", reader) {
        let from = fields.text("from", reader);
        let default = fields.text("default", reader);
        let whole = fields.whole();
        let Some(field) = Field::read(&mut fields, reader) else {
            continue;
        };
        if from.is_none() && default.is_none() {
            let message = format!(
                "the input `{}` has neither `from` nor `default`",
                field.name
            );
            reader.error(Code::MissingSetting, &whole, message).help =
                Some("name the measurement or rating that supplies it, or give a default".into());
        }
        fields.finish(reader);
        inputs.push(Input {
            field,
            from,
            default,
        });
    }
    inputs
}

fn formulas(
    key: &'static str,
    fields: &mut Fields<'_, '_>,
    reader: &mut Reader<'_>,
) -> Vec<Output> {
    let mut outputs = Vec::new();
    for mut fields in fields.tables(key, reader) {
        if let Some(output) = output(&mut fields, key == "term", reader) {
            fields.finish(reader);
            outputs.push(output);
        }
    }
    outputs
}

fn output(fields: &mut Fields<'_, '_>, is_term: bool, reader: &mut Reader<'_>) -> Option<Output> {
    let name = fields.wanted("name", reader)?;
    if !field::is_name(&name.text) {
        reader
            .error(
                Code::Name,
                &name.span,
                format!("`{}` can't be a name", name.text),
            )
            .help = Some("use small letters, digits and _, a letter first".into());
    }
    let label = fields.wanted("label", reader)?.text;
    let help = fields
        .text("help", reader)
        .map_or(String::new(), |found| found.text);
    let symbol = fields
        .text("symbol", reader)
        .map_or_else(|| label.clone(), |found| found.text);
    let formula = fields.wanted("formula", reader)?;
    let only_if = match fields.text("only_if", reader) {
        Some(text) => Some((parsed(&text, reader)?, text)),
        None => None,
    };
    let choices = field::choices(fields, reader);
    let kind = if choices.is_empty() {
        OutputKind::Number(Face::read(fields, reader)?)
    } else {
        OutputKind::Choice(choices)
    };
    let parsed = parsed(&formula, reader)?;
    Some(Output {
        name: name.text,
        label,
        help,
        symbol,
        kind,
        formula: parsed,
        formula_at: formula,
        only_if,
        is_term,
        span: name.span,
    })
}

fn parsed(text: &Located, reader: &mut Reader<'_>) -> Option<Formula> {
    match Formula::parse(&text.text) {
        Ok(formula) => Some(formula),
        Err(fault) => {
            let span = reader.inner(text, &fault.span);
            reader.error(Code::Formula, &span, fault.message).help = fault.help;
            None
        }
    }
}

fn checks(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Vec<Check> {
    let mut checks = Vec::new();
    for mut fields in fields.tables("check", reader) {
        let Some(name) = fields.wanted("name", reader) else {
            continue;
        };
        let mut cases = Vec::new();
        let tables = fields.tables("case", reader);
        let count = tables.len();
        for (at, mut case_fields) in tables.into_iter().enumerate() {
            let whole = case_fields.whole();
            if let Some(case) = case(&mut case_fields, reader) {
                if case.when.is_none() != (at + 1 == count) {
                    reader
                        .error(
                            Code::Case,
                            &whole,
                            "the last case, and only the last, has no `when`",
                        )
                        .help =
                        Some("end the check with the case that holds when no other does".into());
                }
                cases.push(case);
            }
            case_fields.finish(reader);
        }
        if count == 0 {
            reader.error(Code::Case, &name.span, format!("the check `{}` has no case", name.text)).help =
                Some("add case = [ { when = \"…\", is = \"stop\", because = \"…\" }, { is = \"go\", because = \"…\" } ]".into());
        }
        fields.finish(reader);
        checks.push(Check {
            name: name.text,
            cases,
        });
    }
    checks
}

fn case(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Option<Case> {
    let when = match fields.text("when", reader) {
        Some(text) => Some((parsed(&text, reader)?, text)),
        None => None,
    };
    let word = fields.wanted("is", reader)?;
    let because = fields.wanted("because", reader)?;
    let Some(is) = Is::parse(&word.text) else {
        reader
            .error(
                Code::Verdict,
                &word.span,
                format!("`{}` is not a verdict", word.text),
            )
            .help = Some("write go, caution or stop".into());
        return None;
    };
    match Template::parse(because.clone()) {
        Ok(because) => Some(Case { when, is, because }),
        Err(span) => {
            let span = reader.inner(&because, &span);
            reader
                .error(Code::Template, &span, "this brace is not closed")
                .help = Some("write {name}".into());
            None
        }
    }
}

fn examples(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Vec<Example> {
    let mut examples = Vec::new();
    for mut fields in fields.tables("example", reader) {
        let span = fields.whole();
        let source = fields
            .wanted("source", reader)
            .map_or(String::new(), |found| found.text);
        let given = fields
            .table("given", reader)
            .map_or(Vec::new(), |given| given.pairs(reader));
        let expect = fields
            .table("expect", reader)
            .map_or(Vec::new(), |expect| expect.pairs(reader));
        let verdict = fields.text("verdict", reader);
        if expect.is_empty() {
            reader
                .error(Code::MissingSetting, &span, "the example expects nothing")
                .help = Some("add expect = { name = \"…\" }".into());
        }
        fields.finish(reader);
        examples.push(Example {
            source,
            given,
            expect,
            verdict,
            span,
        });
    }
    examples
}

/// Names stand once; only an output that repeats an input may share its name.
fn same_name_twice(calculator: &Calculator, reader: &mut Reader<'_>) {
    let mut seen: Vec<&str> = calculator.input_names();
    for (at, input) in calculator.inputs.iter().enumerate() {
        if seen[..at].contains(&input.field.name.as_str()) {
            reader.error(
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
            reader.error(
                Code::Name,
                &output.span,
                format!("the name `{}` stands twice", output.name),
            );
        }
        seen.push(&output.name);
    }
}
